"""When the shelf cannot do it: by how much, which way, and what could."""

from dataclasses import replace

from msgspec import UNSET

from ...contract.formulations import Shortfall, WouldHelp
from ...contract.products import ProductClass
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.words import direction_of, half_level
from ..hair.appearance import dry_strands_lab
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head, undyed
from ..products.classes import CLASSES, CONSISTENCIES
from ..products.dyes import OXIDATION_DYES
from ..products.tones import PRODUCT_TONES
from ..timing.bowl import Bowl
from ..timing.development import Development
from ..timing.promise import mixed_into, nearest_dyes, promised_dyes
from .project import Residual, length
from .score import Question

_RIDGE = 0.01
_WORTH_BUYING = 0.5
_STRENGTHS = (0.25, 0.5, 0.75, 1.0)


def dry_hair(head: Head) -> LabTuple:
    """Return the dry colour of a head as it is, before the mix."""
    return dry_strands_lab(head.strands())


def nearest_by_any_dye(head: Head, residual: Residual) -> float:
    """Return the least CIEDE2000 any vector of fixed oxidation dyes leaves on this hair."""
    spectra = [dye.fixed for dye in OXIDATION_DYES]
    amounts = nearest_dyes(head.strands(), spectra, residual, _RIDGE)
    return length(residual(dry_strands_lab(mixed_into(head.strands(), amounts, spectra))))


def lift_first(question: Question) -> float | None:
    """Return the lowest half level above the hair that some dye vector could make the wish.

    None when some dye vector already can from the hair itself, or none can from any level.
    """
    head = question.heads[0][1].centre
    if nearest_by_any_dye(head, question.residual) <= question.tolerance:
        return None
    return lowest_level(head, question.residual, question.tolerance)


def at_level(head: Head, level: float) -> Head:
    """Return a head lifted to a level: what was on it is gone."""
    return replace(undyed(head), level=level, lifted=True, gained_levels=0.0)


def lowest_level(head: Head, residual: Residual, tolerance: float) -> float | None:
    """Return the lowest half level above a head's that some dye vector could make the wish."""
    for half in range(int(2 * head.level) + 1, round(2 * PALEST_LEVEL) + 1):
        if nearest_by_any_dye(at_level(head, half / 2), residual) <= tolerance:
            return half / 2
    return None


def would_help(question: Question, product_class: ProductClass, best: float) -> WouldHelp | None:
    """Return the one product of a class, by words, that alone or thinned comes closest.

    None when it would not be worth half a ΔE.
    """
    head = question.heads[0][1].centre
    row = CLASSES[product_class]
    around = round(head.level)
    found = []
    for level in range(max(1, around - 2), min(11, around) + 1):
        for word in PRODUCT_TONES:
            dyes = promised_dyes(product_class, float(level), (word,))
            for strength in _STRENGTHS:
                bowl = Bowl(
                    product_class=product_class,
                    amounts=tuple(strength * a for a in dyes),
                    peroxide_percent=0.0,
                    lying=CONSISTENCIES[row.consistency],
                    maker=None,
                    full_min=row.full_min,
                )
                lab = Development(bowl).if_rinsed(head, row.full_min)
                found.append((round(delta_e_2000(lab, question.wish), 4), level, word))
    delta_e, level, word = min(found)
    if delta_e > best - _WORTH_BUYING:
        return None
    return WouldHelp(product_class, float(level), [word], delta_e)


def shortfall_of(
    question: Question, reached: LabTuple, best: float, product_class: ProductClass | None
) -> Shortfall:
    """Return the shortfall of a shelf whose closest mix reaches a colour at this ΔE.

    `product_class` is that mix's class, None when no product could be used at all.
    """
    direction = direction_of(reached, question.wish)
    level = lift_first(question)
    helping = would_help(question, product_class or "neutral_demi", best) if level is None else None
    words = [
        "Nothing on this shelf can be used here."
        if product_class is None
        else f"The closest mix on this shelf is {best:.1f} ΔE off, {direction.replace('_', ' ')}."
    ]
    if level is not None:
        words.append(f"Lift first, to level {half_level(level)}: no dye makes hair lighter.")
    if helping is not None:
        words.append(
            f"A {CLASSES[helping.class_].title}, level {helping.level:g} {helping.tone[0]}, would"
            f" come to {helping.delta_e:.1f} ΔE."
        )
    if level is None and helping is None:
        words.append("Think of a wish nearer to this hair.")
    return Shortfall(
        delta_e=best,
        direction=direction,
        words=" ".join(words),
        lift_first=UNSET if level is None else level,
        would_help=UNSET if helping is None else helping,
    )
