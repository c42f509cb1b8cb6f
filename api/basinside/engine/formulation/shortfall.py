"""When the shelf cannot do it: by how much, which way, what to do first, and what would help."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from msgspec import UNSET

from ...contract.formulations import Shortfall, WouldHelp
from ...contract.products import Product, ProductClass
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.words import direction_of, half_level
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Head
from ..hair.levels import toned_depth
from ..products.classes import CLASSES, CONSISTENCIES
from ..products.tones import PRODUCT_TONES, SOLD_AS_DIRECT
from ..timing.bowl import Bowl
from ..timing.development import Development
from ..timing.promise import promised_dyes
from .first import Step, Worn, as_lifted, at_best_words, at_level, by_any_dye, first_step, is_cool
from .score import Question

_WORTH_BUYING = 0.5
_STRENGTHS = (0.25, 0.5, 0.75, 1.0)
_NEAR_THE_WISH = 0.5  # levels: what a colourist would think of buying for it

_WASH = "Wash first, a few times with a clarifying shampoo, and look again."
_CLARIFY = (
    "Wash first with a clarifying shampoo, or take the colour off, and look again before any mix."
)
_REMOVE = "Take the colour off first, and look again."


def a_class(product_class: ProductClass) -> str:
    """Return a class with its article: "an acid demi"."""
    title = CLASSES[product_class].title
    return f"{'an' if title[0] in 'aeiou' else 'a'} {title}"


@dataclass(frozen=True, slots=True)
class Tube:
    """A product by its words, and how far from the wish it comes at its best strength."""

    delta_e: float
    level: float
    word: str


def tubes_near(
    question: Question,
    product_class: ProductClass,
    heads: Sequence[tuple[float, Head]],
    words: Iterable[str] = PRODUCT_TONES,
) -> list[Tube]:
    """Return every product of a class labelled within half a level of the wish, closest first.

    Alone or thinned with clear, at full time; all hair that gets the mix counts by its share.
    `words` are the tones looked among.
    """
    found = []
    for level in _levels_near(question):
        for word in words:
            if word in SOLD_AS_DIRECT and not CLASSES[product_class].ready_made:
                continue
            for strength in _STRENGTHS:
                off = sum(
                    share
                    * delta_e_2000(
                        question.wish, _tube_alone(product_class, level, word, strength, head)
                    )
                    for share, head in heads
                )
                found.append(Tube(round(off, 4), level, word))
    return sorted(found, key=lambda tube: (tube.delta_e, tube.level, tube.word))


@lru_cache(maxsize=4096)  # a field of wishes asks the same tubes again and again
def _tube_alone(
    product_class: ProductClass, level: float, word: str, strength: float, head: Head
) -> LabTuple:
    """Return the dry colour a tube known by its words leaves, thinned with clear, at full time."""
    row = CLASSES[product_class]
    dyes = promised_dyes(product_class, level, (word,))
    bowl = Bowl(
        product_class=product_class,
        amounts=tuple(strength * a for a in dyes),
        peroxide_percent=0.0,
        lying=CONSISTENCIES[row.consistency],
        maker=None,
        full_min=row.full_min,
    )
    return Development(bowl).if_rinsed(head, row.full_min)


def _would_help(
    tubes: Sequence[Tube], product_class: ProductClass, best: float, owned: Sequence[Product]
) -> WouldHelp | None:
    """Return the closest product that is not owned; None when it would not be worth half a ΔE."""
    labels = {(p.level, frozenset(p.tone)) for p in owned if p.class_ == product_class}
    for tube in tubes:
        if tube.delta_e > best - _WORTH_BUYING:
            return None
        if (tube.level, frozenset([tube.word])) not in labels:
            return WouldHelp(product_class, tube.level, [tube.word], tube.delta_e)
    return None


def _paler_for(question: Question, product_class: ProductClass) -> float | None:
    """Return the half level above the hair's from which the wish is best made, if some is.

    Where a tube of the wish's own tone comes nearest, since a colourist reaches for that; where
    none comes within tolerance, the lowest at which any tube does.
    """
    asked = question.asked
    own = [word for word in (asked.tone if asked else None) or () if word in PRODUCT_TONES]
    head = question.heads[0][1].centre
    halves = range(int(2 * head.level) + 1, round(2 * PALEST_LEVEL) + 1)

    def misses(words: Iterable[str]) -> list[tuple[float, float]]:
        tubes = (
            tubes_near(question, product_class, [(1.0, at_level(head, half / 2))], words)[:1]
            for half in halves
        )
        found = [(t[0].delta_e, half / 2) for t, half in zip(tubes, halves, strict=True) if t]
        return [(miss, level) for miss, level in found if miss <= question.tolerance]

    if by_own := misses(own):
        return min(by_own)[1]
    return min((level for _, level in misses(PRODUCT_TONES)), default=None)


def lift_to_sell(
    question: Question,
    reached: LabTuple,
    tubes: Sequence[Tube],
    product_class: ProductClass,
) -> float | None:
    """Return the level that bare hair must be lifted to for a cool wish that no tube reaches.

    Dyes in free amounts may lay ash on orange, but nobody sells a tube that does. None where that
    is not what is in the way.
    """
    head = question.heads[0][1].centre
    too_warm = direction_of(reached, question.wish) == "too_warm"
    if not (too_warm and is_cool(question.wish) and head.dye_ks is None):
        return None
    if tubes and tubes[0].delta_e <= question.tolerance:
        return None
    return _paler_for(question, product_class)


def _levels_near(question: Question) -> list[float]:
    """Return the whole levels within half a level of the wish."""
    asked = question.asked
    if asked is not None and asked.level is not None:
        level = asked.level
    else:
        level = toned_depth(question.wish, as_lifted(question.heads[0][1].centre))
    return [float(whole) for whole in range(1, 12) if abs(whole - level) <= _NEAR_THE_WISH + 1e-9]


def shortfall_of(
    question: Question,
    reached: LabTuple,
    best: float,
    product_class: ProductClass | None,
    owned: Sequence[Product],
    worn: Worn,
) -> Shortfall:
    """Return the shortfall of a shelf whose closest mix reaches a colour at this ΔE.

    `product_class` is that mix's class, None when no product could be used at all; `owned` is the
    whole shelf; `worn` is what is on the hair.
    """
    head = question.heads[0][1].centre
    direction = direction_of(reached, question.wish)
    step = first_step(question, worn)
    at_best = at_best_words(head, by_any_dye(head, question.residual))
    helping = None
    if step.do == "nothing":
        buying = product_class or "neutral_demi"
        heads = [(share, one.centre) for share, one in question.heads]
        tubes = tubes_near(question, buying, heads)
        level = lift_to_sell(question, reached, tubes, buying)
        step = step if level is None else Step("lift", level)
        if step.do == "nothing":
            helping = _would_help(tubes, buying, best, owned)
    words = [
        "Nothing on this shelf can be used here."
        if product_class is None
        else f"The closest mix on this shelf is {best:.1f} ΔE off, {direction.replace('_', ' ')}.",
        *_way_on(question, step, at_best, direction),
    ]
    if helping is not None:
        words.append(
            f"{a_class(helping.class_).capitalize()}, level {helping.level:g} {helping.tone[0]},"
            f" would come to {helping.delta_e:.1f} ΔE."
        )
    elif step.do == "nothing":
        words.append("Think of a wish nearer to this hair.")
    return Shortfall(
        delta_e=best,
        direction=direction,
        words=" ".join(words),
        first=step.do,
        at_best=at_best,
        lift_first=UNSET if step.lift_to is None else step.lift_to,
        would_help=UNSET if helping is None else helping,
    )


def _way_on(question: Question, step: Step, at_best: str, direction: str) -> list[str]:
    if step.lift_to is not None:
        level = half_level(step.lift_to)
        if direction == "too_warm" and is_cool(question.wish):
            asked = question.asked
            tone = " ".join(asked.tone) if asked and asked.tone else "a wish this cool"
            return [
                f"It is still warm. {tone.capitalize()} needs level {level}: lift first, or wish"
                " for something warmer."
            ]
        return [f"Lift first, to level {level}: no dye makes hair lighter."]
    if step.do in ("wash", "remove"):
        gentlest = _WASH if step.suffices else _CLARIFY
        told = gentlest if step.do == "wash" else _REMOVE
        return [f"{told} As it is, any dye brings it to {at_best} at best."]
    return [f"Any dye brings this hair to {at_best} at best."]
