"""A head: one definite state the hair could be in, and the states it may be in for all we know.

What is known of the hair is level, log warmth, porosity, log rate and log uptake, each with a
standard deviation. The unscented transform (Julier & Uhlmann, Proc. IEEE 92 (2004) 401) with
five unknowns puts one pair of heads on each, ±√5 standard deviations out, weight 1/10.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp, log, sqrt

from ...contract.hair import Hair, Sure
from ..colour.spectrum import Spectrum
from .fibre import PALEST_LEVEL, WHITE_FIBRE_KS, fibre_ks

_SPREAD = sqrt(5.0)
_POROSITY_RIM = 0.02
# Natural hair raised by this many levels shows the whole warmth of its new level (assumption).
_LEVELS_TO_FULL_WARMTH = 1.0


@dataclass(frozen=True, slots=True)
class Head:
    """One definite head of hair. `gained_levels` and `dye_ks` are what mixes have done to it."""

    level: float
    warmth: float
    porosity: float
    damp: float
    white_share: float
    lifted: bool
    rate: float
    uptake: float
    gained_levels: float = 0.0
    dye_ks: Spectrum | None = None
    dye_total: float = 0.0

    @lru_cache(maxsize=4096)  # noqa: B019 - heads are small, and asked for at every minute
    def strands(self, more_levels: float = 0.0) -> list[tuple[float, Spectrum]]:
        """Return (share, K/S) of the pigmented and, if any, the white strands, as dyed so far.

        `more_levels` is lift beyond what the head has already gained.
        """
        gained = self.gained_levels + more_levels
        ceiling = max(PALEST_LEVEL, self.level)
        oxidised = 1.0 if self.lifted else min(1.0, gained / _LEVELS_TO_FULL_WARMTH)
        ks = fibre_ks(min(ceiling, self.level + gained), self.warmth, oxidised)
        if self.white_share == 0:
            return [(1.0, self._dyed(ks))]
        return [
            (1.0 - self.white_share, self._dyed(ks)),
            (self.white_share, self._dyed(WHITE_FIBRE_KS)),
        ]

    def _dyed(self, ks: Spectrum) -> Spectrum:
        if self.dye_ks is None:
            return ks
        return [q + d for q, d in zip(ks, self.dye_ks, strict=True)]


def head_of(hair: Hair) -> Head:
    """Return the head as described, before anything in `already_on`.

    Raises ValueError when neither a level nor a reading fitted before says how deep it is.
    """
    if hair.level is None:
        raise ValueError("hair without a level: read_hair comes first")
    return Head(
        level=hair.level,
        warmth=hair.warmth,
        porosity=hair.porosity,
        damp=hair.damp,
        white_share=hair.white_share,
        lifted=hair.lifted,
        rate=hair.rate,
        uptake=hair.uptake,
    )


def moved_porosity(porosity: float, log_odds_step: float) -> float:
    """Return porosity moved by a step in log-odds, kept within 0.02–0.98."""
    kept = min(1 - _POROSITY_RIM, max(_POROSITY_RIM, porosity))
    odds = log(kept / (1 - kept)) + log_odds_step
    moved = 1 / (1 + exp(-odds))
    return min(1 - _POROSITY_RIM, max(_POROSITY_RIM, moved))


def possible_heads(centre: Head, sure: Sure) -> list[Head]:
    """Return the ten heads around the described one that stand for how unsure it is.

    Porosity moves in log-odds, its standard deviation there being porosity_sd / 0.25 (the
    slope of the log-odds at porosity 0.5).
    """
    heads = []
    for sign in (_SPREAD, -_SPREAD):
        heads += [
            replace(centre, level=centre.level + sign * sure.level_sd),
            replace(centre, warmth=centre.warmth * exp(sign * sure.log_warmth_sd)),
            replace(
                centre,
                porosity=moved_porosity(centre.porosity, sign * sure.porosity_sd / 0.25)
                if sure.porosity_sd
                else centre.porosity,
            ),
            replace(centre, rate=centre.rate * exp(sign * sure.log_rate_sd)),
            replace(centre, uptake=centre.uptake * exp(sign * sure.log_uptake_sd)),
        ]
    return heads
