"""What is not known beyond the hair: how true a label is, and how far off the model itself may be.

All numbers are assumptions. They were set on simulated heads whose dyes absorb elsewhere, form by
other steps, and are stronger or weaker than their label. On those, 80 % of outcomes lie in the
ranges, before and after a look (tests/engine/judgement/test_other_physics.py).
"""

from collections.abc import Sequence
from math import hypot, sqrt

from ...contract.products import Product
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple

# CIEDE2000 on each axis: what is off without any dye, and what much dye may come to be off by.
_DRY_FLOOR, _DRY_MOST, _HALF_AT = 0.5, 2.1, 0.35
_WET_FLOOR, _WET_SHARE, _WET_MOST = 1.0, 0.10, 3.0
_LEFT_AFTER_A_LOOK = 0.7  # the look was at the same mix, so it tells of the model as well


def dry_doubt(dye_taken: float, seen: bool = False) -> float:
    """Return how far off a predicted dry colour may be on each axis, one deviation, CIEDE2000.

    It grows with the dye the hair has taken (K/S at its peaks) and levels off, as colour does.
    `seen` is whether a look at this mix on this hair has been judged.
    """
    doubt = hypot(_DRY_FLOOR, _DRY_MOST * dye_taken / (dye_taken + _HALF_AT))
    return _LEFT_AFTER_A_LOOK * doubt if seen else doubt


def wet_doubt(bare: LabTuple, dyed: LabTuple, seen: bool = False) -> float:
    """Return the same of a wet look: how water and product scatter light is known less well."""
    doubt = hypot(_WET_FLOOR, min(_WET_MOST, _WET_SHARE * delta_e_2000(bare, dyed)))
    return _LEFT_AFTER_A_LOOK * doubt if seen else doubt


def by_label(parts: Sequence[tuple[Product, float]], dye_of: Sequence[float]) -> float:
    """Return how much of one label's doubt a bowl has, 0–1: 1 for one tube known by its label.

    `dye_of` is the dye in a gram of each part. Tubes are off independently, so that mixing them
    evens out; one whose dyes are given adds nothing.
    """
    dye = [grams * amount for (_, grams), amount in zip(parts, dye_of, strict=True)]
    total = sum(dye)
    if total <= 0:
        return 0.0
    unknown = (d / total for (p, _), d in zip(parts, dye, strict=True) if p.dyes is None)
    return sqrt(sum(share * share for share in unknown))
