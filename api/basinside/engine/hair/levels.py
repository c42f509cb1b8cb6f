"""Depth: level numbers from lightness and back, and the undertone words of bare hair.

Toned hair is read against toned hair: neutralising costs lightness, so each level has the L*
it is expected to keep at a given chroma.
"""

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
_STEP = 0.05
_TONED_FROM_LEVEL = 5.0


@cache
def untoned(level: float) -> tuple[float, float]:
    """Return (L*, C*) of bare lifted hair, dry and fanned."""
    lab = dry_lab(fibre_ks(level))
    return lab[0], chroma_of(lab)


def row_lightness(level: float, chroma: float) -> float:
    """Return L* that hair of a level has when brought to this chroma.

    L_u − 0.7·max(0, C_u − max(C, 9)) − 0.3·max(0, C − C_u): derived from the model, the price
    of neutralising.
    """
    return _brought_to(chroma, *untoned(level))


def _brought_to(chroma: float, lightness: float, bare_chroma: float) -> float:
    return (
        lightness
        - 0.7 * max(0.0, bare_chroma - max(chroma, 9.0))
        - 0.3 * max(0.0, chroma - bare_chroma)
    )


@cache
def _ladder() -> list[tuple[float, float, float]]:
    """Return (level, L_u, C_u) from 10.5 downwards in twentieths of a level."""
    steps = round((PALEST_LEVEL - 1.0) / _STEP)
    levels = [1.0 + _STEP * step for step in range(steps + 1)]
    return [(level, *untoned(level)) for level in reversed(levels)]


def bare_depth(lightness: float) -> float:
    """Return the level of bare lifted hair of this L*, 1–10.5, between levels by L*."""
    above, l_above = PALEST_LEVEL, 100.0
    for level, l_here, _ in _ladder():
        if lightness >= l_here:
            return _between(lightness, (level, l_here), (above, l_above))
        above, l_above = level, l_here
    return 1.0


def toned_depth(lab: LabTuple) -> float:
    """Return the level a dry colour reads at, 1–10.5, not rounded.

    Found downwards from 10.5 along the rows of toned hair. Under level 5 those rows do not
    rise with level, so there, and for hair more vivid than bare hair, bare lightness decides.
    """
    lightness, chroma = lab[0], chroma_of(lab)
    above, l_above = PALEST_LEVEL, 100.0
    for level, l_u, c_u in _ladder():
        l_here = _brought_to(chroma, l_u, c_u)
        if lightness >= l_here or level < _TONED_FROM_LEVEL:
            break
        above, l_above = level, l_here
    dark = lightness < untoned(_TONED_FROM_LEVEL)[0]
    if level < _TONED_FROM_LEVEL or (dark and chroma > c_u):
        return min(_TONED_FROM_LEVEL, bare_depth(lightness))
    return _between(lightness, (level, l_here), (above, l_above))


def _between(lightness: float, below: tuple[float, float], above: tuple[float, float]) -> float:
    """Return the level between two (level, L*) rows at this L*."""
    if below[0] == above[0] or above[1] <= below[1]:
        return below[0]
    return below[0] + (above[0] - below[0]) * (lightness - below[1]) / (above[1] - below[1])


def undertone(level: float) -> str:
    """Return the trade's word for the warmth bare lifted hair of this level shows."""
    return next((word for lowest, word in _UNDERTONES if level >= lowest), "near black")
