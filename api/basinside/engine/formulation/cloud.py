"""The colours a shelf can make on one head: many mixes at a few minutes, tried once.

A formulation looks for one wish. A field of wishes asks the same shelf and hair a hundred times,
so the colours of its single products and pairs are worked out first. Each wish then starts from
those nearest to it (`reach`).
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from heapq import nsmallest
from itertools import combinations
from math import inf

from ...contract.products import Product
from ..colour.difference import slopes_at
from ..colour.lab import LabTuple
from ..hair.head import Head
from ..products.tones import CLEAR
from .lineups import LineUp, Portions
from .project import Projection, Residual

_MINUTES = 3
_STRENGTHS = (0.08, 0.15, 0.25, 0.4, 0.6, 0.8, 1.0)  # of the bowl, the rest is clear
_PAIR_SHARES = (0.2, 0.5, 0.8)
_PAIR_STRENGTHS = (0.4, 1.0)
_MOST_PAIRS = 10_000
_GOLDEN = 0.6180339887498949
_BAND_L = (6.0, 12.0, 200.0)  # lightness either side: the next where too few lie inside
_ENOUGH = 40
_GRAIN = 0.7  # CIELAB: nearer than this two mixes are one place to start from
_LIGHTNESS_SHARE, _CHROMA_SHARE = 0.6, 0.0006
_ARROW_SHARE = 0.25
_FILLINGS = 6


_Mix = tuple[int, Portions, int, float]  # line-up, parts, minute, lightest label


@dataclass(frozen=True, slots=True)
class Point:
    """A mix at a minute and the dry colour it leaves, on the coarse bands of the search."""

    lab: LabTuple
    line_up: int
    portions: Portions
    minute: int
    label: float  # the lightest label in it


@dataclass
class Colours:
    """One line-up on one head: the dry colour of any of its mixes at any minute."""

    line_up: LineUp
    head: Head
    projections: dict[int, Projection] = field(default_factory=dict)
    known: dict[tuple[Portions, int], LabTuple] = field(default_factory=dict)
    _members: dict[tuple[int, float], list[int]] = field(default_factory=dict)
    _arrows: dict[tuple[int, int], LabTuple] = field(default_factory=dict)

    def lab(self, portions: Portions, minute: int) -> LabTuple:
        """Return the dry L*a*b* of a mix rinsed at a minute."""
        key = (portions, minute)
        if key not in self.known:
            self.known[key] = self._at(minute).miss_of_parts(portions)
        return self.known[key]

    def arrow(self, member: int, minute: int) -> LabTuple:
        """Return what one part of a member does to the bare hair's L*a*b*, near a small amount."""
        key = (member, minute)
        if key not in self._arrows:
            parts = max(1, round(_ARROW_SHARE * self.line_up.whole))
            l, a, b = self.lab(((member, parts),), minute)
            m, c, d = self.lab((), minute)
            self._arrows[key] = ((l - m) / parts, (a - c) / parts, (b - d) / parts)
        return self._arrows[key]

    def members_at(self, minute: int, lightest_label: float) -> list[int]:
        """Return the members whose leaflet has this minute and whose label is not too light."""
        key = (minute, lightest_label)
        if key not in self._members:
            self._members[key] = [
                m
                for m, p in enumerate(self.line_up.members)
                if p.window.min <= minute <= p.window.max and label_of(p) <= lightest_label
            ]
        return self._members[key]

    def _at(self, minute: int) -> Projection:
        if minute not in self.projections:
            self.projections[minute] = Projection(self.line_up, minute, self.head, _itself)
        return self.projections[minute]


@dataclass(frozen=True)
class _Allowed:
    """Points by their lightness, and their L* alone."""

    points: list[Point]
    lightness: list[float]


