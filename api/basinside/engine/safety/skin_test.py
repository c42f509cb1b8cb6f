"""The skin alert test: which one counts, whether it is old enough, read, and still holds.

Age is elapsed time between stored moments: 48 h are 48 h whatever the clocks on the wall
did. Only the lapse goes by calendar days, since it is given in months.
"""

from typing import NamedTuple

from ...contract.safety import AlertTestState, House, LineCard, SafetyReviewRequest
from ...contract.safety_facts import AlertTest
from .conditions import NOT_ASKED, UNKNOWN, Ask, Known
from .instants import Moment, months_on, read_moment, text_of, text_of_day, words_of, words_of_age
from .times import HOUR_S, Times

LEAST_HOURS = 48.0  # FDA-QA, UK-AAT
# The longest any test is taken to hold where each service needs its own: the stricter of the
# two terms that UK-AAT and UK-AAT-3 give.
OUTER_MONTHS = 6
_UNREACTED = ("clear", "not_read")
_TATTOOED = ("yes_no_reaction", "yes_reaction", "unknown")


class OneTest(NamedTuple):
    """The test that one line of the bowl rests on, and its place in the request."""

    card: LineCard
    test: AlertTest
    at: int
    applied: Moment
    needs_s: float


class Tested(NamedTuple):
    """What the tests on file come to: facts for the rules, and words for the messages."""

    facts: dict[str, Known]
    state: AlertTestState
    words: dict[str, str]


def tested(request: SafetyReviewRequest, times: Times, needed: Known) -> Tested:
    """Return what the tests on file say about the lines of this bowl."""
    resting, bare = _tests_of_lines(request)
    tests = request.facts.tests
    facts = {
        "test_missing": _yes(bool(bare) and not tests),
        "test_other_line": _yes(bool(bare) and bool(tests)),
        "test_on_file": _yes(bool(resting)),
        "test_reacted": _yes(any(test.result not in _UNREACTED for test in tests)),
        "test_too_soon": _worst([_too_soon(one, times) for one in resting]),
        "test_unread": _worst([_unread(one, times) for one in resting]),
        "test_lapsed": _worst([_lapsed(one, request, times) for one in resting]),
        "test_used_before": _worst([_used(one) for one in resting]),
        "test_method_differs": _worst([_method_differs(one) for one in resting]),
        "test_applied_by": _applied_by(resting),
        "test_applied_at": Known(", ".join(one.test.applied_at for one in resting) or "none"),
        "tests_at_once": Known(float(_at_once(request))),
    }
    holding = ("test_reacted", "test_missing", "test_other_line", "test_too_soon", "test_unread",
               "test_lapsed")  # fmt: skip
    # Days before, a test that will be old enough by then may still wait to be read.
    was_read = all(one.test.result != "not_read" for one in resting)
    clear = bool(resting) and was_read and all(facts[name].value == "no" for name in holding)
    facts["test_clear"] = _yes(clear)
    return Tested(facts, _state(request, times, needed, facts, resting), _words(resting, times))


def last_day(test: AlertTest, house: House, now: Moment) -> int:
    """Return the last day, since 1970, on which a test may still be relied on.

    The months run from its day on the wall, where it was put on or where it is now: the earlier of
    the two. So the zone a record was written in never adds a day.
    """
    applied = read_moment(test.applied_at)
    months = house.test_validity.months if house.test_validity else OUTER_MONTHS
    return months_on(min(applied.local_day, applied.day_at(now.offset_min)), months)


def _tests_of_lines(request: SafetyReviewRequest) -> tuple[list[OneTest], list[LineCard]]:
    """Return the latest test of each line, and the lines that have none.

    The latest: a person who tests again has a reason, and an older clear test is no answer.
    """
    resting, bare = [], []
    for card in request.plan.lines:
        hours = (LEAST_HOURS, card.test.min_hours or 0, request.plan.house.test_min_hours or 0)
        own = [
            OneTest(card, test, at, read_moment(test.applied_at), max(hours) * HOUR_S)
            for at, test in enumerate(request.facts.tests)
            if _is_of(test, card)
        ]
        if own:
            resting.append(max(own, key=lambda one: one.applied.seconds))
        elif card.sensitiser != "no":
            bare.append(card)
    return resting, bare


def _is_of(test: AlertTest, card: LineCard) -> bool:
    if _plain(test.line) != _plain(card.line):
        return False
    pairs = ((test.maker, card.maker), (test.generation, card.generation))
    return all(not a or not b or _plain(a) == _plain(b) for a, b in pairs)


def _too_soon(one: OneTest, times: Times) -> Known:
    if times.clock_back:
        return Known(UNKNOWN)
    return _yes(times.at.seconds - one.applied.seconds < one.needs_s)


def _unread(one: OneTest, times: Times) -> Known:
    test = one.test
    due = times.now.seconds - one.applied.seconds >= one.needs_s
    if test.result == "not_read":
        return _yes(due)
    if test.result != "clear":
        return Known("no")
    if not test.read_by or (test.read_at is None and not test.from_paper):
        return Known("yes")
    early = test.read_at is not None and (
        read_moment(test.read_at).seconds - one.applied.seconds < one.needs_s
    )
    return _yes(early and due)


