"""The search: the mixes and minutes of a shelf that come closest to a wish on one head.

Per line-up, at a few minutes: the best mixture in any shares and a linear model around it
(`project`). From it come the sets of products whose closest point is inside them (`simplices`).
Those are refined on the real colour and brought to whole parts
(`whole_parts`). Then the best sets are brought to
whole parts at every minute, and the best mixes walked part by part. Their products are exchanged
one at a time, and the best slides along its valley as long as it improves. Nothing
depends on chance or on the order of a set.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from heapq import nsmallest
from itertools import product
from math import inf

from ..hair.head import Head
from ..products.nonnegative import nearest_mixture
from .lineups import LineUp, Portions
from .project import Projection, Residual, length
from .simplices import Candidate, candidates
from .strengths import strengths_worth_weighing
from .whole_parts import neighbours, weighable

_MINUTES_TRIED = 6
_ROUNDS_FIRST, _ROUNDS_NEXT, _ROUNDS_BETWEEN = 6, 3, 1
_LIVE_WITHIN = 0.6
_LIVE_MINUTES = 2  # every minute is refined later on
_LEADS_WITHIN = 0.3
_LEAST_EFFORT, _LEAST_SHARE, _HALF = 0.2, 2 / 3, 0.5
_SETS_WITHIN, _ANY_DISTANCE = 1.5, 1e9
_FEW_SETS = 60
_HOPELESS_MISS = 6.0
_BUDGET = 700  # sets refined
_STOP_BEYOND = 0.5
_GOOD_ENOUGH = 0.02
_SETS_AT_EVERY_MINUTE = 16
_WALKED = 24
_EXCHANGED = 16
_WALK_WITHIN = 0.1
_SLID, _SLID_TO = 8, 8
_SLIDE_SHARE = 10  # a tenth of the bowl either way
_KEPT = 200
_COVERED_FROM, _COVERED, _COVERING_KEPT = 12, 6, 30


@dataclass(frozen=True, slots=True)
class Found:
    """A mix at a minute; `miss` is its ΔE on the coarse bands of the search."""

    miss: float
    line_up: LineUp
    portions: Portions
    minute: int


@dataclass
class _Tally:
    """What one line-up's minutes have scored so far."""

    line_up: LineUp
    head: Head
    residual: Residual
    max_products: int
    projections: dict[int, Projection] = field(default_factory=dict)
    scores: dict[tuple[Portions, int], float] = field(default_factory=dict)
    rows: list[tuple[float, int, int, Portions]] = field(default_factory=list)

    def at(self, minute: int) -> Projection:
        if minute not in self.projections:
            self.projections[minute] = Projection(self.line_up, minute, self.head, self.residual)
        return self.projections[minute]

    def relaxed_at(self, minute: int) -> Projection:
        """Return the projection of a minute with its linear model, from the minute nearest it."""
        projection = self.at(minute)
        if not projection.arrows:
            known = [t for t, p in self.projections.items() if p.arrows]
            start = min(known, key=lambda t: (abs(t - minute), t))
            projection.relax(self.projections[start].at, _ROUNDS_BETWEEN)
        return projection

    def score(self, portions: Portions, minute: int) -> float:
        key = (portions, minute)
        miss = self.scores.get(key)
        if miss is None:
            miss = self.scores[key] = length(self.at(minute).miss_of_parts(portions))
            self.rows.append((round(miss, 9), len(portions), minute, portions))
        return miss

    def best(self, count: int, covering: bool = False) -> list[tuple[float, Portions, int]]:
        """Return the closest mixes; where asked, of those natural enough to cover white hair."""
        rows = self.rows
        if covering:
            rows = [row for row in rows if self.line_up.half_natural(row[-1])]
        return [(miss, portions, minute) for miss, _, minute, portions in nsmallest(count, rows)]


