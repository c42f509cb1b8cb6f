"""A head: one definite state the hair could be in, and what mixes have done to it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from ...contract.hair import Hair
from ..colour.spectrum import Spectrum
from .fibre import PALEST_LEVEL, WHITE_FIBRE_KS, fibre_ks

# Natural hair raised by this many levels shows the whole warmth of its new level (assumption).
_LEVELS_TO_FULL_WARMTH = 1.0


@dataclass(frozen=True, slots=True)
class Head:
    """One definite head of hair.

    `gained_levels` and the dye are what mixes have done to it. White strands take dye in their
    own way, so they keep their own; pigmented strands hold `dye_ks`.
    """

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
    white_uptake: float = 1.0
    white_dye_ks: Spectrum | None = None
    white_dye_total: float = 0.0
    # One of the heads that show how unsure another is. How many deviations its uptake lies off, how
    # large one is, and how unsure a label's strength is, which adds bowl by bowl.
    uptake_steps: float = 0.0
    uptake_sd: float = 0.0
    label_doubt: float = 0.0

    def oxidised(self, more_levels: float = 0.0) -> float:
        """Return how far lifting has laid warmth bare: 0 natural hair, 1 lifted hair.

        `more_levels` is lift beyond what the head has already gained.
        """
        if self.lifted:
            return 1.0
        return min(1.0, (self.gained_levels + more_levels) / _LEVELS_TO_FULL_WARMTH)

    @lru_cache(maxsize=4096)  # noqa: B019 - heads are small, and asked for at every minute
    def strands(self, more_levels: float = 0.0) -> list[tuple[float, Spectrum]]:
        """Return (share, K/S) of the pigmented and, if any, the white strands, as dyed so far.

        `more_levels` is lift beyond what the head has already gained.
        """
        gained = self.gained_levels + more_levels
        ceiling = max(PALEST_LEVEL, self.level)
        oxidised = self.oxidised(more_levels)
        ks = fibre_ks(min(ceiling, self.level + gained), self.warmth, oxidised)
        if self.white_share == 0:
            return [(1.0, _dyed(ks, self.dye_ks))]
        return [
            (1.0 - self.white_share, _dyed(ks, self.dye_ks)),
            (self.white_share, _dyed(WHITE_FIBRE_KS, self.white_dye_ks)),
        ]


def _dyed(ks: Spectrum, dye_ks: Spectrum | None) -> Spectrum:
    if dye_ks is None:
        return ks
    return [q + d for q, d in zip(ks, dye_ks, strict=True)]


@dataclass(frozen=True, slots=True)
class Heads:
    """The head as described and the heads it may be, all as they are when the mix goes on."""

    centre: Head
    possible: Sequence[Head]
    seen: bool = False  # whether a look at this mix on this hair is in it already


def undyed(head: Head) -> Head:
    """Return a head with every dye gone from all its strands."""
    return replace(head, dye_ks=None, dye_total=0.0, white_dye_ks=None, white_dye_total=0.0)


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
        white_uptake=hair.white_uptake,
    )
