"""What to do before any mix: nothing, lift, wash, or take the colour off; or it is there already.

Lifting is the last thing said: only bare hair that is too deep or too warm for the wish needs it.
Colour on the hair is washed or taken off, and the hair is looked at again.
"""

from dataclasses import dataclass, replace

from ...contract.formulations import First
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.spectrum import Spectrum
from ..colour.words import chroma_of, hue_of
from ..hair.appearance import dry_strands_lab
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head, undyed
from ..hair.levels import toned_depth
from ..products.dyes import OXIDATION_DYES
from ..timing.promise import mixed_into, nearest_dyes
from ..timing.strip import dry_words
from .coverage import ALIKE_WITHIN, white_stands_off
from .project import Residual, length
from .score import Question

THERE_WITHIN = 1.0  # CIEDE2000: less than this nobody sees on hair
_RIDGE = 0.01
_LIGHTER_BY = 0.3  # levels
# A wish this grey and on the far side of yellow has no warmth left in it.
_COOL_CHROMA, _COOL_FROM, _COOL_TO = 12.0, 60.0, 275.0
# Three washes with a clarifying shampoo take about what this many plain ones do (assumption).
_FEW_WASHES = 8


@dataclass(frozen=True, slots=True)
class Nearest:
    """The dry colour that the best of all dyes would leave, and its CIEDE2000 from the wish."""

    lab: LabTuple
    delta_e: float


@dataclass(frozen=True, slots=True)
class Step:
    """What to do first, and the level to lift to where that is lifting."""

    do: First
    lift_to: float | None = None
    suffices: bool = False  # of washing: whether it is likely enough


@dataclass(frozen=True, slots=True)
class Worn:
    """What is on the hair: the head after one wash, and whether any dye is permanent."""

    once_washed: Head
    permanent: bool


def dry_hair(head: Head) -> LabTuple:
    """Return the dry colour of a head as it is, before the mix."""
    return dry_strands_lab(head.strands())


def as_lifted(head: Head) -> float:
    """Return how far a head is read as lifted hair, 0-1; white strands wholly."""
    return 1.0 - (1.0 - head.oxidised()) * (1.0 - head.white_share)


def is_there(head: Head, wish: LabTuple) -> float | None:
    """Return the CIEDE2000 from the wish where the hair has its colour already, else None.

    Within 1, and with no white hair that shows apart from the rest.
    """
    off = delta_e_2000(wish, dry_hair(head))
    apart = white_stands_off(head)
    return off if off <= THERE_WITHIN and apart <= ALIKE_WITHIN else None


def by_any_dye(head: Head, residual: Residual, enough: float = 0.0) -> Nearest:
    """Return the nearest any vector of fixed oxidation dyes brings this hair.

    With `enough`, only whether that is no further off than this can be relied on.
    """
    spectra = [dye.fixed for dye in OXIDATION_DYES]
    amounts = nearest_dyes(head.strands(), spectra, residual, _RIDGE, enough)
    lab = dry_strands_lab(mixed_into(head.strands(), amounts, spectra))
    return Nearest(lab, length(residual(lab)))


def nearest_by_any_dye(head: Head, residual: Residual) -> float:
    """Return the least CIEDE2000 any vector of fixed oxidation dyes leaves on this hair."""
    return by_any_dye(head, residual).delta_e


def at_level(head: Head, level: float) -> Head:
    """Return a head lifted to a level: what was on it is gone."""
    return replace(undyed(head), level=level, lifted=True, gained_levels=0.0)


def lowest_level(head: Head, residual: Residual, tolerance: float) -> float | None:
    """Return the lowest half level above a head's that some dye vector could make the wish."""
    for half in range(int(2 * head.level) + 1, round(2 * PALEST_LEVEL) + 1):
        if nearest_by_any_dye(at_level(head, half / 2), residual) <= tolerance:
            return half / 2
    return None


def first_step(question: Question, worn: Worn) -> Step:
    """Return what has to happen to the hair before a mix can make the wish.

    Nothing where some dye vector can make the wish from the hair as it is, or where nothing that
    is done first would help. What is not permanent is washed before it is taken off.
    """
    head = question.heads[0][1].centre
    residual, tolerance = question.residual, question.tolerance
    if nearest_by_any_dye(head, residual) <= tolerance:
        return Step("nothing")
    if head.dye_ks is not None:
        washed = _washed_often(head, worn.once_washed)
        enough = nearest_by_any_dye(washed, residual) <= tolerance
        return Step("wash" if enough or not worn.permanent else "remove", suffices=enough)
    if not asks_for_lift(question.wish, head):
        return Step("nothing")
    level = lowest_level(head, residual, tolerance)
    return Step("nothing") if level is None else Step("lift", level)


def asks_for_lift(wish: LabTuple, head: Head) -> bool:
    """Return whether a wish no dye makes on this hair could need it lighter.

    It reads lighter than the bare hair, or is too cool to be laid on the warmth that is there.
    Deep, warm and vivid wishes lie on their own undertone.
    """
    if head.white_share == 1.0:
        return False
    bare = replace(undyed(head), white_share=0.0)
    lifted = as_lifted(bare)
    if toned_depth(wish, lifted) > toned_depth(dry_hair(bare), lifted) + _LIGHTER_BY:
        return True
    return is_cool(wish)


def is_cool(wish: LabTuple) -> bool:
    """Return whether a wish has hardly any warmth: ash, silver, smoke, blue."""
    return chroma_of(wish) <= _COOL_CHROMA and _COOL_FROM <= hue_of(wish) <= _COOL_TO


def _washed_often(head: Head, once_washed: Head) -> Head:
    """Return a head after clarifying: what one plain wash leaves, so many times over."""
    return replace(
        head,
        dye_ks=_left(head.dye_ks, once_washed.dye_ks),
        dye_total=_washed(head.dye_total, once_washed.dye_total),
        white_dye_ks=_left(head.white_dye_ks, once_washed.white_dye_ks),
        white_dye_total=_washed(head.white_dye_total, once_washed.white_dye_total),
    )


def _left(now: Spectrum | None, after: Spectrum | None) -> Spectrum | None:
    if now is None or after is None:
        return now
    return tuple(_washed(n, a) for n, a in zip(now, after, strict=True))


def _washed(now: float, after: float) -> float:
    return now * (after / now) ** _FEW_WASHES if now > 0 else 0.0


def at_best_words(head: Head, nearest: Nearest) -> str:
    """Return the nearest colour any dye brings this hair to, in words."""
    return dry_words(nearest.lab, as_lifted(head))
