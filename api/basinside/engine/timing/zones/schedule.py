"""When each zone is put on and rinsed, or which zone cannot land and what would mend it."""

from msgspec import UNSET

from ....contract.schedules import (
    Mend,
    Miss,
    PutOn,
    ScheduleReply,
    ScheduleRequest,
    Step,
    Zone,
)
from ...refusal import Faults
from ...version import engine_version
from .best_order import Order, best_order, spans_at
from .work import Job, Spans, Times, Work, settled
from .would_help import alone_impossible, faster_alone, mends_of


def schedule(request: ScheduleRequest) -> ScheduleReply:
    """Return the steps in order and the least slack, or the zones that must miss and why.

    Work that is begun has its steps all the same, those of an order that misses by least.

    The order is one of most slack. Within it each zone, in order of rinses, comes as near to its
    best minute as the slack and the zones before it allow. Nothing waits for no reason.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    faults = Faults()
    _check(request, faults)
    faults.refuse_if_any()
    work = Work(
        jobs=tuple(_job(zone, request.now_min) for zone in request.zones),
        hands=request.hands,
        basin=request.basin_minutes,
        shared=request.rinse == "shared",
        now=request.now_min,
    )
    order = best_order(work)
    lands = order.slack >= 0
    times = _near_best(work, order) if lands else _near_windows(work, order)
    is_begun = len(work.to_put_on) < len(work.jobs)
    steps = _steps(work, order, times, request) if lands or is_begun else []
    return ScheduleReply(
        steps=steps,
        slack_min=order.slack if lands else None,
        impossible=[] if lands else _misses(work, times),
        engine_version=engine_version(),
        total_min=max((step.ends_min for step in steps), default=0),
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
        if zone.put_on is not UNSET:
            _check_put_on(zone.put_on, request.now_min, f"{at}/put_on", faults)


def _check_put_on(put_on: PutOn, now_min: int, at: str, faults: Faults) -> None:
    first, last = put_on.from_min, put_on.to_min
    if first > now_min:
        faults.add(
            f"{at}/from_min",
            f"It went on at minute {first}, and it is minute {now_min} now. Give the minute at"
            " which its first section went on, or leave it out.",
        )
    if last is not UNSET and not first <= last <= now_min:
        faults.add(
            f"{at}/to_min",
            f"Its last section is to be on at minute {last}: that lies outside {first} to"
            f" {now_min}, from its first section until now.",
        )


def _job(zone: Zone, now_min: int) -> Job:
    window = zone.window
    earliest, best, latest = window.earliest, window.best, window.latest
    if earliest is UNSET or best is UNSET or latest is UNSET:
        raise ValueError("a zone without a window has been refused before")
    from_first = zone.clock_from == "first_section"
    apply, on = zone.apply_min, None
    if zone.put_on is not UNSET:
        first, last = zone.put_on.from_min, zone.put_on.to_min
        # work that takes longer than planned may end at any moment
        on = max(now_min, first + apply) if last is UNSET else last
        apply = on - first
    shift = apply if from_first else 0
    return Job(zone.name, apply, earliest - shift, latest - shift, best - shift, from_first, on)


def _near_best(work: Work, order: Order) -> Times:
    spans = list(spans_at(work, order.slack))
    for place in order.rinses:
        best = work.jobs[place].best
        spans[place] = _nearest_to(work, order, spans, place, (best, best))
    return _settled(work, order, spans)


def _near_windows(work: Work, order: Order) -> Times:
    """Return times at which few zones miss, not all by as much as the worst."""
    spans = list(spans_at(work, order.slack))
    for place in order.rinses:
        job = work.jobs[place]
        spans[place] = _nearest_to(work, order, spans, place, (job.earliest, job.latest))
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


def _steps(work: Work, order: Order, times: Times, request: ScheduleRequest) -> list[Step]:
    steps: list[tuple[int, int, int, Step]] = []
    begun = [
        place
        for place, zone in enumerate(request.zones)
        if zone.put_on is not UNSET and zone.put_on.to_min is UNSET
    ]
    at_work = [[job] for job in sorted(begun, key=lambda job: -times.on[job])]
    for hands, jobs in [*enumerate(order.orders, start=1), *enumerate(at_work, start=1)]:
        for place in jobs:
            starts = times.on[place] - work.jobs[place].apply
            steps.append((starts, 0, place, _apply(work, times, place, min(hands, work.hands))))
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
    where = f"{slack} min inside" if slack >= 0 else f"{-slack} min outside"
    return Step(
        do="rinse",
        zone=job.name,
        starts_min=starts,
        ends_min=starts + work.basin,
        hands=1,
        words=f"Rinse {job.name} at its minute {developed}, {where} its window.",
        developed_min=developed,
        slack_min=slack,
    )


def _misses(work: Work, times: Times) -> list[Miss]:
    """Return the zones that miss at these times, each with what would mend it.

    Zones that cannot be done even by themselves are said alone: nothing else helps first.
    """
    if hopeless := alone_impossible(work):
        return [
            _miss(work.jobs[place], _alone_by(work, place), faster_alone(work, place))
            for place in hopeless
        ]
    mends = mends_of(work)
    off = {place: _off(job, times.age(place)) for place, job in enumerate(work.jobs)}
    return [
        _miss(work.jobs[place], by, _of(work.jobs[place], mends)) for place, by in off.items() if by
    ]


def _off(job: Job, age: int) -> int:
    """Return the minutes past the window (> 0) or before it (< 0)."""
    return max(0, age - job.latest) - max(0, job.earliest - age)


def _alone_by(work: Work, place: int) -> int:
    job = work.jobs[place]
    least_age = 0 if job.on is None else max(0, work.now - job.on)
    return max(1, least_age - job.latest)


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
