"""Which wishes of a field a shelf can make on a head, at the cost of a few formulations.

Each wish starts at the nearest mixes of the cloud and walks: a part more or less, a minute more
or less, one product added or exchanged. That finds what a formulation finds in nearly every
cell; where it misses, the cell lies at the edge of the tolerance (`tests/engine/test_reaches`).
"""

from collections.abc import Iterator, Sequence

from msgspec import UNSET

from ...contract.products import Product
from ...contract.reaches import Reach, ReachesReply, ReachesRequest, WhyNot
from ...contract.wishes import Wish
from ..colour.difference import delta_e_2000
from ..hair.fibre import PALEST_LEVEL
from ..hair.head import Heads
from ..meaning import check_hair, shelf_of
from ..products.tones import WISH_TONES
from ..refusal import Faults
from ..timing.predict import lab_of_wish
from ..version import engine_version
from .cloud import Cloud
from .first import (
    asks_for_lift,
    at_level,
    by_any_dye,
    dry_hair,
    is_cool,
    is_there,
    lowest_level,
)
from .formulate import all_heads, check_limits
from .lineups import Portions, hair_asked, line_ups
from .project import length
from .score import Question, Standing
from .shortfall import lift_to_sell, tubes_near
from .whole_parts import neighbours

_SCORED = 24  # points of the cloud whose true distance is looked at
_STARTS = 8
_DOUBT = 0.3  # what the coarse bands and too few starts may be off
_WORTH_MORE = 2.5  # where a start ends further beyond the tolerance, another does not help
_BEYOND_ALL = 2.0  # what a better level than the palest may bring
_MINUTE_STEPS = (-8, -3, -1, 1, 3, 8)
_MET, _GAIN = 1.0, 0.02  # nobody sees less on hair; a step worth taking

_Heads = Sequence[tuple[float, Heads]]


