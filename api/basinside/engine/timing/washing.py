"""What one wash takes out of the colour on a head.

Assumptions, no published source: that each wash takes an equal share, and that a class is down
to a tenth after as many washes as is commonly said of it: direct dye 8, acid demi 20, neutral
demi 24, alkaline demi 28, permanent 75 (from memory).
"""

from dataclasses import replace
from math import exp, log

from ...contract.hair import Hair
from ...contract.products import Product, ProductClass
from ..hair.head import Head
from .bowl import bowl_of
from .development import Development

_WASHES_TO_A_TENTH: dict[ProductClass, int] = {
    "alkaline_demi": 28,
    "neutral_demi": 24,
    "acid_demi": 20,
    "permanent": 75,
    "direct": 8,
}


def washed_out(product_class: ProductClass) -> float:
    """Return the share of its colour a class loses in one wash."""
    return 1 - exp(-log(10) / _WASHES_TO_A_TENTH[product_class])


def after_one_wash(head: Head, hair: Hair, shelf: dict[str, Product]) -> Head:
    """Return a head with every mix of `hair.already_on` on it, then washed once."""
    lost_ks: list[float] = []
    lost_total = 0.0
    for mix in hair.already_on:
        bowl = bowl_of(mix, shelf)
        worn = Development(bowl).worn(head, mix.minutes)
        share = washed_out(bowl.product_class)
        now = worn.dye_ks or ()
        before = head.dye_ks or (0.0,) * len(now)
        lost = [share * (n - b) for n, b in zip(now, before, strict=True)]
        lost_ks = [a + b for a, b in zip(lost_ks or [0.0] * len(lost), lost, strict=True)]
        lost_total += share * (worn.dye_total - head.dye_total)
        head = worn
    if head.dye_ks is None:
        return head
    return replace(
        head,
        dye_ks=tuple(d - lost for d, lost in zip(head.dye_ks, lost_ks, strict=True)),
        dye_total=head.dye_total - lost_total,
    )
