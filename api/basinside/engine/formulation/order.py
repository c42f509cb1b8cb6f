"""Which mix leads.

Nobody can tell mixes apart that are expected within 0.3 CIEDE2000 of each other. Among those
decides what a colourist would choose by: cover of white hair, the gentler class, a window that
waits, a tube whose label is the wish, fewer tubes, less developer. On much white hair the class
that covers comes first. The distances are judgement, no published source.
"""

from collections.abc import Iterable, Sequence

from ...contract.products import ProductClass
from .coverage import worse_than_covered
from .score import Standing
from .strengths import STRONG_PERCENT

ALIKE_WITHIN = 0.3
_LESS_CHANCE = 0.10
# A gentler class on lifted hair, better cover and a developer the trade is at ease with are worth
# a difference that one would just see.
_WORTH_WITHIN, _WORTH_CHANCE = 0.8, 0.15
_GENTLER_ANYHOW = 0.5
# Neither cover nor a milder developer is worth a colour that misses the wish, so most of the chance
# must be left. Where the closest mix leaves much white hair seen, one that does not may be further
# off.
_WORTH_WITH = 0.7
_NOT_SEEN_WITHIN, _NOT_SEEN_WITH = 1.25, 0.55
_SETTLING = 0.2  # the most that finding its best minute has brought a mix

# On lifted hair: nothing to lift, so what opens the hair least goes first. Common practice, no
# published source.
GENTLEST_FIRST: tuple[ProductClass, ...] = (
    "acid_demi",
    "neutral_demi",
    "alkaline_demi",
    "direct",
    "permanent",
)


def _roughness(standing: Standing) -> int:
    return GENTLEST_FIRST.index(standing.line_up.product_class)


def in_order(standings: Iterable[Standing]) -> list[Standing]:
    """Return standings lowest expected ΔE first, but led by the best choice of near-equals.

    Near-equals come within 0.3 of the lowest, with a chance less than 0.10 lower than the best of
    those. The bounds are 0.8 and 0.15 for a gentler class on lifted hair, for better cover of white
    hair, and for 9 % where the lowest needs more. A gentler class on lifted hair always counts
    within 0.5. Cover and 9 % also need 0.7 of the chance. Where the lowest leaves much white hair
    seen, the closest of the class that covers takes its place, within 1.25 and with 0.55 of its
    chance. Cover is never worth the tone that was wished for. Once cover decides, what comes as
    close as the closest with such cover is near-equal. Once a class leads, its own closest says
    which of its mixes are near-equals: what a gentler class is worth buys it no tube fewer.
    """
    ordered = sorted(standings, key=Standing.rank)
    if not ordered:
        return []
    keeping = _keeping_the_tone(ordered)
    lowest = _covering(keeping) or ordered[0]
    leader = _best_choice(keeping, lowest)
    cover = worse_than_covered(leader.coverage)
    if cover < worse_than_covered(lowest.coverage):
        closest = next(s for s in keeping if worse_than_covered(s.coverage) == cover)
        leader = _best_choice(keeping, closest)
    return [leader, *(s for s in ordered if s is not leader)]


def _keeping_the_tone(ordered: Sequence[Standing]) -> Sequence[Standing]:
    """Return the mixes without those that cover better but lose the tone that was wished for.

    Nothing is lost where no near-equal of the lowest has that tone. `ordered` is lowest first.
    """
    lowest = ordered[0]
    cover = worse_than_covered(lowest.coverage)
    wished = lowest.question.tone
    if not cover or not any(s.tone == wished for s in ordered if _alike(s, lowest)):
        return ordered
    return [s for s in ordered if worse_than_covered(s.coverage) >= cover or s.tone == wished]


def _alike(standing: Standing, lowest: Standing) -> bool:
    further = standing.here.expected - lowest.here.expected
    return further <= ALIKE_WITHIN and lowest.here.chance - standing.here.chance < _LESS_CHANCE


