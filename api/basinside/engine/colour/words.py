"""The tone word of a colour, by stated bands of CIELAB hue and chroma.

The bands are common practice with no published source; they are ours and change only here.
"""

from math import atan2, cos, degrees, hypot, radians, sin
from typing import Literal

from .lab import LabTuple

NEUTRAL_CHROMA = 5.0
SOFT_CHROMA = 16.0
SILVER_FROM_LEVEL = 9.0
_WARM_HUE = radians(70)  # orange-yellow: what the trade calls warm

Direction = Literal["too_warm", "too_dark", "too_cool", "too_light"]

# (hue from, hue to, word), degrees; a band that ends before it starts passes through 0
_SOFT_BANDS = (
    (55.0, 90.0, "beige"),
    (90.0, 105.0, "ash"),
    (352.0, 55.0, "rose beige"),
    (275.0, 352.0, "violet"),
)
_VIVID_BANDS = (
    (330.0, 15.0, "pink"),
    (15.0, 40.0, "red"),
    (40.0, 60.0, "copper"),
    (60.0, 68.0, "orange"),
    (68.0, 80.0, "gold"),
    (80.0, 98.0, "yellow"),
    (98.0, 180.0, "green"),
    (180.0, 225.0, "turquoise"),
    (225.0, 275.0, "blue"),
    (275.0, 330.0, "purple"),
)
# where no soft band fits: too little colour there to call it turquoise or pink
_FAINT_BANDS = (
    (98.0, 200.0, "green"),
    (200.0, 275.0, "blue"),
)


def chroma_of(lab: LabTuple) -> float:
    """Return C*ab."""
    return hypot(lab[1], lab[2])


def hue_of(lab: LabTuple) -> float:
    """Return the CIELAB hue angle h_ab in degrees, 0–360."""
    return degrees(atan2(lab[2], lab[1])) % 360


def _within(hue: float, start: float, end: float) -> bool:
    return start <= hue < end if start < end else hue >= start or hue < end


def tone_word(lab: LabTuple, level: float) -> str:
    """Return the tone word of a colour read at `level`."""
    chroma, hue = chroma_of(lab), hue_of(lab)
    if chroma < NEUTRAL_CHROMA:
        return "neutral silver" if level >= SILVER_FROM_LEVEL else "neutral smoke"
    bands = (*_SOFT_BANDS, *_FAINT_BANDS) if chroma < SOFT_CHROMA else _VIVID_BANDS
    return next(word for start, end, word in bands if _within(hue, start, end))


def half_level(level: float) -> str:
    """Return a level to the half as it is spoken: 8, 8½."""
    halves = round(level * 2)
    return f"{halves // 2}½" if halves % 2 else f"{halves // 2}"


def direction_of(reached: LabTuple, wish: LabTuple) -> Direction:
    """Return which way a colour misses a wish most, weighted as CIEDE2000 weighs."""
    lighter = (reached[0] - wish[0]) / (
        1 + 0.015 * (wish[0] - 50) ** 2 / (20 + (wish[0] - 50) ** 2) ** 0.5
    )
    chroma = (wish[1] ** 2 + wish[2] ** 2) ** 0.5
    warmer = ((reached[1] - wish[1]) * cos(_WARM_HUE) + (reached[2] - wish[2]) * sin(_WARM_HUE)) / (
        1 + 0.045 * chroma
    )
    if abs(lighter) > abs(warmer):
        return "too_light" if lighter > 0 else "too_dark"
    return "too_warm" if warmer > 0 else "too_cool"
