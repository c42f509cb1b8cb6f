"""What a label promises: a colour, and the hair on which it comes true.

Up to level 7 a shade is sold for natural hair and for white, so its name has to hold on both at
once. From level 8 it is a toner for lightened hair that must not go astray on white hair. These
ways of use, and all shares below, are common practice and assumptions. An educator's page says
that shades are rated on white hair with 6 % for 45 minutes, and that an 8 on natural 7 gives 8.
No published table gives CIELAB by label.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ...contract.products import ProductClass, PromisedOn
from ..colour.lab import LabTuple
from ..colour.spectrum import Spectrum
from ..hair.appearance import Strands
from ..hair.deep_tones import Tone, deepened, polar_tone
from ..hair.fibre import PALEST_LEVEL, WHITE_FIBRE_KS, fibre_ks
from ..hair.levels import row_lightness, undyed
from ..products.classes import CLASSES, levels_lifted
from ..products.tones import PRODUCT_TONES, WISH_TONES, blended, wish_lab

RATED_PERCENT, _RATED_MIN = 6.0, 45.0
# Levels up to which a shade is sold for natural hair, and from which for lightened hair alone.
_NATURAL_TO, LIFTED_FROM, _NATURAL_SHADE_LIFTED_FROM = 7.0, 8.0, 8.6
_WHITE_AMONG_NATURAL = 0.57
_WHITE_AMONG_LIFTED = 0.15
_WHITE_AMONG_LIFTED_NATURAL = 0.25  # natural shades are sold for white hair too
# They name a pigment, as it looks on white hair, and not a colour to arrive at. A direct dye
# "blue" is a colour to arrive at.
CORRECTORS = ("blue", "blue violet", "green")
_CORRECTING: dict[bool, tuple[str, ...]] = {True: ("blue violet", "green"), False: CORRECTORS}


@dataclass(frozen=True, slots=True)
class Label:
    """A promise: the hair it is made on, the dry colour there, and the minutes it takes."""

    strands: Strands
    colour: LabTuple
    minutes: float


def label_of(
    product_class: ProductClass,
    level: float,
    words: Sequence[str],
    promised_on: PromisedOn | None = None,
) -> Label:
    """Return what a label of class, level and known product words promises.

    Conditions: porosity 0.5, put on dry, rinsed, dried; permanents with 6 %.
    """
    if set(words) == {"blue", "violet"}:
        words = ["blue violet"]
    dark = _for_natural_hair(level, words)
    minutes = float(CLASSES[product_class].full_min)
    if product_class == "permanent":
        minutes += dark * (_RATED_MIN - minutes)
    correctors = _CORRECTING[CLASSES[product_class].ready_made]
    strands = _strands(product_class, level, words, promised_on)
    return Label(strands, _colour(level, words, correctors), minutes)


def _for_natural_hair(level: float, words: Sequence[str]) -> float:
    """Return how far a label is sold for natural and white hair, 0–1."""
    return _blend([_natural_by_word(level, word) for word in words])


def _natural_by_word(level: float, word: str) -> float:
    lifted_from = _NATURAL_SHADE_LIFTED_FROM if word == "natural" else LIFTED_FROM
    x = min(1.0, max(0.0, (lifted_from - level) / (lifted_from - _NATURAL_TO)))
    return x * x * (3.0 - 2.0 * x)


def _strands(
    product_class: ProductClass,
    level: float,
    words: Sequence[str],
    promised_on: PromisedOn | None,
) -> Strands:
    """Return (share, K/S) of the hair a label is meant for, side by side."""
    lifted = fibre_ks(min(PALEST_LEVEL, level))
    if promised_on == "white":
        return [(1.0, WHITE_FIBRE_KS)]
    correctors = _CORRECTING[CLASSES[product_class].ready_made]
    if promised_on == "lifted" and not any(word in correctors for word in words):
        return [(1.0, lifted)]
    dark = _for_natural_hair(level, words)
    strands: list[tuple[float, Spectrum]] = []
    if dark:
        gained = 0.0
        if product_class == "permanent":
            gained = levels_lifted(CLASSES[product_class], RATED_PERCENT, _RATED_MIN, lifted=False)
        natural = fibre_ks(min(PALEST_LEVEL, level + gained), oxidised=min(1.0, gained))
        strands += [(dark * (1.0 - _WHITE_AMONG_NATURAL), natural)]
    among_lifted = (1.0 - dark) * _blend([_lifted_share(word, correctors) for word in words])
    if among_lifted:
        strands += [(among_lifted, lifted)]
    white = 1.0 - sum(share for share, _ in strands)
    return [*strands, (white, WHITE_FIBRE_KS)]


def _lifted_share(word: str, correctors: Sequence[str]) -> float:
    if word in correctors:
        return 0.0
    return 1.0 - (_WHITE_AMONG_LIFTED_NATURAL if word == "natural" else _WHITE_AMONG_LIFTED)


def _colour(level: float, words: Sequence[str], correctors: Sequence[str]) -> LabTuple:
    """Return the dry colour promised: the wish of the same words, but for correctors.

    Those promise their hue and chroma on white hair, as light as bare lifted hair of their
    level. Up to level 7 they are placed as every other word is.
    """
    tones = [_tone(level, word, correctors) for word in words]
    a, b = blended(tones)
    lightness = row_lightness(level, a, b)
    pale = 1.0 - _for_natural_hair(level, words)
    corrects = pale * _blend([float(word in correctors) for word in words])
    return lightness + corrects * (undyed(level)[0] - lightness), a, b


def _tone(level: float, word: str, correctors: Sequence[str]) -> Tone:
    if word in WISH_TONES and word not in correctors:
        _, a, b = wish_lab(level, [word])
        return a, b
    hue, chroma = PRODUCT_TONES[word]
    if word not in correctors:
        return deepened(level, hue, chroma)
    (a, b), (deep_a, deep_b) = polar_tone(hue, chroma), deepened(level, hue, chroma)
    dark = _natural_by_word(level, word)
    return a + dark * (deep_a - a), b + dark * (deep_b - b)


def _blend(values: Sequence[float]) -> float:
    """Return one value, or two, the first counting double."""
    return values[0] if len(values) == 1 else (2.0 * values[0] + values[1]) / 3.0