def search(
    lines: Sequence[LineUp], head: Head, residual: Residual, max_products: int, tolerance: float
) -> list[Found]:
    """Return mixes and minutes, closest first within each class, the classes one after another.

    A class that cannot come within tolerance is searched only if it is the closest of all. Where
    no mix lands at the strengths worth weighing, every strength that might is searched too.
    """
    tallies = [_Tally(line_up, head, residual, max_products) for line_up in lines]
    relaxed = [
        [(p.distance, i, p.minute) for p in _relaxed(tally)] for i, tally in enumerate(tallies)
    ]
    closest_by_line_up = [min(found)[0] if found else inf for found in relaxed]
    worth = strengths_worth_weighing(lines, closest_by_line_up)
    found = _searched(tallies, [relaxed[i] for i in worth], tolerance)
    if min((mix.miss for mix in found), default=inf) > tolerance:
        # many products together came close at those strengths, but no few of them do
        others = [
            i for i, off in enumerate(closest_by_line_up) if off <= tolerance and i not in worth
        ]
        found += _searched(tallies, [relaxed[i] for i in others], tolerance)
    return found


def _searched(
    tallies: Sequence[_Tally], relaxed: Sequence[list[tuple[float, int, int]]], tolerance: float
) -> list[Found]:
    """Return the mixes of some line-ups, each given as its relaxed (distance, tally, minute)."""
    by_class: dict[str, list[tuple[float, int, int]]] = {}
    for rows in relaxed:
        for row in rows:
            by_class.setdefault(tallies[row[1]].line_up.product_class, []).append(row)
    closest_of = {name: min(rows)[0] for name, rows in by_class.items()}
    nearest = min(closest_of.values(), default=0.0)
    leading = sum(closest <= nearest + _LEADS_WITHIN for closest in closest_of.values())

    found: list[Found] = []
    for name, rows in by_class.items():
        closest = closest_of[name]
        if closest > max(tolerance, nearest) + _LIVE_WITHIN:
            continue
        # what effort there is goes to the classes that may hold the closest mix of all
        effort = max(1 / leading if closest <= nearest + _LEADS_WITHIN else 0.0, _LEAST_EFFORT)
        live = _live(tallies, sorted(rows), closest)
        _refine(
            [(tallies[i], tallies[i].at(minute)) for _, i, minute in live],
            closest,
            round(effort * _BUDGET),
        )
        for tally in (tallies[i] for i in sorted({i for _, i, _ in live})):
            stride_min = 1 if effort > _HALF else 2
            _every_minute(tally, round(effort * _SETS_AT_EVERY_MINUTE), stride_min)
            _walk(tally, _share(effort, _WALKED))
            _exchange(tally, _share(effort, _EXCHANGED))
            _slide(tally, _share(effort, _SLID))
            kept = tally.best(_KEPT)
            if tally.line_up.covers_white:
                _cover(tally)
                kept = list(dict.fromkeys([*kept, *tally.best(_COVERING_KEPT, covering=True)]))
            found += [
                Found(miss, tally.line_up, portions, minute) for miss, portions, minute in kept
            ]
    return found


def _share(effort: float, of: int) -> int:
    """Return how much of a step a class gets; two thirds at least, or it would miss its best."""
    return round(max(effort, _LEAST_SHARE) * of)


def _live(
    tallies: Sequence[_Tally], rows: Sequence[tuple[float, int, int]], closest: float
) -> list[tuple[float, int, int]]:
    """Return the (distance, tally, minute) rows to refine.

    The first few near the closest, and as many more as it takes for every product's leaflet
    to have one of its minutes among them.
    """
    live: list[tuple[float, int, int]] = []
    seen: set[tuple[int, int]] = set()
    for row in rows:
        distance, i, minute = row
        here = {(i, member) for member in tallies[i].at(minute).available}
        if (len(live) < _LIVE_MINUTES and distance <= closest + _LIVE_WITHIN) or here - seen:
            live.append(row)
            seen |= here
    return live


def _relaxed(tally: _Tally) -> list[Projection]:
    """Return the line-up's projections at a few minutes spread over its window, relaxed."""
    alone = (tally.line_up.minutes_of([i]) for i in range(len(tally.line_up.members)))
    spans = [span for span in alone if span is not None]
    if not spans:
        return []
    first, last = min(s.min for s in spans), max(s.max for s in spans)
    relaxed: list[Projection] = []
    for minute in _spread(first, last):
        projection = tally.at(minute)
        if not any(v != projection.clear for v in projection.available):
            continue
        start = relaxed[-1].at if relaxed else {}
        projection.relax(start, _ROUNDS_NEXT if relaxed else _ROUNDS_FIRST)
        relaxed.append(projection)
    return relaxed


