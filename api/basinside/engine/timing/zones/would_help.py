"""What would make impossible work possible. Every mend is tried before it is named."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations

from ....contract.schedules import Mend
from .best_order import is_possible
from .work import Job, Work


def alone_impossible(work: Work) -> list[int]:
    """Return the jobs that miss their window even when nothing else is done."""
    return [place for place, job in enumerate(work.jobs) if not is_possible(_only(work, [job]))]


def mends_of(work: Work) -> list[Mend]:
    """Return single changes that each make the work possible, the least trouble first."""
    return [
        *_more_hands(work),
        *_other_rinse(work),
        *_faster_rinse(work),
        *_faster_hands(work),
        *_own_rounds(work),
    ]


def faster_alone(work: Work, place: int) -> list[Mend]:
    """Return how fast a job must be put on so that it can be done by itself."""
    job = work.jobs[place]
    if job.on is not None:
        return []
    return _faster(_only(work, [job]), 0)


def _only(work: Work, jobs: list[Job]) -> Work:
    return replace(work, jobs=tuple(jobs))


def _more_hands(work: Work) -> Iterator[Mend]:
    if (
        work.hands == 1
        and work.to_put_on
        and len(work.jobs) > 1
        and is_possible(replace(work, hands=2))
    ):
        yield Mend("second_hands", "Let a second pair of hands put zones on beside you.", [])


def _other_rinse(work: Work) -> Iterator[Mend]:
    if len(work.jobs) == 1 or not is_possible(replace(work, shared=not work.shared)):
        return
    if work.shared:
        yield Mend("rinse_separate", "Rinse each zone by itself, when its own time has come.", [])
    else:
        yield Mend("rinse_shared", "Rinse all zones together, in one rinse.", [])


def _faster_rinse(work: Work) -> Iterator[Mend]:
    if work.shared or work.basin < 2:
        return
    basin = _most(lambda minutes: is_possible(replace(work, basin=minutes)), work.basin)
    if basin is not None:
        words = f"Take {basin} min or less for each rinse, not {work.basin}."
        yield Mend("rinse_faster", words, [], basin)


def _faster_hands(work: Work) -> Iterator[Mend]:
    """Yield the zones whose faster putting on would do, the smallest gain in speed first."""
    found = [mend for place in work.to_put_on for mend in _faster(work, place)]
    apply = {job.name: job.apply for job in work.jobs}
    yield from sorted(found, key=lambda mend: apply[mend.zones[0]] - (mend.minutes or 0))


def _faster(work: Work, place: int) -> list[Mend]:
    job = work.jobs[place]

    def possible_at(minutes: int) -> bool:
        jobs = [*work.jobs[:place], job.put_on_in(minutes), *work.jobs[place + 1 :]]
        return is_possible(_only(work, jobs))

    minutes = _most(possible_at, job.apply)
    if minutes is None:
        return []
    words = f"Put {job.name} on in {minutes} min or less, not {job.apply}."
    return [Mend("apply_faster", words, [job.name], minutes)]


def _most(possible_at: Callable[[int], bool], minutes: int) -> int | None:
    """Return the most minutes from 1 to below `minutes` that are possible: fewer are, too."""
    if minutes < 2 or not possible_at(1):
        return None
    fits, fails = 1, minutes
    while fails - fits > 1:
        middle = (fits + fails) // 2
        if possible_at(middle):
            fits = middle
        else:
            fails = middle
    return fits


def _own_rounds(work: Work) -> Iterator[Mend]:
    """Yield each choice of the fewest zones that, done by themselves, leave the rest possible."""
    under_way = len(work.to_put_on) < len(work.jobs)
    to_put_on = [work.jobs[place] for place in work.to_put_on]
    for count in range(1, min(len(work.jobs), len(to_put_on) + 1)):
        found = [
            chosen
            for chosen in combinations(to_put_on, count)
            if is_possible(_only(work, [job for job in work.jobs if job not in chosen]))
        ]
        for chosen in found:
            names = [job.name for job in chosen]
            each = "in a round of its own" if count == 1 else "each in a round of its own"
            turn = "after" if under_way else "before or after"
            words = f"Do {_listed(names)} {each}, {turn} the rest."
            yield Mend("own_round", words, names)
        if found:
            return


def _listed(names: list[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
