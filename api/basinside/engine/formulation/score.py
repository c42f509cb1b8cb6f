"""What a mix is worth on a head that is not known exactly."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from ...contract.formulations import Coverage
from ...contract.wishes import Wish
from ..colour.difference import delta_e_2000, residual_from
from ..colour.lab import LabTuple
from ..hair.head import Heads
from ..timing.coverage import MUCH_WHITE, must_cover
from ..timing.development import Development
from ..timing.strip import dry_words, words_if_rinsed
from ..timing.window import Landing, best_landing, landing_on
from .coverage import coverage_of
from .lineups import LineUp, Portions
from .project import Residual

AsWeighed = tuple[float, frozenset[tuple[str, int]]]

_STRIDE_MIN = 3
_HALF = 0.5
_SAME_LEVEL = 0.25


def _tone_of(words: str) -> str:
    """Return "rose beige" of "level 9, rose beige"."""
    return words.split(", ", 1)[-1]


@dataclass(frozen=True)
class Question:
    """The heads that get the mix, each with its share of the hair, and the wish for them all."""

    heads: Sequence[tuple[float, Heads]]
    wish: LabTuple
    tolerance: float
    asked: Wish | None = None  # the wish as it was worded

    @property
    def lifted(self) -> bool:
        """Return whether the hair is lifted hair."""
        return self.heads[0][1].centre.lifted

    @cached_property
    def tone(self) -> str:
        """Return the tone of the wish in words, as it would be read on this hair."""
        head = self.heads[0][1].centre
        return _tone_of(dry_words(self.wish, 1.0 if head.lifted else head.white_share))

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
    misses: dict[int, float] = field(default_factory=dict)

    def with_a_minute_of_its_own(self) -> "Standing":
        """Return a copy of the mix that is settled by itself and keeps what is known of it."""
        other = replace(self, landings={})
        vars(other).update({**vars(self), "landings": other.landings})
        return other

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
    def as_weighed(self) -> AsWeighed:
        """Return the strength of the developer and the dyed parts: alike for the same mix."""
        return self.peroxide_percent, frozenset(self.dyed_parts.items())

    @cached_property
    def peroxide_percent(self) -> float:
        """Return the strength of the developer in the bowl, 0 without."""
        return self.development.bowl.peroxide_percent

    @cached_property
    def lines(self) -> frozenset[str]:
        """Return the lines of what is in the bowl."""
        return frozenset(p.line for p, _ in self.line_up.parts_of(self.portions))

    @cached_property
    def words(self) -> str:
        """Return the dry colour at the minute settled on, in words."""
        head = self.question.heads[0][1].centre
        lab = self.development.if_rinsed(head, self.minute)
        return words_if_rinsed(self.development, head, lab, self.minute)

    @property
    def tone(self) -> str:
        """Return the tone of the dry colour in words, without its level."""
        return _tone_of(self.words)

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
        if minute not in self.misses:
            q = self.question
            self.misses[minute] = sum(
                share * delta_e_2000(q.wish, self.development.if_rinsed(heads.centre, minute))
                for share, heads in q.heads
            )
        return self.misses[minute]

    def landing(self, minute: int) -> Landing:
        """Return expected ΔE and chance at a minute."""
        if minute not in self.landings:
            q = self.question
            each = [
                (
                    share,
                    landing_on(heads, self.development, minute, q.residual, q.tolerance),
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
        """Find a minute of low expected ΔE near the one it has, to within a stride.

        The minute itself brings up to 0.2 more: see `settle_to_the_minute`.
        """
        self._settle_by(_STRIDE_MIN)

    def settle_to_the_minute(self) -> None:
        """Find the minute of lowest expected ΔE near the one it has."""
        self._settle_by(1)

    def _settle_by(self, stride_min: int) -> None:
        """Walk downhill in strides.

        What is expected falls to one best minute and rises again, so once one side is lower the
        other needs no look.
        """
        first, last = self.minutes[0], self.minutes[-1]
        at = start = min(last, max(first, self.minute))
        side_min = stride_min if self._later_looks_lower(at) else -stride_min
        for step in (side_min, -side_min):
            while (beyond := min(last, max(first, at + step))) != at:
                if best_landing([self.landing(at), self.landing(beyond)]).minute == at:
                    break
                at = beyond
            if at != start:
                break
        self._settle_at(at)

    def _later_looks_lower(self, minute: int) -> bool:
        """Return whether the looks taken a stride away say so; else it is seldom so."""
        later = self.landings.get(minute + _STRIDE_MIN)
        earlier = self.landings.get(minute - _STRIDE_MIN)
        return later is not None and (earlier is None or later.expected < earlier.expected)

    def _settle_at(self, minute: int) -> None:
        if minute != self.minute:
            self.minute = minute
            for of_the_minute in ("words", "coverage"):
                self.__dict__.pop(of_the_minute, None)

    def settle_of_all(self) -> None:
        """Find the minute of lowest expected ΔE of all that leaflets and limits allow."""
        self._settle_at(best_landing([self.landing(t) for t in self.minutes]).minute)

    @property
    def late(self) -> Landing:
        """Return the landing three minutes late, or at the last minute that leaflets allow.

        One pair of hands is that late. Early it never needs to be: it can wait.
        """
        return self.landing(min(self.minutes[-1], self.minute + _STRIDE_MIN))

    @property
    def waits(self) -> bool:
        """Return whether half the chance is left three minutes late."""
        return self.late.chance >= _HALF * self.here.chance

    @property
    def here(self) -> Landing:
        """Return the landing at the minute settled on."""
        return self.landing(self.minute)

    @cached_property
    def coverage(self) -> Coverage | None:
        """Return how the mix leaves white hair at the minute settled on; None without white."""
        parts = self.line_up.parts_of(self.portions)
        head, wish = self.question.heads[0][1].centre, self.question.wish
        return coverage_of(self.development, parts, head, self.minute, wish)

    @property
    def covers_much_white(self) -> bool:
        """Return whether there is much white hair to cover, and this class and strength cover."""
        head = self.question.heads[0][1].centre
        return self.line_up.covers_white and must_cover(head, MUCH_WHITE)

    @property
    def half_natural(self) -> bool:
        """Return whether at least half of the colour is a natural shade."""
        return self.line_up.half_natural(self.portions)

    @cached_property
    def label_is_the_wish(self) -> bool:
        """Return whether most of the colour is a tube whose label says what is wished for."""
        asked = self.question.asked
        if asked is None or asked.level is None or asked.tone is None:
            return False
        member, parts = max(self.portions, key=lambda part: part[1])
        tube = self.line_up.members[member]
        return (
            2 * parts >= sum(n for _, n in self.portions)
            and abs(tube.level - asked.level) <= _SAME_LEVEL
            and set(tube.tone) == set(asked.tone)
        )

    def rank(self) -> tuple[float, int, bool, float, int, str, tuple[str, ...]]:
        """Return the order of answers: expected ΔE to 4 places, then the simpler and cheaper."""
        return (
            round(self.here.expected, 4),
            len(self.portions),
            self.cost is None,
            self.cost or 0.0,
            self.minute,
            self.line_up.product_class,
            self._ids,
        )

    @cached_property
    def _ids(self) -> tuple[str, ...]:
        return tuple(sorted(p.id for p, _ in self.line_up.parts_of(self.portions)))