class Cloud:
    """Points of a shelf on one head, to be asked which lie nearest to a colour."""

    def __init__(self, lines: Sequence[LineUp], head: Head, max_products: int) -> None:
        self.colours = [Colours(line_up, head) for line_up in lines]
        every = list(_mixes(lines, max_products))
        singles = [mix for mix in every if len(mix[1]) == 1]
        pairs = _spread_out([mix for mix in every if len(mix[1]) > 1], _MOST_PAIRS)
        # where mixes look the same, one is kept: the first, which has the fewest products
        apart: dict[tuple[float, int, int, int], Point] = {}
        for i, portions, minute, label in (*singles, *pairs):
            lab = self.colours[i].lab(portions, minute)
            l, a, b = (round(x / _GRAIN) for x in lab)
            apart.setdefault((label, l, a, b), Point(lab, i, portions, minute, label))
        self._points = sorted(
            apart.values(), key=lambda p: (p.lab, p.line_up, p.minute, p.portions)
        )
        self._by_label: dict[float, _Allowed] = {}

    def nearest(self, lab: LabTuple, lightest_label: float, count: int) -> list[Point]:
        """Return up to `count` points nearest to a colour, none of a lighter label than this."""
        allowed = self._allowed(lightest_label)
        l, a, b = lab
        weight = 1.0 / (1.0 + _CHROMA_SHARE * (a * a + b * b))
        first, last = 0, 0
        for band in _BAND_L:
            first = bisect_left(allowed.lightness, l - band)
            last = bisect_right(allowed.lightness, l + band)
            if last - first >= _ENOUGH:
                break
        # a quick stand-in for CIEDE2000, squared: chroma counts less where there is much
        apart = []
        for place in range(first, last):
            m, c, d = allowed.points[place].lab
            off = (l - m) * (l - m) * _LIGHTNESS_SHARE
            apart.append((off + ((a - c) * (a - c) + (b - d) * (b - d)) * weight, place))
        return [allowed.points[place] for _, place in nsmallest(count, apart)]

    def _allowed(self, lightest_label: float) -> _Allowed:
        if lightest_label not in self._by_label:
            points = [p for p in self._points if p.label <= lightest_label]
            self._by_label[lightest_label] = _Allowed(points, [p.lab[0] for p in points])
        return self._by_label[lightest_label]

    def fillings(
        self,
        which: int,
        base: Portions,
        minute: int,
        residual: Residual,
        lightest_label: float,
    ) -> list[Portions]:
        """Return the likeliest mixes with one product more in what `base` leaves of the bowl.

        By a linear model of what each product alone does to bare hair, so only a guess.
        """
        colours = self.colours[which]
        line_up = colours.line_up
        room = line_up.whole - sum(n for _, n in base)
        taken = {m for m, _ in base}
        lab = colours.lab(base, minute)
        e0, e1, e2 = residual(lab)
        (a0, a1, a2), (b0, b1, b2), (c0, c1, c2) = slopes_at(residual, lab)
        likely = []
        for m in colours.members_at(minute, lightest_label):
            if m in taken or room < 1:
                continue
            x, y, z = colours.arrow(m, minute)
            s0, s1, s2 = (
                a0 * x + a1 * y + a2 * z,
                b0 * x + b1 * y + b2 * z,
                c0 * x + c1 * y + c2 * z,
            )
            n = room
            if line_up.clear is not None:
                n = round(-(e0 * s0 + e1 * s1 + e2 * s2) / (s0 * s0 + s1 * s1 + s2 * s2 + 1e-12))
                n = min(room, max(1, n))
            square = (e0 + n * s0) ** 2 + (e1 + n * s1) ** 2 + (e2 + n * s2) ** 2
            likely.append((round(square, 9), m, n))
        return [tuple(sorted((*base, (m, n)))) for _, m, n in nsmallest(_FILLINGS, likely)]


def label_of(product: Product) -> float:
    """Return the level on a tube's label; one whose dyes are given is taken by what it does."""
    return -inf if product.dyes is not None or CLEAR in product.tone else product.level


def _mixes(lines: Sequence[LineUp], max_products: int) -> Iterator[_Mix]:
    for i, line_up in enumerate(lines):
        labels = [label_of(p) for p in line_up.members]
        pairs = _of(line_up, 2) if max_products > 1 else ()
        for members in (*_of(line_up, 1), *pairs):
            span = line_up.minutes_of(members)
            if span is None or not line_up.may_mix(members):
                continue
            label = max(labels[m] for m in members)
            minutes = sorted(
                {
                    round(span.min + (span.max - span.min) * k / (_MINUTES - 1))
                    for k in range(_MINUTES)
                }
            )
            if len(members) > 1:  # a walk finds the minutes between
                minutes = minutes[1:]
            for portions in dict.fromkeys(_portions(line_up, members)):
                for minute in minutes:
                    yield i, portions, minute, label


def _spread_out(mixes: list[_Mix], most: int) -> list[_Mix]:
    """Return at most about so many, evenly spread over all: a large shelf has too many pairs.

    Steps of the golden ratio fall in step with no pattern in the list.
    """
    share = most / max(1, len(mixes))
    return [mix for k, mix in enumerate(mixes) if share >= 1 or (k * _GOLDEN) % 1.0 < share]


def _of(line_up: LineUp, count: int) -> Iterator[tuple[int, ...]]:
    return combinations(range(len(line_up.members)), count)


def _portions(line_up: LineUp, members: tuple[int, ...]) -> Iterator[Portions]:
    """Yield whole parts at each strength; a line-up without clear fills the bowl with dye."""
    whole = line_up.whole
    full = line_up.clear is None
    if len(members) == 1:
        for strength in (1.0,) if full else _STRENGTHS:
            yield ((members[0], max(1, round(strength * whole))),)
        return
    first, second = members
    for strength in (1.0,) if full else _PAIR_STRENGTHS:
        parts = max(2, round(strength * whole))
        if parts > whole:
            return
        for share in _PAIR_SHARES:
            n = min(parts - 1, max(1, round(share * parts)))
            yield (first, n), (second, parts - n)


def _itself(lab: LabTuple) -> LabTuple:
    return lab
