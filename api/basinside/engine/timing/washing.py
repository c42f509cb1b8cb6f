"""What washing takes out of the colour on a head.

Each wash takes an equal share (assumption). A class keeps a tenth of its dye after this many
washes: direct dye 8, acid demi 20, neutral demi 24, alkaline demi 28. Common practice, from
memory. Permanent colour is set so that cover on white hair keeps over 90 % of the colour
change after 30 washes: IFSCC Magazine 11 (2008) 139–142, abstract. A study that exposed an auburn
to heat as well found a faster loss, CIELAB 3.6 after four washes (J. Cosmet. Sci. 56 (2005) 416,
excerpt); that reds leave sooner than other shades is not in the model. Porous hair lets dye out
sooner: common practice, the slope is an assumption.
"""

from dataclasses import replace
from math import exp, log

from ...contract.hair import Hair
from ...contract.products import Product, ProductClass
from ..colour.spectrum import Spectrum
from ..hair.head import Head
from .bowl import bowl_of
from .development import Development

_WASHES_TO_A_TENTH: dict[ProductClass, int] = {
    "alkaline_demi": 28,
    "neutral_demi": 24,
    "acid_demi": 20,
    "permanent": 300,
    "direct": 8,
}


def washed_out(product_class: ProductClass, porosity: float = 0.5) -> float:
    """Return the share of its dye a class loses in one wash from hair of this porosity.

    Times (0.6 + 0.8·porosity) as fast as at the usual 0.5.
    """
    sooner = 0.6 + 0.8 * porosity
    return 1 - exp(-log(10) * sooner / _WASHES_TO_A_TENTH[product_class])


def after_one_wash(head: Head, hair: Hair, shelf: dict[str, Product]) -> Head:
    """Return a head with every mix of `hair.already_on` on it, then washed once."""
    return after_washes(head, hair, shelf, 1)


def after_washes(head: Head, hair: Hair, shelf: dict[str, Product], washes: float) -> Head:
    """Return a head with every mix of `hair.already_on` on it, then washed so often."""
    washed = head
    for mix in hair.already_on:
        bowl = bowl_of(mix, shelf)
        worn = Development(bowl).worn(head, mix.minutes)
        kept = (1 - washed_out(bowl.product_class, head.porosity)) ** washes
        washed = replace(
            worn,
            dye_ks=_left(washed.dye_ks, head.dye_ks, worn.dye_ks, kept),
            dye_total=washed.dye_total + kept * (worn.dye_total - head.dye_total),
            white_dye_ks=_left(washed.white_dye_ks, head.white_dye_ks, worn.white_dye_ks, kept),
            white_dye_total=washed.white_dye_total
            + kept * (worn.white_dye_total - head.white_dye_total),
        )
        head = worn
    return washed


def _left(
    washed: Spectrum | None, before: Spectrum | None, after: Spectrum | None, kept: float
) -> Spectrum | None:
    """Return the dye left by washing: `washed` so far, and what is kept of the latest mix."""
    if after is None:
        return None
    none = (0.0,) * len(after)
    return tuple(
        w + kept * (a - b) for w, b, a in zip(washed or none, before or none, after, strict=True)
    )
