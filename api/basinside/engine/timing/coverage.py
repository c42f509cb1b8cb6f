"""How well a mix covers white hair: how far white and pigmented strands lie apart once dry."""

from ...contract.formulations import Coverage
from ...contract.products import ProductClass
from ..colour.difference import delta_e_2000
from ..hair.appearance import dry_lab
from ..hair.head import Head
from ..products.classes import CLASSES
from .bowl import Parts
from .development import Development

# CIEDE2000 between the strands, and the least natural shade: assumptions after common practice.
_COVERED, _BLENDED = 3.0, 10.0
_NATURAL_SHARE = 0.5


def strands_apart(development: Development, head: Head, minute: float) -> float | None:
    """Return CIEDE2000 between pigmented and white strands rinsed after `minute` minutes.

    None on a head with only one of the two.
    """
    strands = development.rinsed_strands(head, minute)
    if len(strands) < 2 or strands[0][0] == 0:
        return None
    (_, pigmented), (_, white) = strands
    return delta_e_2000(dry_lab(pigmented), dry_lab(white))


def natural_share(parts: Parts) -> float:
    """Return the share of a bowl's colour that is a natural shade: first tone word "natural"."""
    colour_g = sum(grams for _, grams in parts)
    return sum(grams for product, grams in parts if product.tone[0] == "natural") / colour_g


def coverage(apart: float, product_class: ProductClass, natural: float) -> Coverage:
    """Return in one word what becomes of white hair.

    `apart` is from `strands_apart`, `natural` from `natural_share`. Only a class that covers
    white, at least half of it a natural shade, is ever said to cover: demis blend, and fashion
    shades cover badly though their strands may look alike here. Common practice, no published
    source.
    """
    if apart > _BLENDED:
        return "seen"
    may_cover = CLASSES[product_class].covers_white and natural >= _NATURAL_SHARE
    return "covered" if apart <= _COVERED and may_cover else "blended"
