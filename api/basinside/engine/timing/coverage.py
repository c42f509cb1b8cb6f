"""How well a mix covers white hair: how far white and pigmented strands lie apart once dry."""

from ...contract.formulations import Coverage
from ...contract.products import MinuteSpan, ProductClass
from ..colour.difference import delta_e_2000
from ..hair.appearance import dry_lab
from ..hair.head import Head
from ..products.classes import CLASSES
from ..products.tones import CLEAR
from .bowl import Parts
from .development import Development

# CIEDE2000 between the strands, and the least natural shade: assumptions after common practice.
_COVERED, _BLENDED = 3.0, 10.0
NATURAL_SHARE, _LEAST_COLOUR = 0.5, 0.5
_HARDLY_WHITE = 0.05  # share of white hair under which nobody speaks of cover
MUCH_WHITE = 0.4  # and from which a blend shows as regrowth: common practice, no published source

# White hair takes a permanent at 6 % or more, for its whole time. Common practice, no published
# source.
COVERS_FROM_PERCENT = 6.0
COVERS_FROM_MIN = 30


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
    """Return the share of a bowl's colour that is a natural shade: first tone word "natural".

    `parts` may hold clear. Clear over half of the bowl counts as colour that is not natural, since
    so thin a bowl covers badly. Common practice, no published source.
    """
    colour_g = sum(grams for product, grams in parts if CLEAR not in product.tone)
    natural_g = sum(grams for product, grams in parts if product.tone[0] == "natural")
    return natural_g / max(colour_g, _LEAST_COLOUR * sum(grams for _, grams in parts))


def coverage(apart: float, product_class: ProductClass, natural: float) -> Coverage:
    """Return in one word what becomes of white hair.

    `apart` is from `strands_apart`, `natural` from `natural_share`. Only a class that covers white,
    with a natural shade as at least half, is said to cover. Demis blend, and fashion shades cover
    badly though their strands may look alike here. Common practice, no published
    source.
    """
    if apart > _BLENDED:
        return "seen"
    may_cover = CLASSES[product_class].covers_white and natural >= NATURAL_SHARE
    return "covered" if apart <= _COVERED and may_cover else "blended"


def must_cover(head: Head, share: float = _HARDLY_WHITE) -> bool:
    """Return whether there is white hair among natural hair, this share or more of it.

    Without a share: enough to speak of cover.
    """
    return not head.lifted and head.white_share >= share


def least_minutes(product_class: ProductClass, natural: bool, white: bool) -> int:
    """Return the minutes a class needs on this hair, 0 where it may be rinsed at any.

    `natural` is whether some of the hair is natural, `white` whether some of it must be covered.
    """
    row = CLASSES[product_class]
    if white and row.covers_white:
        return COVERS_FROM_MIN
    return row.natural_hair_min if natural else 0


def minutes_that_count(product_class: ProductClass, head: Head, maker: MinuteSpan) -> MinuteSpan:
    """Return the leaflet's minutes that give a class its time on this head; its last at least."""
    least = least_minutes(product_class, not head.lifted, must_cover(head))
    return MinuteSpan(min(maker.max, max(maker.min, least)), maker.max)
