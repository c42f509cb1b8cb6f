"""When each zone is put on and rinsed, or which zone cannot land and what would mend it."""

from msgspec import UNSET

from ....contract.schedules import (
    Mend,
    Miss,
    ScheduleReply,
    ScheduleRequest,
    Step,
    Zone,
)
from ...refusal import Faults
from ...version import engine_version
from .mends import alone_impossible, faster_alone, mends_of
from .search import Order, best_order, spans_at
from .work import Job, Spans, Times, Work, settled


def schedule(request: ScheduleRequest) -> ScheduleReply:
    """Return the steps in order and the least slack, or the zones that must miss and why.

    The order is one of most slack; within it each zone, in order of rinses, comes as near to
    its best minute as the slack and the zones before it allow, and nothing waits for no reason.

    Raises `Refused` with every place whose meaning is wrong.
    """
    faults = Faults()
    _check(request, faults)
    faults.refuse_if_any()
    work = Work(
        jobs=tuple(_job(zone) for zone in request.zones),
        hands=request.hands,
        basin=request.basin_minutes,
        shared=request.rinse == "shared",
    )
    order = best_order(work)
    if order.slack < 0:
        return ScheduleReply([], None, _misses(work, order), engine_version())
    times = _near_best(work, order)
    steps = _steps(work, order, times)
    return ScheduleReply(
        steps=steps,
        slack_min=order.slack,
        impossible=[],
        engine_version=engine_version(),
        total_min=max(step.ends_min for step in steps),
    )


def _check(request: ScheduleRequest, faults: Faults) -> None:
    names: set[str] = set()
    for i, zone in enumerate(request.zones):
        at = f"/zones/{i}"
        if zone.name in names:
            faults.add(f"{at}/name", f"Two zones are called “{zone.name}”. Give each its own name.")
        names.add(zone.name)
        window = zone.window
        three = (window.earliest, window.best, window.latest)
        if window.reason is not UNSET or UNSET in three:
            faults.add(
                f"{at}/window",
                f"{zone.name} has no window to land in. Give its earliest, best and latest minute.",
            )
        elif not three[0] <= three[1] <= three[2]:  # type: ignore[operator]
            faults.add(
                f"{at}/window",
                f"The window runs {three[0]}, {three[1]}, {three[2]}. Its earliest minute must not"
                " come after its best, nor its best after its latest.",
            )


def _job(zone: Zone) -> Job:
    window = zone.window
    earliest, best, latest = window.earliest, window.best, window.latest
    if earliest is UNSET or best is UNSET or latest is UNSET:
        raise ValueError("a zone without a window has been refused before")
    from_first = zone.clock_from == "first_section"
    shift = zone.apply_min if from_first else 0
    return Job(
        zone.name, zone.apply_min, earliest - shift, latest - shift, best - shift, from_first
    )


def _near_best(work: Work, order: Order) -> Times:
    spans = list(spans_at(work, order.slack))
    for place in order.rinses:
        best = work.jobs[place].best
        spans[place] = _nearest_to(work, order, spans, place, (best, best))
    return _settled(work, order, spans)


def _nearest_to(
    work: Work, order: Order, spans: Spans, place: int, aim: tuple[int, int]
) -> tuple[int, int]:
    """Return the narrowest span around `aim` that still lets the order be done."""
    widest = spans[place]
    trial = list(spans)
    for off in range(1 + max(abs(aim[0] - widest[0]), abs(aim[1] - widest[1]))):
        trial[place] = (max(widest[0], aim[0] - off), min(widest[1], aim[1] + off))
        if trial[place][0] <= trial[place][1] and settled(work, order.orders, order.rinses, trial):
            return trial[place]
    return widest


def _settled(work: Work, order: Order, spans: Spans) -> Times:
    times = settled(work, order.orders, order.rinses, spans)
    if times is None:
        raise ValueError("the search returns orders that can be done")
    return times


def _steps(work: Work, order: Order, times: Times) -> list[Step]:
    steps: list[tuple[int, int, int, Step]] = []
    for hands, jobs in enumerate(order.orders, start=1):
        for place in jobs:
            starts = times.on[place] - work.jobs[place].apply
            steps.append((starts, 0, place, _apply(work, times, place, hands)))
    for turn, place in enumerate(order.rinses):
        steps.append((times.rinsed[place], 1, turn, _rinse(work, times, place)))
    return [step for *_, step in sorted(steps, key=lambda row: row[:3])]


def _apply(work: Work, times: Times, place: int, hands: int) -> Step:
    job, ends = work.jobs[place], times.on[place]
    return Step(
        do="apply",
        zone=job.name,
        starts_min=ends - job.apply,
        ends_min=ends,
        hands=hands,
        words=f"Put {job.name} on: {job.apply} min.",
    )


def _rinse(work: Work, times: Times, place: int) -> Step:
    job, starts, age = work.jobs[place], times.rinsed[place], times.age(place)
    developed = age + job.head_start
    slack = min(age - job.earliest, job.latest - age)
    return Step(
        do="rinse",
        zone=job.name,
        starts_min=starts,
        ends_min=starts + work.basin,
        hands=1,
        words=f"Rinse {job.name} at its minute {developed}, {slack} min inside its window.",
        developed_min=developed,
        slack_min=slack,
    )


def _misses(work: Work, order: Order) -> list[Miss]:
    """Return the zones that miss in the least bad order, each with what would mend it.

    Zones that cannot be done even by themselves are said alone: nothing else helps first.
    """
    if hopeless := alone_impossible(work):
        return [
            _miss(work.jobs[place], _alone_by(work.jobs[place]), faster_alone(work, place))
            for place in hopeless
        ]
    spans = list(spans_at(work, order.slack))
    for place in order.rinses:  # as near its window as the others allow: few zones miss, not all
        job = work.jobs[place]
        spans[place] = _nearest_to(work, order, spans, place, (job.earliest, job.latest))
    times = _settled(work, order, spans)
    mends = mends_of(work)
    missing = {
        place: off for place in order.rinses if (off := _off(work.jobs[place], times.age(place)))
    }
    return [
        _miss(work.jobs[place], off, _of(work.jobs[place], mends))
        for place, off in sorted(missing.items())
    ]


def _off(job: Job, age: int) -> int:
    """Return the minutes past the window (> 0) or before it (< 0)."""
    return max(0, age - job.latest) - max(0, job.earliest - age)


def _alone_by(job: Job) -> int:
    return max(1, -job.latest)


def _of(job: Job, mends: list[Mend]) -> list[Mend]:
    """Return the mends that are of the whole work or of this zone, or all where none is."""
    return [m for m in mends if not m.zones or job.name in m.zones] or mends


def _miss(job: Job, off: int, mends: list[Mend]) -> Miss:
    by = abs(off)
    last, first = job.latest + job.head_start, job.earliest + job.head_start
    where = f"{by} min past its minute {last}" if off > 0 else f"{by} min before its minute {first}"
    return Miss(
        zone=job.name,
        by_min=by,
        direction="too_late" if off > 0 else "too_early",
        words=f"In the best order there is, {job.name} would be rinsed {where}.",
        mends=mends,
    )
