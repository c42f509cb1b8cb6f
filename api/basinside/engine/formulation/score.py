"""What a mix is worth on a head that is not known exactly, and which mixes are shown."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from ...contract.formulations import Limits
from ..colour.difference import delta_e_2000, residual_from
from ..colour.lab import LabTuple
from ..timing.development import Development
from ..timing.strip import Heads
from ..timing.window import Landing, best_landing, landing_on
from .lineups import LineUp, Portions
from .project import Residual

SIMPLER_WITHIN = 0.3
_CHANCE_HIGHER = 0.10
_STRIDE_MIN = 3


@dataclass(frozen=True)
class Question:
    """The heads that get the mix, each with its share of the hair, and the wish for them all."""

    heads: Sequence[tuple[float, Heads]]
    wish: LabTuple
    tolerance: float

    @cached_property
    def residual(self) -> Residual:
        """Return the difference vector from the wish."""
        return residual_from(self.wish)


@dataclass
class Standing:
    """A mix with what it is worth at each minute asked about so far.

    Where other hair gets the same mix, every figure is the mean by share of hair.
    """

    line_up: LineUp
    portions: Portions
    question: Question
    landings: dict[int, Landing] = field(default_factory=dict)
    minute: int = 0

    @cached_property
    def development(self) -> Development:
        """Return the mix developing."""
        return Development(self.line_up.bowl_of(self.portions))

    @cached_property
    def minutes(self) -> range:
        """Return the whole minutes that leaflets and limits allow."""
        span = self.line_up.minutes_of([m for m, _ in self.portions])
        return range(span.min, span.max + 1) if span else range(0)

    @cached_property
    def dyed_parts(self) -> dict[str, int]:
        """Return the parts by product id, clear left out: one mix, whatever line-up found it."""
        return {self.line_up.members[m].id: n for m, n in self.portions}

    @cached_property
    def cost(self) -> float | None:
        """Return what the colour in the bowl costs, when every part has a price."""
        parts = self.line_up.parts_of(self.portions)
        prices = [p.price_per_100g for p, _ in parts]
        if any(price is None for price in prices):
            return None
        return sum((price or 0.0) * g / 100 for price, (_, g) in zip(prices, parts, strict=True))

    def delta_e(self, minute: int) -> float:
        """Return CIEDE2000 from the wish on the hair as described."""
        q = self.question
        return sum(
            share * delta_e_2000(q.wish, self.development.if_rinsed(heads.centre, minute))
            for share, heads in q.heads
        )

    def landing(self, minute: int) -> Landing:
        """Return expected ΔE and chance at a minute."""
        if minute not in self.landings:
            q = self.question
            each = [
                (
                    share,
                    landing_on(heads.possible, self.development, minute, q.residual, q.tolerance),
                )
                for share, heads in q.heads
            ]
            self.landings[minute] = Landing(
                minute,
                sum(share * at.expected for share, at in each),
                sum(share * at.chance for share, at in each),
            )
        return self.landings[minute]

    def settle(self) -> None:
        """Find the minute of lowest expected ΔE: every third one, then around the best."""
        tried = [*self.minutes[::_STRIDE_MIN], self.minutes[-1]]
        at = best_landing([self.landing(t) for t in tried]).minute
        near = [t for t in self.minutes if abs(t - at) < _STRIDE_MIN]
        self.minute = best_landing([self.landing(t) for t in near]).minute

    @property
    def here(self) -> Landing:
        """Return the landing at the minute settled on."""
        return self.landing(self.minute)

    def rank(self) -> tuple[float, int, bool, float, int, str, tuple[str, ...]]:
        """Return the order of answers: expected ΔE to 4 places, then the simpler and cheaper."""
        parts = self.line_up.parts_of(self.portions)
        return (
            round(self.here.expected, 4),
            len(self.portions),
            self.cost is None,
            self.cost or 0.0,
            self.minute,
            self.line_up.product_class,
            tuple(sorted(p.id for p, _ in parts)),
        )


def in_order(standings: Iterable[Standing]) -> list[Standing]:
    """Return standings lowest expected ΔE first, but the simplest of near-equals leading.

    Of the mixes within 0.3 of the lowest the one of fewest products leads, unless another of
    them has a chance higher by 0.10: then the lowest leads.
    """
    ordered = sorted(standings, key=Standing.rank)
    if not ordered:
        return []
    lowest = ordered[0].here.expected
    near = [s for s in ordered if s.here.expected <= lowest + SIMPLER_WITHIN]
    simplest = min(near, key=lambda s: (len(s.portions), s.rank()))
    if any(s.here.chance >= simplest.here.chance + _CHANCE_HIGHER for s in near):
        return ordered
    return [simplest, *(s for s in ordered if s is not simplest)]


def differ(first: Standing, second: Standing, share_of_parts: float) -> bool:
    """Return whether two mixes differ by a product, or by this share of the parts."""
    p, q = first.dyed_parts, second.dyed_parts
    if p.keys() != q.keys():
        return True
    clear = abs(sum(p.values()) - sum(q.values()))
    moved = (sum(abs(n - q[m]) for m, n in p.items()) + clear) / 2
    return moved >= share_of_parts * first.line_up.whole - 1e-9


def different(standings: Iterable[Standing], count: int, share_of_parts: float) -> list[Standing]:
    """Return the first `count` that differ from one another."""
    chosen: list[Standing] = []
    for standing in standings:
        if len(chosen) == count:
            break
        if all(differ(standing, other, share_of_parts) for other in chosen):
            chosen.append(standing)
    return chosen


def kept(
    standings: Sequence[Standing],
    lowest: Standing,
    near_classes: Sequence[str],
    limits: Limits,
) -> list[Standing]:
    """Return what is shown, in order.

    In this order up to `count`: the leader; the mix and minute of lowest ΔE on the hair as
    described; the best of each class in `near_classes`; the rest. Of two that are too alike
    the later gives way, but never the lowest.
    """
    ordered = in_order(standings)
    if limits.count == 1:
        return ordered[:1]
    bests: list[Standing] = []
    for name in near_classes:
        bests += in_order(s for s in standings if s.line_up.product_class == name)[:1]
    chosen: list[Standing] = []
    for standing in [*ordered[:1], lowest, *in_order(bests), *ordered]:
        if standing is lowest:
            chosen = [s for s in chosen if differ(s, lowest, 0.25)]
        elif not all(differ(standing, other, 0.25) for other in chosen):
            continue
        chosen.append(standing)
        if len(chosen) == limits.count:
            break
    return in_order(chosen)
