"""The five product classes: how fast dye goes in, how much stays, how far they lift.

All numbers are assumptions fitted to common practice, with no published source, and only
defaults: the window belongs to the product and the use, from its leaflet.
"""

from dataclasses import dataclass
from math import exp

from ...contract.products import Consistency, ProductClass

_LIFT_MIN = 20.0


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


CLASSES: dict[ProductClass, ClassRow] = {
    "alkaline_demi": ClassRow(2.5, 1.00, 0.30, 35, 0.15, 20, 0.15, "gel", "alkaline demi"),
    "neutral_demi": ClassRow(3.0, 0.80, 0.25, 40, 0.15, 20, 0, "light_cream", "neutral demi"),
    "acid_demi": ClassRow(3.5, 0.65, 0.15, 45, 0.20, 20, 0, "gel", "acid demi"),
    "permanent": ClassRow(4.0, 1.20, 0.50, 35, 0.10, 30, 1.0, "cream", "permanent"),
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

    factor · max(0, %/3 − 0.5) · (1 − e^(−t/20)), halved on hair already lifted. Common
    practice, no published source.
    """
    if not row.lift_factor:
        return 0.0
    strength = max(0.0, peroxide_percent / 3.0 - 0.5)
    lift = row.lift_factor * strength * (1.0 - exp(-clock_min / _LIFT_MIN))
    return lift / 2 if lifted else lift