def _spread(first: int, last: int) -> list[int]:
    """Return up to six minutes from first to last, closer together early, where more happens."""
    if last < first:
        return []
    ratio = (last + 1) / (first + 1)
    steps = _MINUTES_TRIED - 1
    return sorted({round((first + 1) * ratio ** (k / steps)) - 1 for k in range(steps + 1)})


def _refine(live: Sequence[tuple[_Tally, Projection]], closest: float, budget: int) -> None:
    """Bring the most promising sets to whole parts on the real colour."""
    pool: list[tuple[float, float, int, Candidate]] = []
    for which, (tally, projection) in enumerate(live):
        near = candidates(projection, tally.max_products, closest + _SETS_WITHIN)
        if len(near) < _FEW_SETS:  # many products together come close, but no few of them do
            near = candidates(projection, tally.max_products, _ANY_DISTANCE)
        pool += [(round(c.distance, 9), round(c.grain, 9), which, c) for c in near]
    pool.sort(key=lambda row: (*row[:3], row[3].vertices))
    best = 1e9
    done = 0
    sparse = len(pool) < budget // 4
    for distance, _, which, candidate in pool:
        if done >= budget or distance > best + _STOP_BEYOND:
            break
        if best < _GOOD_ENOUGH and done > budget // 3:
            break
        tally, projection = live[which]
        if projection.line_up.may_mix([v for v in candidate.vertices if v != projection.clear]):
            best = min(best, _refine_one(tally, projection, candidate, 1 if sparse else 0))
            done += 1
    # single products are the simplest answers: none is left out for the budget's sake
    for _, _, which, candidate in pool:
        if len(candidate.vertices) == 1:
            tally, projection = live[which]
            tally.score(((candidate.vertices[0], projection.line_up.whole),), projection.minute)


def _refine_one(tally: _Tally, projection: Projection, candidate: Candidate, reach: int) -> float:
    vertices = candidate.vertices
    shares = [max(s, 0.0) for s in candidate.shares]
    total = sum(shares)
    shares = [s / total for s in shares]
    miss = projection.miss_of(list(zip(vertices, shares, strict=True)))
    if length(miss) > _HOPELESS_MISS + candidate.distance:
        return 1e9
    scores = [
        tally.score(portions, projection.minute)
        for portions in weighable(projection, vertices, shares, miss, reach, keep=4)
        if portions != ((projection.clear, projection.line_up.whole),)
    ]
    return min(scores, default=1e9)


def _every_minute(tally: _Tally, sets: int, stride_min: int) -> None:
    """Bring the most promising sets of products to whole parts at every whole minute.

    Or at every second one and the last, where classes share the effort.
    """
    chosen = dict.fromkeys(tuple(m for m, _ in p) for _, p, _ in tally.best(_WALKED))
    for members in list(chosen)[:sets]:
        span = tally.line_up.minutes_of(members)
        if span is None:
            continue
        for minute in sorted({*range(span.min, span.max, stride_min), span.max}):
            projection = tally.relaxed_at(minute)
            vertices = members if projection.clear is None else (*members, projection.clear)
            shares = nearest_mixture([projection.corners[v] for v in vertices])
            used = [(v, s) for v, s in zip(vertices, shares, strict=True) if s > 0]
            _refine_one(
                tally, projection, Candidate(0.0, 0.0, *map(tuple, zip(*used, strict=True))), 0
            )


def _walk(tally: _Tally, count: int) -> None:
    """Walk the best mixes downhill, one part at a time."""
    for _, portions, minute in tally.best(count):
        _walk_parts(tally, portions, minute)


def _walk_parts(tally: _Tally, portions: Portions, minute: int, covering: bool = False) -> None:
    has_clear = tally.line_up.clear is not None
    miss = tally.score(portions, minute)
    while True:
        around = neighbours(portions, tally.line_up.whole, has_clear)
        if covering:
            around = [p for p in around if tally.line_up.half_natural(p)]
        nearest = min(((tally.score(p, minute), p) for p in around), default=(1e9, portions))
        if nearest[0] >= miss - 1e-9:
            return
        miss, portions = nearest