def _covering(lowest_first: Sequence[Standing]) -> Standing | None:
    """Return the closest of the class that covers, where the lowest leaves much white hair seen."""
    lowest = lowest_first[0]
    if lowest.coverage != "seen":
        return None
    for standing in lowest_first:
        if standing.here.expected > lowest.here.expected + _NOT_SEEN_WITHIN:
            break
        enough = standing.here.chance >= _NOT_SEEN_WITH * lowest.here.chance
        if enough and standing.covers_much_white and standing.coverage != "seen":
            return standing
    return None


def _best_choice(ordered: Sequence[Standing], lowest: Standing) -> Standing:
    """Return what a colourist would choose of the near-equals of a mix."""
    limit = lowest.here.expected + ALIKE_WITHIN
    cover = worse_than_covered(lowest.coverage)
    alike = (
        s.here.chance
        for s in ordered
        if s.here.expected <= limit and worse_than_covered(s.coverage) <= cover
    )
    chance = max(lowest.here.chance, *alike)
    equals = [s for s in ordered if _as_good(s, lowest, chance)]
    worth = _worth(min(equals, key=_choice))
    own = [s for s in equals if _worth(s) == worth]
    near = [s for s in own if s.here.expected <= own[0].here.expected + ALIKE_WITHIN]
    chance = max(s.here.chance for s in near)
    return min((s for s in near if chance - s.here.chance < _LESS_CHANCE), key=_choice)


def _worth(standing: Standing) -> tuple[int, int, bool]:
    """Return all that is worth more than 0.3 ΔE: cover, a gentler class, 9 % at most."""
    strong = standing.peroxide_percent > STRONG_PERCENT
    return worse_than_covered(standing.coverage), _roughness(standing), strong


def _as_good(standing: Standing, lowest: Standing, chance: float) -> bool:
    """Return whether a mix counts as the lowest's equal; `chance` is the best of such as it."""
    further = standing.here.expected - lowest.here.expected
    less = chance - standing.here.chance
    if further <= ALIKE_WITHIN and less < _LESS_CHANCE:
        return True
    gentler = standing.question.lifted and _roughness(standing) < _roughness(lowest)
    if gentler and further <= _GENTLER_ANYHOW:
        return True
    covers = worse_than_covered(standing.coverage) < worse_than_covered(lowest.coverage)
    milder = standing.peroxide_percent <= STRONG_PERCENT < lowest.peroxide_percent
    enough = standing.here.chance >= _WORTH_WITH * chance
    worth = gentler or ((covers or milder) and enough)
    return worth and further <= _WORTH_WITHIN and less < _WORTH_CHANCE


def may_lead(standing: Standing, lowest: Standing) -> bool:
    """Return whether a mix whose minute is not settled may come to count as the lowest's equal."""
    further = standing.here.expected - _SETTLING - lowest.here.expected
    gentler = standing.question.lifted and _roughness(standing) < _roughness(lowest)
    covers = standing.line_up.covers_white and standing.half_natural
    milder = standing.peroxide_percent <= STRONG_PERCENT < lowest.peroxide_percent
    return further <= (_WORTH_WITHIN if gentler or covers or milder else ALIKE_WITHIN)


def _choice(standing: Standing) -> tuple[object, ...]:
    """Return what decides among near-equals, the weightiest first; the lowest leads.

    The last is what is expected some minutes late, since nobody rinses to the minute. What is
    expected at the best minute would let the lead turn by hundredths.
    """
    return (
        # cover that only 12 % gives is lift, not dye: nobody would choose it
        standing.peroxide_percent > STRONG_PERCENT,
        worse_than_covered(standing.coverage),
        _roughness(standing),
        # on natural hair the lowest developer that does it; on lifted hair it lifts nothing
        0.0 if standing.question.lifted else standing.peroxide_percent,
        not standing.waits,
        not standing.label_is_the_wish,
        len(standing.portions),
        standing.peroxide_percent,
        round(standing.late.expected, 4),
        standing.rank(),
    )
