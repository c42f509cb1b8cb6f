"""The hair a label is meant for, what its tube makes there, and what any dyes could make there."""

from functools import cache

from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.colour.lab import LabTuple
from basinside.engine.colour.spectrum import Spectrum
from basinside.engine.hair.appearance import Strands, dry_strands_lab
from basinside.engine.hair.fibre import WHITE_FIBRE_KS, fibre_ks
from basinside.engine.products.classes import CLASSES, levels_lifted
from basinside.engine.products.dyes import DYES
from basinside.engine.products.tones import may_hold, wish_lab
from basinside.engine.timing.label import label_of
from basinside.engine.timing.promise import mixed_into, nearest_dyes, promised_dyes, rinsed_rows


def own_hair(product_class: str, level: float, promised_on: str | None) -> Strands:
    """Return lifted hair or white hair; when nothing is said, half-white hair up to 7.

    Permanents lift its pigmented half with 6 % for 45 minutes.
    """
    if promised_on == "white":
        return ((1.0, tuple(WHITE_FIBRE_KS)),)
    if promised_on == "lifted" or level >= 8:
        return ((1.0, tuple(fibre_ks(level))),)
    gained = 0.0
    if product_class == "permanent":
        gained = levels_lifted(CLASSES[product_class], 6, 45, lifted=False)
    natural = fibre_ks(level + gained, oxidised=min(1.0, gained))
    return ((0.5, tuple(natural)), (0.5, tuple(WHITE_FIBRE_KS)))


def _spectra(product_class: str, minutes: float) -> list[Spectrum]:
    """Return the K/S a unit of each dye leaves, porosity 0.5, put on dry."""
    uptake = CLASSES[product_class].uptake
    return [[uptake * s for s in row] for row in rinsed_rows(product_class, 0.5, minutes)]


def tube_on(
    hair: Strands, product_class: str, level: float, word: str, promised_on: str | None
) -> LabTuple:
    """Return the dry colour one tube makes of this hair, left on for its label's time."""
    minutes = label_of(product_class, level, [word], promised_on).minutes
    amounts = promised_dyes(product_class, float(level), (word,), promised_on)
    return dry_strands_lab(mixed_into(hair, amounts, _spectra(product_class, minutes)))


@cache
def reach(hair: Strands, product_class: str, level: float, word: str) -> float:
    """Return the least CIEDE2000 from the wish of this word that any dyes leave on this hair."""
    minutes = label_of(product_class, level, [word]).minutes
    ready = CLASSES[product_class].ready_made
    held = [i for i, dye in enumerate(DYES) if may_hold(dye, ready, [word])]
    spectra = [_spectra(product_class, minutes)[i] for i in held]
    wish = wish_lab(level, [word])
    amounts = nearest_dyes(hair, spectra, residual_from(wish), 0.002)
    return delta_e_2000(dry_strands_lab(mixed_into(hair, amounts, spectra)), wish)