def _exchange(tally: _Tally, count: int) -> None:
    """Exchange one product of the best mixes for any other, or add one, where that is closer."""
    best = tally.best(count)
    closest = best[0][0]
    if closest < _GOOD_ENOUGH:
        return
    for _, portions, minute in best:
        projection = tally.relaxed_at(minute)
        taken = {m for m, _ in portions}
        others = [v for v in projection.available if v not in taken and v != projection.clear]
        bases = [portions[:i] + portions[i + 1 :] for i in range(len(portions))]
        if len(portions) < tally.max_products and projection.clear is not None:
            bases.append(portions)
        for base in bases:
            _fill_gap(tally, projection, base, others, closest + _WALK_WITHIN)


def _fill_gap(
    tally: _Tally,
    projection: Projection,
    base: Portions,
    others: Sequence[int],
    walk_below: float,
) -> None:
    """Score the likeliest fillings of what `base` leaves of the bowl, by the linear model."""
    whole, clear = tally.line_up.whole, projection.clear
    room = whole - sum(n for _, n in base)
    e0, e1, e2 = projection.miss_of_parts(base) if base else projection.origin
    likely = []
    for v in others:
        if room < 1:
            break
        a0, a1, a2 = projection.arrows[v]
        s0, s1, s2 = a0 / whole, a1 / whole, a2 / whole
        n = room
        if clear is not None:
            n = round(-(e0 * s0 + e1 * s1 + e2 * s2) / (s0 * s0 + s1 * s1 + s2 * s2 + 1e-12))
            n = min(room, max(1, n))
        square = (e0 + n * s0) ** 2 + (e1 + n * s1) ** 2 + (e2 + n * s2) ** 2
        likely.append((round(square, 9), v, n))
    for _, v, n in nsmallest(6, likely):
        portions = tuple(sorted((*base, (v, n))))
        fits = tally.line_up.may_mix([m for m, _ in portions])
        if fits and tally.score(portions, projection.minute) < walk_below:
            _walk_parts(tally, portions, projection.minute)


def _cover(tally: _Tally) -> None:
    """Find the closest mixes that are half natural: the closest of all are seldom among them.

    Each natural shade takes half of each of the best mixes; the likeliest are then walked.
    """
    line_up, whole = tally.line_up, tally.line_up.whole
    natural = [m for m, _ in enumerate(line_up.members) if line_up.half_natural(((m, whole),))]
    found: set[tuple[Portions, int]] = set()
    for _, portions, minute in tally.best(_COVERED_FROM):
        others = [(m, n) for m, n in portions if m not in natural]
        rest = [others, *([part] for part in others if len(others) > 1)]
        for m, kept in product(natural, [r for r in rest if len(r) < tally.max_products]):
            room = (whole // 2) / max(whole // 2, sum(n for _, n in kept))
            fitted = [(v, max(1, int(n * room))) for v, n in kept]
            half = max(sum(n for _, n in fitted), -(-whole // 4))
            mix = tuple(sorted([(m, half), *fitted]))
            if sum(n for _, n in mix) <= whole and minute in _minutes(line_up, mix):
                found.add((mix, minute))
    scored = [(round(tally.score(*key), 9), *key) for key in sorted(found)]
    for _, portions, minute in nsmallest(_COVERED, scored):
        _walk_parts(tally, portions, minute, covering=True)


def _minutes(line_up: LineUp, portions: Portions) -> range:
    """Return the minutes that the leaflets of a mix allow; none where they forbid the mix."""
    members = [m for m, _ in portions]
    span = line_up.minutes_of(members) if line_up.may_mix(members) else None
    return range(span.min, span.max + 1) if span else range(0)


def _slide(tally: _Tally, count: int) -> None:
    """Move the best mixes by several parts at once.

    Products that nearly cancel make a valley: along it the colour hardly moves, and every
    single part leads up its side. On fine steps the closest mix may lie some parts away.
    """
    whole = tally.line_up.whole
    for miss, portions, minute in tally.best(count):
        projection = tally.relaxed_at(minute)
        while True:
            parts = list(portions)
            if projection.clear is not None:
                parts.append((projection.clear, whole - sum(n for _, n in portions)))
            around = weighable(
                projection,
                [m for m, _ in parts],
                [n / whole for _, n in parts],
                projection.miss_of_parts(portions),
                whole // _SLIDE_SHARE,
                _SLID_TO,
            )
            nearest = min((tally.score(p, minute), p) for p in around)
            if nearest[0] >= miss - 1e-9:
                break
            miss, portions = nearest
