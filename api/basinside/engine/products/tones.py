"""Tone words: what colour a wish asks for, and what colour a product promises.

Hues and chromas are common practice, from memory, with no published source.
"""

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from ..colour.lab import LabTuple
from ..hair.levels import row_lightness, untoned

_Polar = tuple[float, float]  # hue in degrees, chroma

WISH_TONES: dict[str, _Polar] = {
    "natural": (80, 15),
    "beige": (75, 11),
    "ash": (95, 9),
    "violet": (350, 6),
    "pearl": (55, 7),
    "silver": (100, 3),
    "smoke": (265, 4),
    "blue": (250, 4),
    "gold": (85, 26),
    "copper": (58, 30),
    "red": (35, 32),
    "rose": (35, 14),
}

# Promised on unpigmented hair at full time.
PRODUCT_TONES: dict[str, _Polar] = {
    "natural": (80, 9),
    "ash": (240, 5),
    "blue": (265, 10),
    "blue violet": (285, 16),
    "violet": (300, 16),
    "pearl": (310, 10),
    "silver": (275, 3),
    "smoke": (265, 5),
    "beige": (80, 12),
    "gold": (85, 25),
    "copper": (55, 38),
    "red": (30, 40),
    "mahogany": (5, 25),
    "rose": (0, 12),
    "green": (160, 8),
}
CLEAR = "clear"


def _blend(table: dict[str, _Polar], words: Sequence[str]) -> _Polar:
    """Return hue and chroma of one word, or of two, the first counting double."""
    if len(words) == 1:
        return table[words[0]]
    a = b = 0.0
    for word, weight in zip(words, (2 / 3, 1 / 3), strict=True):
        hue, chroma = table[word]
        a += weight * chroma * cos(radians(hue))
        b += weight * chroma * sin(radians(hue))
    return degrees(atan2(b, a)) % 360, hypot(a, b)


def wish_lab(level: float, words: Sequence[str]) -> LabTuple:
    """Return the dry colour a level and tone words ask for.

    Lightness is what hair of that level keeps when brought to the wish's chroma.
    """
    hue, chroma = _blend(WISH_TONES, words)
    return (
        row_lightness(level, chroma),
        chroma * cos(radians(hue)),
        chroma * sin(radians(hue)),
    )


def promise_lab(level: float, words: Sequence[str]) -> LabTuple:
    """Return the dry colour a product promises on unpigmented hair at full time."""
    if set(words) == {"blue", "violet"}:
        words = ["blue violet"]
    hue, chroma = _blend(PRODUCT_TONES, words)
    return (
        untoned(level)[0],
        chroma * cos(radians(hue)),
        chroma * sin(radians(hue)),
    )


def unknown_words(table: dict[str, _Polar], words: Sequence[str]) -> list[str]:
    """Return the words that are not in a table."""
    return [word for word in words if word not in table]
