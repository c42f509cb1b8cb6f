"""What is not known beyond the hair: how true a label is, and how far off the model itself may be.

All numbers are assumptions. They were set on simulated heads whose dyes absorb elsewhere, form by
other steps, and are stronger or weaker than their label. On those, 80 % of outcomes lie in the
ranges, before and after a look (tests/engine/judgement/test_other_physics.py).
"""

from collections.abc import Sequence
from math import hypot, log, sqrt

from msgspec import UNSET

from ...contract.judgements import Reading
from ...contract.products import Product
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.spectrum import Spectrum
from ..hair.appearance import Strands

# CIEDE2000 on each axis: what is off without any dye, and what much dye may come to be off by.
_DRY_FLOOR, _DRY_MOST, _HALF_AT = 0.5, 2.1, 0.35
_WET_FLOOR, _WET_SHARE, _WET_MOST = 1.0, 0.10, 3.0
# Mean K/S at 480, 530, 580 and 630 nm: up to it hair counts as pale (about lifted 9).
_BANDS, _BAND_COUNT, _PALE_KS = slice(10, 26, 5), 4, 0.5
_DARKER, _ON_WHITE, _DEEPER = 0.12, 1.5, 0.2
# On white hair: of hardly any dye, and for each K/S more.
_FAINT, _LESS_FAINT = 0.75, 0.12
# From this K/S on a dye is black in its band, and its flank is what one sees.
_OPAQUE_KS, _STEEP, _OF_A_FLANK = 20.0, 2.0, 0.75
_SEEN = slice(6, 29)  # 440 to 660 nm
# No measured hair fixes the ladder from level 7 up. Two lightness units are a fair guess of its
# error; hair, wish and label share it, so a small part of it shows in a miss.
_LADDER, _LADDER_FROM, _LADDER_TO = 0.3, 6.5, 7.5
# How far off a reading may be, one deviation on each CIELAB axis; a photo has one grey card in it.
SOURCE_SD = {"instrument": 0.5, "photo": 4.0, "eye": 4.0}
_LEFT_AFTER_SWATCHES = 0.1  # of what dye adds: swatches are read where the model is off, too
_LEFT_AFTER_A_LOOK = 0.7  # the look was at the same mix, so it tells of the model as well


def left_by_swatches(learnt_share: float) -> float:
    """Return what is left of the model's error about dye once swatches told of so much of it."""
    return 1.0 - learnt_share * (1.0 - _LEFT_AFTER_SWATCHES)


def dry_doubt(
    dye_taken: float, seen: bool = False, depth: float = 1.0, ladder: float = 0.0
) -> float:
    """Return how far off a predicted dry colour may be on each axis, one deviation, CIEDE2000.

    It grows with the dye the hair has taken (K/S at its peaks) and levels off, as colour does.
    `seen` is whether a look at this mix on this hair has been judged. `depth` is what the fibre
    itself makes of it (see `by_depth`), `ladder` what its level adds (see `of_the_ladder`).
    """
    doubt = hypot(_DRY_FLOOR, depth * _DRY_MOST * dye_taken / (dye_taken + _HALF_AT))
    # a look shows how light the hair is, whatever its level is called
    return _LEFT_AFTER_A_LOOK * doubt if seen else hypot(doubt, ladder)


def of_the_ladder(level: float, white_share: float) -> float:
    """Return the doubt about how light pigmented hair of a level is, CIEDE2000 on each axis.

    None below 6.5, all of it from 7.5; measured black and brown hair fixes the deep levels.
    """
    risen = min(1.0, max(0.0, (level - _LADDER_FROM) / (_LADDER_TO - _LADDER_FROM)))
    return _LADDER * risen * sqrt(1.0 - white_share)


def by_depth(bare: Strands, white_share: float, dye: Spectrum, uptakes: Sequence[float]) -> float:
    """Return by how much the fibre's own depth multiplies the doubt about dye: 1 for pale hair.

    On dark hair a strand's own pigment hides most of what dye does. On white hair nothing hides
    it, and what a blonde gains of pigment must all come from the tube. Strands count by the square,
    since what is seen of a head is mostly its light ones. `bare` is (share, K/S) of
    the strands, the white ones last; `dye` the K/S that a unit of uptake leaves.
    """
    laid, (_, own) = _mean(dye), bare[0]
    hidden = max(0.0, _mean(own) - _PALE_KS)
    taken = laid * uptakes[0]
    pigmented = (1 + hidden) ** -_DARKER if hidden else 1.0
    pigmented *= taken / (taken + hidden) if hidden else 1.0
    pigmented = hypot(pigmented, _by_flank(own, dye, uptakes[0]))
    if not white_share:
        return pigmented
    on = laid * uptakes[-1]
    on_white = _ON_WHITE * max(1.0, on) ** -_DEEPER * min(1.0, _FAINT + _LESS_FAINT * on)
    on_white = hypot(on_white, _by_flank(bare[-1][1], dye, uptakes[-1]))
    return sqrt((1.0 - white_share) * pigmented * pigmented + white_share * on_white * on_white)


def _by_flank(own: Spectrum, dye: Spectrum, uptake: float) -> float:
    """Return what a steep flank adds to the doubt about dye: 0 for all but deep reds and golds.

    So much of one narrow dye is black in its band. Its colour is where the flank falls off, and
    that is what is known least of a dye: how wide it absorbs.
    """
    most = uptake * max(dye[_SEEN])
    if most <= _OPAQUE_KS:
        return 0.0
    least = min(q + uptake * d for q, d in zip(own[_SEEN], dye[_SEEN], strict=True))
    steep = max(0.0, log(most / least) - _STEEP)
    return _OF_A_FLANK * sqrt(log(most / _OPAQUE_KS) * steep)


def _mean(ks: Spectrum) -> float:
    return sum(ks[_BANDS]) / _BAND_COUNT


def wet_doubt(bare: LabTuple, dyed: LabTuple, seen: bool = False) -> float:
    """Return the same of a wet look: how water and product scatter light is known less well."""
    doubt = hypot(_WET_FLOOR, min(_WET_MOST, _WET_SHARE * delta_e_2000(bare, dyed)))
    return _LEFT_AFTER_A_LOOK * doubt if seen else doubt


def reading_sd(reading: Reading) -> float:
    """Return how far off a measured colour may be on each CIELAB axis, one deviation."""
    return SOURCE_SD[reading.source] if reading.sd is None else reading.sd


def by_label(parts: Sequence[tuple[Product, float]], dye_of: Sequence[float]) -> float:
    """Return how much of one label's doubt a bowl has, 0–1: 1 for one tube known by its label.

    `dye_of` is the dye in a gram of each part. Tubes are off independently, so that mixing them
    evens out; one whose dyes are given adds nothing.
    """
    dye = [grams * amount for (_, grams), amount in zip(parts, dye_of, strict=True)]
    total = sum(dye)
    if total <= 0:
        return 0.0
    unknown = (
        d / total
        for (p, _), d in zip(parts, dye, strict=True)
        if p.dyes is None and p.known is UNSET
    )
    return sqrt(sum(share * share for share in unknown))
