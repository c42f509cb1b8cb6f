"""Depth: level numbers from lightness and back, and the undertone words of bare hair.

Toned hair is read against toned hair: neutralising costs lightness, so each level has the L*
it is expected to keep at a given chroma.
"""

from collections.abc import Iterable
from functools import cache

from ..colour.lab import LabTuple
from ..colour.words import chroma_of
from .appearance import dry_lab
from .fibre import PALEST_LEVEL, fibre_ks

# Common practice, no published source: the warm remainder seen at each lifted level.
_UNDERTONES = (
    (9.75, "palest yellow"),
    (9.25, "pale yellow"),
    (8.5, "yellow"),
    (7.5, "gold"),
    (6.5, "orange gold"),
    (5.5, "orange"),
    (4.5, "red orange"),
    (3.5, "red"),
    (2.5, "deep red"),
)
_NEUTRALISED = 9.0  # C* under which taking more costs nothing
_STEP = 0.05
_TENTHS = 10  # of oxidation, between natural and lifted hair
_TRUSTED_AFTER = 0.7  # levels over which rows take over from bare lightness

_Row = tuple[float, float, float]  # level, L_u, C_u


@cache
def untoned(level: float, oxidised: float = 1.0) -> tuple[float, float]:
    """Return (L*, C*) of bare hair, dry and fanned: lifted, or as far `oxidised` as it is."""
    lab = dry_lab(fibre_ks(level, oxidised=oxidised))
    return lab[0], chroma_of(lab)


def row_lightness(level: float, chroma: float) -> float:
    """Return L* that lifted hair of a level has when brought to this chroma.

    L_u − 0.7·max(0, C_u − max(C, 9)) − 0.3·max(0, C − C_u): derived from the model, the price
    of neutralising. On natural hair the model asks 0.5 to 0.7 for ash and blue dyes.
    """
    return _brought_to(chroma, *untoned(level))


def _brought_to(chroma: float, lightness: float, bare_chroma: float) -> float:
    return (
        lightness
        - 0.7 * max(0.0, bare_chroma - max(chroma, _NEUTRALISED))
        - 0.3 * max(0.0, chroma - bare_chroma)
    )


@cache
def _ladder(tenths: int) -> list[_Row]:
    """Return the rows of bare hair from 10.5 downwards in twentieths of a level.

    Lifted hair has one ladder (10 tenths oxidised), natural hair (0) its own, and hair a dye
    has begun to lift one between them.
    """
    steps = round((PALEST_LEVEL - 1.0) / _STEP)
    levels = [1.0 + _STEP * step for step in range(steps + 1)]
    return [(level, *untoned(level, tenths / _TENTHS)) for level in reversed(levels)]


@cache
def _in_doubt_up_to(tenths: int) -> float:
    """Return the level under which a toned row may be as light as a darker level's.

    On dark lifted hair neutralising costs more lightness than a level gives, so that one
    colour is bare hair of 2½ and neutralised hair of 5. Level 1 where there is no doubt.
    """
    lightest, doubt = 0.0, 1.0
    for level, l_u, c_u in reversed(_ladder(tenths)):
        row = _brought_to(_NEUTRALISED, l_u, c_u)
        if row <= lightest:
            doubt = level + _STEP
        lightest = max(lightest, row)
    return doubt


def bare_depth(lightness: float) -> float:
    """Return the level of bare lifted hair of this L*, 1–10.5, between levels by L*."""
    return _depth_by(lightness, ((level, l_u) for level, l_u, _ in _ladder(_TENTHS)))


def toned_depth(lab: LabTuple, oxidised: float = 1.0) -> float:
    """Return the level a dry colour reads at, 1–10.5, not rounded.

    Read on the ladder of what the hair is: `oxidised` 1 is lifted hair, 0 natural hair,
    between them natural hair that a dye has begun to lift. Found downwards from 10.5 along
    the rows of toned hair. Where those are in doubt bare lightness decides, and within the
    next level the rows take over, so that like colours read alike.
    """
    lightness, chroma = lab[0], chroma_of(lab)
    tenths = round(_TENTHS * oxidised)
    ladder = _ladder(tenths)
    toned = _depth_by(lightness, ((at, _brought_to(chroma, l_u, c_u)) for at, l_u, c_u in ladder))
    trust = (toned - _in_doubt_up_to(tenths)) / _TRUSTED_AFTER
    if trust >= 1.0:
        return toned
    bare = _depth_by(lightness, ((at, l_u) for at, l_u, _ in ladder))
    return bare + max(0.0, trust) * (toned - bare)


def _depth_by(lightness: float, rows: Iterable[tuple[float, float]]) -> float:
    """Return the level of this L* on (level, L*) rows, found from the palest downwards."""
    above, l_above = PALEST_LEVEL, 100.0
    for level, l_here in rows:
        if lightness >= l_here:
            return _between(lightness, (level, l_here), (above, l_above))
        above, l_above = level, l_here
    return above


def _between(lightness: float, below: tuple[float, float], above: tuple[float, float]) -> float:
    """Return the level between two (level, L*) rows at this L*."""
    if below[0] == above[0] or above[1] <= below[1]:
        return below[0]
    return below[0] + (above[0] - below[0]) * (lightness - below[1]) / (above[1] - below[1])


def undertone(level: float) -> str:
    """Return the trade's word for the warmth bare lifted hair of this level shows."""
    return next((word for lowest, word in _UNDERTONES if level >= lowest), "near black")
