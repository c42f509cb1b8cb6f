"""Depth: hair of one level has one lightness, at any colour and after any history.

One surface serves the wish, the reading of a colour, and a product's label. Natural hair and
bare lifted hair both read their own level on it; dyed hair reads the level it looks like.
"""

from dataclasses import dataclass
from functools import cache, lru_cache
from math import hypot

from ..colour.lab import LabTuple
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
_DARK_TO, _PALE_FROM = 7.0, 9.0  # levels
_NEUTRALISED = 9.0  # C* under which taking more costs nothing
# What a unit of C* or a* costs in L*. The first two are derived from the model, the price of
# neutralising and of vividness; the others are assumptions.
_PALE_NEUTRALISING, _VIVIDNESS = 0.7, 0.3
_DARK_NEUTRALISING = 0.35
_REDNESS, _FREE_RED = 0.5, 8.0
_GREENNESS, _FREE_GREEN = 0.35, -3.0
_BEYOND_NEUTRAL, _NEUTRAL_YELLOW = 0.65, 2.9
_ROOMY_CHROMA = 15.0  # natural hair of this C* has room for every tone
_STEP = 0.05
_TENTHS = 10  # of oxidation, between natural and lifted hair


def darkness(level: float) -> float:
    """Return how far a level is dark hair: 1 up to 7, 0 from 9, smooth between them."""
    x = min(1.0, max(0.0, (_PALE_FROM - level) / (_PALE_FROM - _DARK_TO)))
    return x * x * (3.0 - 2.0 * x)


@lru_cache(maxsize=4096)
def undyed(level: float, oxidised: float = 1.0) -> LabTuple:
    """Return the colour of bare hair, dry and fanned: lifted, or as far `oxidised` as it is."""
    return dry_lab(fibre_ks(level, oxidised=oxidised))


def room(level: float) -> float:
    """Return how much of a tone hair of a level can show, 0–1: near-black shows hardly any."""
    _, a, b = undyed(level, 0.0)
    return min(1.0, hypot(a, b) / _ROOMY_CHROMA)


@dataclass(frozen=True, slots=True)
class _Rung:
    """What a level's row is made of: bare hair, natural, lifted, and as far oxidised as it is."""

    dark: float
    room: float
    natural: tuple[float, float]  # L*, C*
    lifted: tuple[float, float]
    bare: tuple[float, float]
    free_red: float  # a* up to which red costs nothing
    part_lifted: bool

    def lightness(self, a: float, b: float) -> float:
        """Return L* on this row at a colour (a*, b*)."""
        chroma = hypot(a, b)
        (l_natural, c_natural), (_, c_lifted) = self.natural, self.lifted
        pale = _brought_to(chroma, *self.bare)
        if self.part_lifted:
            # vivid hair looks lifted, however little was
            c_bare = self.bare[1]
            by_chroma = (chroma - c_bare) / max(1.0, c_lifted - c_bare)
            lifted = _brought_to(chroma, *self.lifted)
            pale += min(1.0, max(0.0, by_chroma)) * (lifted - pale)
        lightness = pale
        if self.dark:
            lightness += self.dark * (self._dark_row(chroma, l_natural, c_natural) - pale)
        return (
            lightness
            - _REDNESS * max(0.0, a - self.free_red)
            - _GREENNESS * self.room * max(0.0, _FREE_GREEN - a)
            - _BEYOND_NEUTRAL * self.room * max(0.0, _NEUTRAL_YELLOW - b)
        )

    def _dark_row(self, chroma: float, l_natural: float, c_natural: float) -> float:
        """Return L* through two anchors of one level: natural hair, and bare lifted hair."""
        l_lifted, c_lifted = self.lifted
        if chroma <= c_natural:
            return l_natural - _DARK_NEUTRALISING * max(0.0, c_natural - max(chroma, _NEUTRALISED))
        if chroma < c_lifted:
            share = (chroma - c_natural) / (c_lifted - c_natural)
            return l_natural + share * (l_lifted - l_natural)
        return l_lifted - _VIVIDNESS * (chroma - max(c_lifted, c_natural))


def _brought_to(chroma: float, lightness: float, bare_chroma: float) -> float:
    return (
        lightness
        - _PALE_NEUTRALISING * max(0.0, bare_chroma - max(chroma, _NEUTRALISED))
        - _VIVIDNESS * max(0.0, chroma - bare_chroma)
    )


def _polar(lab: LabTuple) -> tuple[float, float]:
    return lab[0], hypot(lab[1], lab[2])


@lru_cache(maxsize=4096)
def _rung(level: float, tenths: int) -> _Rung:
    lifted = undyed(level)
    return _Rung(
        dark=darkness(level),
        room=room(level),
        natural=_polar(undyed(level, 0.0)),
        lifted=_polar(lifted),
        bare=_polar(undyed(level, tenths / _TENTHS)),
        free_red=max(_FREE_RED, lifted[1]),
        part_lifted=tenths < _TENTHS,
    )


def row_lightness(level: float, a: float, b: float, oxidised: float = 1.0) -> float:
    """Return L* that hair of a level has when its colour is (a*, b*).

    `oxidised` is how far lifting has laid its warmth bare, 0 natural to 1 lifted hair. It
    counts above level 7 only, where natural and lifted hair of one level differ most.
    """
    return _rung(level, round(_TENTHS * oxidised)).lightness(a, b)


@cache
def _ladder(tenths: int) -> list[tuple[float, _Rung]]:
    """Return (level, row) from 10.5 downwards in twentieths of a level."""
    steps = round((PALEST_LEVEL - 1.0) / _STEP)
    levels = [1.0 + _STEP * step for step in range(steps, -1, -1)]
    return [(level, _rung(level, tenths)) for level in levels]


def bare_depth(lightness: float) -> float:
    """Return the level of bare lifted hair of this L*, 1–10.5, between levels by L*."""
    above, l_above = PALEST_LEVEL, 100.0
    for level, rung in _ladder(_TENTHS):
        l_here = rung.lifted[0]
        if lightness >= l_here:
            return _between(lightness, (level, l_here), (above, l_above))
        above, l_above = level, l_here
    return above


def toned_depth(lab: LabTuple, oxidised: float = 1.0) -> float:
    """Return the level a dry colour reads at, 1–10.5, not rounded.

    It is the level whose row has this L* at this colour, found downwards from 10.5.
    """
    lightness, a, b = lab
    above, l_above = PALEST_LEVEL, 100.0
    for level, rung in _ladder(round(_TENTHS * oxidised)):
        l_here = rung.lightness(a, b)
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