def _lapsed(one: OneTest, request: SafetyReviewRequest, times: Times) -> Known:
    if times.clock_back:
        return Known(UNKNOWN)
    most = one.card.test.max_hours
    if most is not None and times.at.seconds - one.applied.seconds > most * HOUR_S:
        return Known("yes")
    if times.at.local_day > last_day(one.test, request.plan.house, times.now):
        return Known("yes")
    # A black tattoo asks for a fresh test whatever the insurer allows (UK-AAT-2).
    each_service = (
        request.plan.house.test_validity is None or request.facts.black_tattoo in _TATTOOED
    )
    return _used(one) if each_service else Known("no")


def _used(one: OneTest) -> Known:
    value = one.test.used_before or NOT_ASKED
    return Known(value, (_ask("used_before", one, "used_before"),))


def _method_differs(one: OneTest) -> Known:
    test, leaflet = one.test, one.card.test
    pairs = ((test.site, leaflet.site), (test.method, leaflet.method))
    if any(done and wanted and _plain(done) != _plain(wanted) for done, wanted in pairs):
        return Known("yes")
    version = one.card.leaflet_version
    if test.leaflet_version and version and test.leaflet_version != version:
        return Known("yes")
    if any(wanted and not done for done, wanted in pairs):
        return Known(NOT_ASKED, (_ask("test_method", one, "method"),))
    return Known("no")


def _applied_by(resting: list[OneTest]) -> Known:
    for value in ("client", None, "unknown"):
        for one in resting:
            if one.test.applied_by == value:
                ask = (_ask("test_applied_by", one, "applied_by"),)
                return Known(value or NOT_ASKED, ask)
    return Known("salon")


def _at_once(request: SafetyReviewRequest) -> int:
    if request.plan.purpose == "test_dab":
        return len({_plain(card.line) for card in request.plan.lines})
    waiting = [test for test in request.facts.tests if test.result == "not_read"]
    starts = {_plain(test.line): read_moment(test.applied_at).seconds for test in waiting}
    return max(
        (
            sum(abs(other - start) < LEAST_HOURS * HOUR_S for other in starts.values())
            for start in starts.values()
        ),
        default=0,
    )


def _state(
    request: SafetyReviewRequest,
    times: Times,
    needed: Known,
    facts: dict[str, Known],
    resting: list[OneTest],
) -> AlertTestState:
    value = str(needed.value)
    need = "no" if value == "no" else "yes" if value == "yes" else "unknown"
    if need == "no":
        return AlertTestState("no", "not_needed")
    named = (
        ("test_reacted", "reacted"), ("test_missing", "missing"), ("test_other_line", "other_line"),
        ("test_too_soon", "too_soon"), ("test_lapsed", "lapsed"), ("test_unread", "unread"),
    )  # fmt: skip
    state = next((word for name, word in named if facts[name].value == "yes"), "")
    if state == "other_line" and not request.plan.mix_chosen:
        state = ""  # Which line it must be of, only the mix will say.
    if not state and any(one.test.result == "not_read" for one in resting):
        state = "unread"
    state = state or ("clear" if facts["test_clear"].value == "yes" else "unsure")
    hours = [LEAST_HOURS, request.plan.house.test_min_hours or 0]
    hours += [card.test.min_hours or 0 for card in request.plan.lines]
    offset = times.starts_at.offset_min
    shown = {"apply_by": text_of(times.starts_at.seconds - max(hours) * HOUR_S, offset)}
    if resting:
        ready = max(one.applied.seconds + one.needs_s for one in resting)
        days = [last_day(one.test, request.plan.house, times.now) for one in resting]
        shown |= {"ready_at": text_of(ready, offset), "last_day": text_of_day(min(days))}
    return AlertTestState(need, state, **shown)  # type: ignore[arg-type]


def _words(resting: list[OneTest], times: Times) -> dict[str, str]:
    if not resting:
        return {"test_age": "", "ready": ""}
    latest = max(resting, key=lambda one: one.applied.seconds + one.needs_s)
    ready = words_of(latest.applied.seconds + latest.needs_s, times.starts_at.offset_min)
    age = max(times.at.seconds - latest.applied.seconds, 0)
    return {"test_age": words_of_age(age), "ready": ready}


def _worst(each: list[Known]) -> Known:
    """Return yes if any is yes, else one that is missing with all that is to be asked, else no."""
    if any(known.value == "yes" for known in each):
        return next(known for known in each if known.value == "yes")
    missing = [known for known in each if known.value in (NOT_ASKED, UNKNOWN)]
    if missing:
        return Known(missing[0].value, tuple(ask for known in missing for ask in known.ask))
    return Known("no")


def _ask(fact: str, one: OneTest, field: str) -> Ask:
    return Ask(fact, f"/facts/tests/{one.at}/{field}")


def _yes(is_so: bool) -> Known:
    return Known("yes" if is_so else "no")


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
