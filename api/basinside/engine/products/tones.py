"""Tone words: what colour a wish asks for, and what colour a product promises.

Hues and chromas are common practice, from memory, with no published source.
"""

from collections.abc import Sequence

from ..colour.lab import LabTuple
from ..hair.deep_tones import PALE_NATURAL, Tone, deepened, natural_tone
from ..hair.levels import row_lightness
from .dyes import Dye

_Polar = tuple[float, float]  # hue in degrees, chroma

WISH_TONES: dict[str, _Polar] = {
    "natural": PALE_NATURAL,
    "beige": (75, 11),
    "ash": (95, 9),
    "violet": (350, 6),
    "pearl": (55, 7),
    "silver": (100, 3),
    "smoke": (265, 4),
    "blue": (262, 25),
    "turquoise": (205, 22),
    "pink": (355, 24),
    "purple": (315, 28),
    "gold": (85, 26),
    "copper": (58, 30),
    "red": (35, 32),
    "rose": (35, 14),
}

# What a product's words promise (`timing/label.py`): a word that can be wished for promises the
# wish; the others, and "natural" on white hair, promise this hue and chroma.
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
    "turquoise": (205, 22),
    "pink": (355, 24),
    "purple": (315, 28),
}
# Labels of these words may hold vivid ready-made dyes in a direct dye; the warm ones hold the
# orange and the red one in every class, as permanent reds do.
VIVID_WORDS = ("red", "copper", "rose", "pink", "purple", "turquoise", "blue")
SOLD_AS_DIRECT = ("pink", "purple", "turquoise")  # and as nothing else: common practice
_VIVID_IN_EVERY_CLASS = {"orange_direct": ("red", "copper"), "red_direct": ("red", "copper")}
CLEAR = "clear"


def wish_lab(level: float, words: Sequence[str]) -> LabTuple:
    """Return the dry colour a level and tone words ask for.

    Its tone is as hair of that level shows it, its lightness what that level has at this tone.
    """
    a, b = blended([_wished(level, word) for word in words])
    return row_lightness(level, a, b), a, b


def _wished(level: float, word: str) -> Tone:
    return natural_tone(level) if word == "natural" else deepened(level, *WISH_TONES[word])


def blended(tones: Sequence[Tone]) -> Tone:
    """Return a*, b* of one tone, or of two, the first counting double."""
    if len(tones) == 1:
        return tones[0]
    (a, b), (c, d) = tones
    return (2 * a + c) / 3, (2 * b + d) / 3


def may_hold(dye: Dye, ready_made_class: bool, words: Sequence[str]) -> bool:
    """Return whether a label of these words may hold a dye; the class may be a direct dye's."""
    if not dye.vivid:
        return dye.in_words and (ready_made_class or not dye.ready_made)
    if ready_made_class:
        return any(word in VIVID_WORDS for word in words)
    return any(word in _VIVID_IN_EVERY_CLASS.get(dye.name, ()) for word in words)


def unknown_words(table: dict[str, _Polar], words: Sequence[str]) -> list[str]:
    """Return the words that are not in a table."""
    return [word for word in words if word not in table]