def tell_reaches(request: ReachesRequest) -> ReachesReply:
    """Return for each level and tone how near the shelf comes, levels in the order asked.

    Raises `Refused` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf = _check(request, faults)
    faults.refuse_if_any()
    field = _Field(request, all_heads(request.hair, shelf))
    return ReachesReply(
        [field.reach(level, tone) for level in request.levels for tone in request.tones],
        engine_version(),
    )


def _check(request: ReachesRequest, faults: Faults) -> dict[str, Product]:
    shelf = shelf_of(request.products, faults)
    check_hair(request.hair, "/hair", shelf, faults)
    check_limits(request.limits, request.products, faults)
    for i, tone in enumerate(request.tones):
        if tone not in WISH_TONES:
            known = ", ".join(WISH_TONES)
            faults.add(f"/tones/{i}", f"“{tone}” is not a wish word here. Use one of: {known}.")
    return shelf


class _Field:
    """One shelf on all hair that gets the mix."""

    def __init__(self, request: ReachesRequest, heads: _Heads) -> None:
        self._tolerance = request.tolerance
        self._heads = heads
        self._asked = hair_asked([each.centre for _, each in heads])
        self._lines = line_ups(request.products, request.limits, self._asked)
        self._most = request.limits.max_products
        # the same products with another strength of developer
        self._siblings = [
            [j for j, other in enumerate(self._lines) if j != i and other.members == one.members]
            for i, one in enumerate(self._lines)
        ]
        self._clouds = [
            (share, Cloud(self._lines, each.centre, self._most)) for share, each in heads
        ]

    def reach(self, level: float, tone: str) -> Reach:
        """Return how near the shelf comes to one wish."""
        asked = Wish(level=level, tone=[tone], tolerance=self._tolerance)
        question = Question(self._heads, lab_of_wish(asked), self._tolerance, asked)
        centre = self._heads[0][1].centre
        off = is_there(centre, question.wish)
        if off is not None:
            return Reach(level, tone, off, within=True)
        found = self._nearest(question)
        if found is None:
            miss = delta_e_2000(question.wish, dry_hair(centre))
            return Reach(level, tone, miss, within=False, why=self._why(question, None))
        miss = found.delta_e(found.minute)
        within = miss <= self._tolerance
        why = UNSET if within else self._why(question, found)
        return Reach(level, tone, miss, within, why)

    def _nearest(self, question: Question) -> Standing | None:
        """Return the closest mix found, at its minute; None where nothing can be used."""
        walk = _Walk(self._clouds, question, self._siblings, self._most, self._lightest(question))
        starts = walk.starts()
        if not starts:
            return None
        best = walk.down(starts[0])
        for start in starts[1:]:
            if not self._tolerance < best[0] + _DOUBT < self._tolerance + _WORTH_MORE:
                break
            best = min(best, walk.down(start))
        _, which, portions, minute = best
        return Standing(self._lines[which], portions, question, minute=minute)

    def _lightest(self, question: Question) -> float:
        heads = [each.centre for _, each in self._heads]
        return hair_asked(heads, question.asked).lightest_label

    def _why(self, question: Question, found: Standing | None) -> WhyNot:
        """Return what is in the way, as a shortfall says it: only which, never the level.

        Where the palest hair can be dyed to the wish, some level can; where it stays far off, none
        can. Between the two each level is asked.
        """
        head, tolerance = self._heads[0][1].centre, self._tolerance
        residual = question.residual
        wears = head.dye_ks is not None
        if wears or asks_for_lift(question.wish, head):
            if self._dyes_can_reach(question):
                return self._for_want_of_a_tube(question, found)
            if wears:
                return "wash_first"
            if head.level >= PALEST_LEVEL:
                return "no_product"
            on_palest = by_any_dye(at_level(head, PALEST_LEVEL), residual, tolerance).delta_e
            if on_palest <= tolerance:
                return "lift_first"
            if on_palest > tolerance + _BEYOND_ALL:
                return "no_product"
            level = lowest_level(head, residual, tolerance)
            return "no_product" if level is None else "lift_first"
        return self._for_want_of_a_tube(question, found)

    def _dyes_can_reach(self, question: Question) -> bool:
        """Return whether any dyes bring the hair to the wish; dye makes nothing lighter."""
        head = self._heads[0][1].centre
        _, a, b = question.wish
        too_dark = -question.residual((dry_hair(head)[0], a, b))[0]
        if too_dark > self._tolerance:
            return False
        return by_any_dye(head, question.residual, self._tolerance).delta_e <= self._tolerance

    def _for_want_of_a_tube(self, question: Question, found: Standing | None) -> WhyNot:
        """Return what is in the way of hair that some dyes, in free amounts, bring to the wish."""
        if found is None or not is_cool(question.wish):
            return "no_product"
        reached = found.development.if_rinsed(self._heads[0][1].centre, found.minute)
        buying = found.line_up.product_class
        heads = [(share, each.centre) for share, each in self._heads]
        tubes = tubes_near(question, buying, heads)
        level = lift_to_sell(question, reached, tubes, buying)
        return "no_product" if level is None else "lift_first"


_At = tuple[float, int, Portions, int]  # CIEDE2000, line-up, parts, minute


class _Walk:
    """The way down to one wish, from mix to neighbouring mix."""

    def __init__(
        self,
        clouds: Sequence[tuple[float, Cloud]],
        question: Question,
        siblings: Sequence[Sequence[int]],
        most: int,
        lightest_label: float,
    ) -> None:
        self._clouds = clouds
        self._wish = question.wish
        self._residual = question.residual
        self._siblings = siblings
        self._most = most
        self._lightest = lightest_label

    def starts(self) -> list[_At]:
        """Return the closest points of the cloud, no two with the same products and developer."""
        scored = [
            self._at(p.line_up, p.portions, p.minute)
            for _, cloud in self._clouds
            for p in cloud.nearest(self._wish, self._lightest, _SCORED)
        ]
        apart: dict[tuple[int, tuple[int, ...]], _At] = {}
        for at in sorted(scored):
            apart.setdefault((at[1], tuple(m for m, _ in at[2])), at)
        # mixes of one main product walk to the same place, so each product's best goes first
        mains: set[tuple[int, int]] = set()
        first: list[_At] = []
        rest: list[_At] = []
        for at in apart.values():
            main = at[1], max(at[2], key=lambda part: part[1])[0]
            (rest if main in mains else first).append(at)
            mains.add(main)
        return [*first, *rest][:_STARTS]

    def down(self, start: _At) -> _At:
        """Return the lowest mix that steps of a part, a minute or a product lead to."""
        best = start
        while best[0] > _MET:
            lower = min(self._around(best), default=best)
            if lower[0] >= best[0] - _GAIN:
                lower = min(self._with_another(best), default=best)
            if lower[0] >= best[0] - _GAIN:
                return best
            best = lower
        return best

    def _at(self, which: int, portions: Portions, minute: int) -> _At:
        miss = 0.0
        for share, cloud in self._clouds:
            lab = cloud.colours[which].lab(portions, minute)
            miss += share * length(self._residual(lab))
        return miss, which, portions, minute

    def _around(self, at: _At) -> Iterator[_At]:
        _, which, portions, minute = at
        line_up = self._clouds[0][1].colours[which].line_up
        span = line_up.minutes_of([m for m, _ in portions])
        if span is None:
            return
        for step in _MINUTE_STEPS:
            if span.min <= minute + step <= span.max:
                yield self._at(which, portions, minute + step)
        for other in self._siblings[which]:
            yield self._at(other, portions, minute)
        for parts in neighbours(portions, line_up.whole, line_up.clear is not None):
            yield self._at(which, parts, minute)

    def _with_another(self, at: _At) -> Iterator[_At]:
        """Yield mixes with one product more, or one exchanged, of what points at the wish."""
        _, which, portions, minute = at
        cloud = self._clouds[0][1]
        line_up = cloud.colours[which].line_up
        bases = [portions[:i] + portions[i + 1 :] for i in range(len(portions))]
        if len(portions) < self._most:
            bases.append(portions)
            # A full bowl makes room first; where there is room, strong dye gives way to two weaker.
            bases += [
                (*portions[:i], (m, n - 1), *portions[i + 1 :])
                for i, (m, n) in enumerate(portions)
                if n > 1
            ]
        for base in bases:
            for parts in cloud.fillings(which, base, minute, self._residual, self._lightest):
                if line_up.may_mix([m for m, _ in parts]):
                    yield self._at(which, parts, minute)
