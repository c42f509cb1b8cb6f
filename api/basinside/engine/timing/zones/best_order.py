"""The order of work with the most slack, by exact search.

The slack of a zone is how many minutes its rinse lies inside its window, and that of the work
the least of all. Minutes are never tried: each order is a system of difference constraints
(`work.settled`), which says at once whether some minutes fit. Orders are built piece by piece,
and a beginning that cannot beat the best so far is left with all that would follow it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .work import HandOrders, Spans, Work, settled


@dataclass(frozen=True, slots=True)
class Order:
    """Who puts on what in which order, the order of rinses, and the slack that leaves."""

    orders: HandOrders
    rinses: Sequence[int]
    slack: int


def spans_at(work: Work, slack: int) -> Spans:
    """Return the ages that leave every zone this slack; negative slack widens the windows."""
    return [(job.earliest + slack, job.latest - slack) for job in work.jobs]


def best_order(work: Work) -> Order:
    """Return the order of most slack. Less than none: the zone that misses most, by how much."""
    least = most = min((job.latest - job.earliest) // 2 for job in work.jobs)
    # further and further down, since far above what can be done little is left untried
    while (found := _Search(work, least, most).run()) is None:
        most, least = least - 1, least - 2 * (1 + most - least)
    return found


def is_possible(work: Work) -> bool:
    """Return whether every zone can land inside its window."""
    return _Search(work, least=0, most=0).run() is not None


class _Search:
    """One depth-first search for the most slack between `least` and `most`."""

    def __init__(self, work: Work, least: int, most: int) -> None:
        self._work = work
        self._most = most
        self._best: Order | None = None
        self._aim(least)
        # what takes longest goes on first and is rinsed last: likely near the best
        self._likely = sorted(
            range(len(work.jobs)),
            key=lambda job: (-work.jobs[job].earliest - work.jobs[job].latest, job),
        )
        # hands of which one is still at work are told apart
        self._alike = len(set(work.free)) == 1

    def run(self) -> Order | None:
        """Return the order found, None for none of at least the least slack."""
        if self._wanted <= self._most:
            self._put_on(((),), frozenset(self._work.to_put_on))
        return self._best

    @property
    def _done(self) -> bool:
        return self._wanted > self._most

    def _aim(self, slack: int) -> None:
        self._wanted = slack
        self._spans = spans_at(self._work, slack)

    def _put_on(self, orders: tuple[tuple[int, ...], ...], rest: frozenset[int]) -> None:
        """Try every way to put on the rest: next by these hands, or by the next hands."""
        last_hands = len(orders) == self._work.hands
        to_come_min = sum(self._work.jobs[job].apply for job in rest) if last_hands else 0
        if self._done or not self._rinses_fit(orders, to_come_min):
            return
        if settled(self._work, orders, (), self._spans, to_come_min) is None:
            return
        if not rest:
            self._rinse(orders, (), self._before(orders))
            return
        *filled, filling = orders
        for job in self._likely:
            # hands are alike: the one who begins with the likelier zone counts as the first
            begun_by_other = (
                self._alike and not filling and filled and not self._likelier(filled[0][0], job)
            )
            if job in rest and not begun_by_other and not self._done:
                self._put_on((*filled, (*filling, job)), rest - {job})
        if not last_hands and (filling or not self._alike):
            self._put_on((*orders, ()), rest)

    def _rinses_fit(self, orders: HandOrders, to_come_min: int) -> bool:
        """Return whether the rinses, one after the other, could all be soon enough.

        From the first rinse on a job may wait by the difference between its oldest age and its
        least age then. Its hands still work in those minutes. Earliest deadline first (Jackson
        1955) meets all deadlines if any order does.
        """
        oldest = [span[1] for span in self._spans]
        first_rinse = self._work.now
        for hands, order in enumerate(orders):
            after_min = to_come_min if hands == len(orders) - 1 else 0
            for job in reversed(order):
                oldest[job] -= after_min
                after_min += self._work.jobs[job].apply
            first_rinse = max(first_rinse, self._work.free[hands] + after_min)
        for job in self._work.is_on:
            oldest[job] -= first_rinse - self._work.begins[job]
        basin = 0 if self._work.shared else self._work.basin
        return all(turn * basin <= most for turn, most in enumerate(sorted(oldest)))

    def _likelier(self, job: int, other: int) -> bool:
        return self._likely.index(job) < self._likely.index(other)

    def _before(self, orders: HandOrders) -> dict[int, set[int]]:
        """Return for each job those that may well be rinsed before it.

        One of two jobs may surely be on before the other, and its window, as an age, no later at
        either end. Then it is rinsed first: rinses are of one length, and swapping two in the other
        order breaks no window.
        """
        jobs, now = self._work.jobs, self._work.now
        is_on = [job for job in self._work.is_on if (jobs[job].on or 0) <= now]
        is_on.sort(key=lambda job: jobs[job].on or 0)
        chains = [(*is_on, *order) for order in orders]
        chains += [(*is_on, job) for job in self._work.busy]
        return {
            job: {
                other
                for other in chain[:place]
                if jobs[other].earliest <= jobs[job].earliest
                and jobs[other].latest <= jobs[job].latest
            }
            for chain in chains
            for place, job in enumerate(chain)
        }

    def _rinse(
        self, orders: HandOrders, rinses: tuple[int, ...], before: dict[int, set[int]]
    ) -> None:
        """Try every order of rinses that begins like this."""
        if self._work.shared:
            rinses = tuple(before)
        times = settled(self._work, orders, rinses, self._spans)
        if times is None:
            return
        if len(rinses) == len(before):
            self._keep(orders, rinses)
            return
        waiting = [job for job in before if job not in rinses]
        latest = {job: times.on[job] + self._work.jobs[job].latest for job in waiting}
        for job in sorted(waiting, key=lambda job: (latest[job], job)):
            if not before[job].difference(rinses):
                self._rinse(orders, (*rinses, job), before)
            if self._done:
                return

    def _keep(self, orders: HandOrders, rinses: Sequence[int]) -> None:
        """Keep an order that fits the slack wanted, at the most slack it has, and want more."""
        fits, fails = self._wanted, self._most + 1
        while fails - fits > 1:
            slack = (fits + fails) // 2
            if settled(self._work, orders, rinses, spans_at(self._work, slack)) is None:
                fails = slack
            else:
                fits = slack
        self._best = Order(orders, rinses, fits)
        self._aim(fits + 1)
