"""What each minute still to come is worth on a judged head, and whether another look would tell."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from ...contract.products import MinuteSpan
from ..colour.difference import residual_from
from ..colour.lab import LabTuple
from ..hair.head import Heads
from ..timing.coverage import minutes_that_count
from ..timing.development import Development
from ..timing.window import Landing, best_landing, landing

_UNSEEN = 0.03  # ΔE00: waiting for less is waiting for nothing
_WORTH_A_LOOK = 0.2  # ΔE00 that knowing each possible head's own best minute would save
_SOONEST_LOOK_MIN = 2


@dataclass(frozen=True)
class Outlook:
    """A judged head in the bowl: where each minute of the leaflet's would land it."""

    development: Development
    heads: Heads
    wish: LabTuple
    tolerance: float
    now: int

    @cached_property
    def span(self) -> MinuteSpan:
        """Return the leaflet's minutes; up to the shortest where leaflets have none in common."""
        bowl = self.development.bowl
        maker = bowl.maker or MinuteSpan(0, bowl.full_min)
        return minutes_that_count(bowl.product_class, self.heads.centre, maker)

    @cached_property
    def _misses(self) -> dict[int, list[LabTuple]]:
        residual = residual_from(self.wish)
        return {
            minute: [
                residual(self.development.if_rinsed(head, minute)) for head in self.heads.possible
            ]
            for minute in range(self.span.min, self.span.max + 1)
        }

    @cached_property
    def landings(self) -> list[Landing]:
        """Return the landing of each minute of the leaflet's, in order."""
        return [
            landing(
                minute,
                misses,
                self.tolerance,
                self.development.dry_doubt(self.heads, minute),
            )
            for minute, misses in self._misses.items()
        ]

    @cached_property
    def to_come(self) -> list[Landing]:
        """Return the landings not yet past; the last one when all are."""
        return [at for at in self.landings if at.minute >= self.now] or self.landings[-1:]

    @cached_property
    def best(self) -> Landing:
        """Return the minute to rinse at, of those still to come.

        The soonest that is worth as much as the best, as far as anyone could see.
        """
        best = best_landing(self.to_come)
        return next(at for at in self.to_come if at.expected <= best.expected + _UNSEEN)

    def look_again_at(self) -> int | None:
        """Return when another look would tell what to do; None when it would change nothing.

        A look is worth it when rinsing each possible head at its own best minute would land nearer
        by a fifth of a ΔE00. It comes before the minute by which the quick heads are done.
        """
        minutes = [at.minute for at in self.to_come]
        by_head = list(zip(*(self._distances(minute) for minute in minutes), strict=True))
        here = minutes.index(self.best.minute)
        own = [distances.index(min(distances)) for distances in by_head]
        saved = sum(d[here] - d[i] for d, i in zip(by_head, own, strict=True)) / len(by_head)
        if saved < _WORTH_A_LOOK:
            return None
        quick = sorted(minutes[i] for i in own)[len(own) // 4]
        at = max(self.now + _SOONEST_LOOK_MIN, min(quick, self.best.minute - 1))
        return at if at < self.best.minute else None

    def _distances(self, minute: int) -> Sequence[float]:
        return [hypot(*miss) for miss in self._misses[minute]]
