"""The work on one head: zones put on by one or two pairs of hands, then rinsed.

One round: every zone is on before the first is rinsed, since a rinse wets what is not on yet.
Putting on keeps one pair of hands. Rinses follow one another at one basin, or are all one
rinse. A zone's age runs from its last section on until its rinse starts. Whole minutes.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property


@dataclass(frozen=True, slots=True)
class Job:
    """One zone: minutes to put it on, and the ages at which it may, and best would, be rinsed.

    Where the leaflet counts from the first section on, the ages are less by the minutes it
    takes to put the zone on (`from_first`). `on` is the minute of its last section where it is on
    already, or is being put on: nothing moves it.
    """

    name: str
    apply: int
    earliest: int
    latest: int
    best: int
    from_first: bool = False
    on: int | None = None

    @property
    def head_start(self) -> int:
        """Return the zone's own clock as its last section is on."""
        return self.apply if self.from_first else 0

    def put_on_in(self, minutes: int) -> "Job":
        """Return the same zone put on in other minutes."""
        shift = self.head_start - (minutes if self.from_first else 0)
        return replace(
            self,
            apply=minutes,
            earliest=self.earliest + shift,
            latest=self.latest + shift,
            best=self.best + shift,
        )


@dataclass(frozen=True)
class Work:
    """All zones of a round. Jobs are spoken of by their place in `jobs`.

    What follows from them is found once: a search asks for it with every order it tries.
    """

    jobs: tuple[Job, ...]
    hands: int
    basin: int
    shared: bool
    now: int = 0

    @cached_property
    def to_put_on(self) -> list[int]:
        """Return the jobs that are not begun."""
        return [place for place, job in enumerate(self.jobs) if job.on is None]

    @cached_property
    def is_on(self) -> list[int]:
        """Return the jobs that are on, or being put on."""
        return [place for place, job in enumerate(self.jobs) if job.on is not None]

    @cached_property
    def begins(self) -> list[int]:
        """Return the minute each job is on, or could be at the soonest."""
        return [job.on or 0 for job in self.jobs]

    @cached_property
    def busy(self) -> list[int]:
        """Return the jobs that are being put on, the one that takes longest first."""
        on = self.begins
        return sorted((job for job in self.is_on if on[job] > self.now), key=lambda job: -on[job])

    @cached_property
    def free(self) -> list[int]:
        """Return the minute from which each pair of hands is free."""
        ends = [self.begins[job] for job in self.busy[: self.hands]]
        return ends + [self.now] * (self.hands - len(ends))

    @cached_property
    def first_rinse(self) -> int:
        """Return the minute before which nothing is rinsed, by what is on or begun."""
        return max([self.now, *(self.begins[job] for job in self.is_on)])


HandOrders = Sequence[Sequence[int]]  # for each pair of hands the jobs it puts on, in order
Spans = Sequence[tuple[int, int]]  # for each job the ages it must keep to


@dataclass(frozen=True, slots=True)
class Times:
    """When each job's last section is on, and when its rinse starts."""

    on: Sequence[int]
    rinsed: Sequence[int]

    def age(self, job: int) -> int:
        """Return the age of a job at its rinse."""
        return self.rinsed[job] - self.on[job]


def settled(
    work: Work, orders: HandOrders, rinses: Sequence[int], spans: Spans, to_come_min: int = 0
) -> Times | None:
    """Return the earliest times in which the work can be done in these orders, None for never.

    A system of difference constraints (Cormen et al., Introduction to Algorithms, 3rd ed.,
    §24.4): the earliest times are longest paths, found by relaxing until nothing moves. Only the
    oldest age a job may have leads backwards, and a path takes each such edge once. So a value that
    still moves after one pass more than there are jobs moves for ever.

    `rinses` may be the first few only, and `orders` too: `to_come_min` are then the minutes that
    the rest keeps the last hands, and None means that no continuation is possible.
    """
    on = list(work.begins)
    rinsed = [0] * len(work.jobs)
    applied = [*work.is_on, *(job for order in orders for job in order)]
    waiting = [job for job in applied if job not in rinses]
    for _ in range(len(applied) + 1):
        free = work.first_rinse
        for hands, order in enumerate(orders):
            hands_free = _put_on(work, order, on, work.free[hands])
            free = max(free, hands_free)
        free = max(free, hands_free + to_come_min)
        if work.shared:
            free = max([free, *(on[job] + spans[job][0] for job in applied)])
        free = _rinse(work, rinses, spans, on, rinsed, free)
        moved = False
        for job, starts in [*((j, rinsed[j]) for j in rinses), *((j, free) for j in waiting)]:
            if starts - spans[job][1] > on[job]:
                if work.jobs[job].on is not None:
                    return None
                on[job] = starts - spans[job][1]
                moved = True
        if not moved:
            return Times(on, rinsed)
    return None


def _put_on(work: Work, order: Sequence[int], on: list[int], clock: int) -> int:
    """Put jobs on one after the other from minute `clock`, none to be on sooner than in `on`.

    Returns when the hands are free.
    """
    for job in order:
        clock = on[job] = max(clock + work.jobs[job].apply, on[job])
    return clock


def _rinse(
    work: Work, rinses: Sequence[int], spans: Spans, on: list[int], rinsed: list[int], free: int
) -> int:
    """Rinse jobs from minute `free` on, each when it is old enough; return when all are."""
    for job in rinses:
        if work.shared:
            rinsed[job] = free
        else:
            rinsed[job] = max(free, on[job] + spans[job][0])
            free = rinsed[job] + work.basin
    return free
