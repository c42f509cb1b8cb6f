"""The five product classes: how fast dye goes in, how much stays, how far they lift.

All numbers are assumptions fitted to common practice, with no published source, and only
defaults: the window belongs to the product and the use, from its leaflet.
"""

from dataclasses import dataclass
from math import exp

from ...contract.products import Consistency, ProductClass

_LIFT_MIN = 20.0  # on hair already lifted
_NATURAL_LIFT_MIN = 15.0
_FULL_ON_WHITE_PERCENT = 6.0


@dataclass(frozen=True, slots=True)
class ClassRow:
    """One class. Times in minutes, shares 0–1."""

    in_min: float
    uptake: float
    slow_share: float
    slow_min: float
    young_kept: float
    full_min: int
    lift_factor: float
    consistency: Consistency
    title: str
    ready_made: bool = False
    covers_white: bool = False  # the other classes blend it: common practice
    # Leaflets give permanents 30 to 45 minutes on natural hair. Common practice, no published
    # source: rinsed sooner, the dye has not formed where it is to stay.
    natural_hair_min: int = 0


CLASSES: dict[ProductClass, ClassRow] = {
    "alkaline_demi": ClassRow(2.5, 1.00, 0.30, 35, 0.15, 20, 0.15, "gel", "alkaline demi"),
    "neutral_demi": ClassRow(3.0, 0.80, 0.25, 40, 0.15, 20, 0, "light_cream", "neutral demi"),
    "acid_demi": ClassRow(3.5, 0.65, 0.15, 45, 0.20, 20, 0, "gel", "acid demi"),
    "permanent": ClassRow(
        *(4.0, 1.20, 0.50, 35, 0.10, 30, 1.0, "cream", "permanent"),
        covers_white=True,
        natural_hair_min=20,
    ),
    "direct": ClassRow(
        4.0, 1.00, 0.40, 30, 0.70, 20, 0, "light_cream", "direct dye", ready_made=True
    ),
}


@dataclass(frozen=True, slots=True)
class Lying:
    """Product left lying on the hair: its scattering power S·X and the amount of dye in it."""

    scattering_power: float
    dose: float


CONSISTENCIES: dict[Consistency, Lying] = {  # assumptions
    "liquid": Lying(0.06, 0.30),
    "gel": Lying(0.12, 0.50),
    "light_cream": Lying(0.40, 0.75),
    "cream": Lying(0.80, 1.10),
}


def levels_lifted(row: ClassRow, peroxide_percent: float, clock_min: float, lifted: bool) -> float:
    """Return the levels a class lifts in `clock_min` minutes of this head's own clock.

    Natural hair: factor · max(0, %/3 − 0.2) · (1 − e^(−t/15)). So a permanent lifts 0.8, 1.7,
    2.7 and 3.6 levels in 45 minutes with 3, 6, 9 and 12 %. The trade says up to 1, 1–2,
    2–3 and 3–4: common practice, no published source. Hair already lifted:
    factor · max(0, %/3 − 0.5) · (1 − e^(−t/20)) / 2, an assumption.
    """
    if not row.lift_factor:
        return 0.0
    thirds = peroxide_percent / 3.0
    if lifted:
        return row.lift_factor * max(0.0, thirds - 0.5) * (1.0 - exp(-clock_min / _LIFT_MIN)) / 2
    return row.lift_factor * max(0.0, thirds - 0.2) * (1.0 - exp(-clock_min / _NATURAL_LIFT_MIN))


def white_takes(row: ClassRow, peroxide_percent: float) -> float:
    """Return how much of a class's dye white hair takes, against pigmented hair's 1.

    A class that covers white does so best at 6 %: weaker developer opens white hair too little,
    stronger developer spends the dye on lift. Common practice; the slopes are assumptions.
    """
    if not row.covers_white:
        return 1.0
    beyond = peroxide_percent - _FULL_ON_WHITE_PERCENT
    return 1.0 - 0.05 * max(0.0, -beyond) - 0.02 * max(0.0, beyond)
