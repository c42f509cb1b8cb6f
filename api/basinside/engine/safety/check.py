"""What a safety review refuses to answer: impossible dates, unknown names, decisions by nobody."""

import re
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from ...contract.safety import Decision, HouseRule, SafetyReviewRequest
from ..nearest import nearest
from ..refusal import Faults
from .instants import Impossible, Moment, read_day, read_moment
from .rulebook import RANK, Rule, rule_book, rules_by_id
from .times import CLOCK_SLACK_S

_MOST_TEST_GRAMS = 10  # a dab, a strand and a swatch need 2 to 10 g: common practice
_FIXED = "decision-unsigned"
_T = TypeVar("_T")
_NOBODY = re.compile(r"[\W_]*", re.UNICODE)


def check(request: SafetyReviewRequest) -> None:
    """Raise Faulty, naming every place, when the request cannot be meant so."""
    faults = Faults()
    moments = _moments(request, faults)
    _check_days(request, faults)
    _check_bowl(request, faults)
    _check_tests(request, moments, faults)
    for at, said in enumerate(request.facts.said_at):
        if said.fact not in rule_book().facts:
            do = _did_you_mean(said.fact, list(rule_book().facts), "Use a fact of the rule book")
            faults.add(f"/facts/said_at/{at}/fact", f"There is no fact {said.fact!r}. {do}")
    for at, decision in enumerate(request.plan.decisions):
        _check_decision(f"/plan/decisions/{at}", decision, request, moments, faults)
    for at, house_rule in enumerate(request.plan.house.rules):
        _check_house_rule(f"/plan/house/rules/{at}", house_rule, request, faults)
    if (validity := request.plan.house.test_validity) is not None:
        for field in ("by", "why"):
            _check_said(f"/plan/house/test_validity/{field}", getattr(validity, field), faults)
    faults.refuse_if_any()


def _written_moments(request: SafetyReviewRequest) -> Iterator[tuple[str, str | None]]:
    plan = request.plan
    yield "/now", request.now
    yield "/starts_at", request.starts_at
    for field in ("opened_at", "started_at", "seen_until"):
        yield f"/plan/{field}", getattr(plan, field)
    for at, test in enumerate(request.facts.tests):
        yield f"/facts/tests/{at}/applied_at", test.applied_at
        yield f"/facts/tests/{at}/read_at", test.read_at
    for at, said in enumerate(request.facts.said_at):
        yield f"/facts/said_at/{at}/at", said.at
    for at, decision in enumerate(plan.decisions):
        yield f"/plan/decisions/{at}/at", decision.at
    for at, rule in enumerate(plan.house.rules):
        yield f"/plan/house/rules/{at}/review_on", rule.review_on
    if plan.house.test_validity:
        yield "/plan/house/test_validity/review_on", plan.house.test_validity.review_on


def _moments(request: SafetyReviewRequest, faults: Faults) -> dict[str, Moment]:
    """Return each moment by its place; those that do not exist are faults."""
    read: dict[str, Moment] = {}
    for pointer, text in _written_moments(request):
        if text is not None and (moment := _read(read_moment, pointer, text, faults)):
            read[pointer] = moment
    return read


def _check_days(request: SafetyReviewRequest, faults: Faults) -> None:
    for at, entry in enumerate(request.facts.hair_past or []):
        if entry.on is not None:
            _read(read_day, f"/facts/hair_past/{at}/on", entry.on, faults)


def _read(read: Callable[[str], _T], pointer: str, text: str, faults: Faults) -> _T | None:
    try:
        return read(text)
    except Impossible as error:
        faults.add(pointer, str(error))
        return None


def _check_bowl(request: SafetyReviewRequest, faults: Faults) -> None:
    plan = request.plan
    for at, card in enumerate(plan.lines):
        if (card.class_ is None) == (card.product_class is None):
            faults.add(
                f"/plan/lines/{at}",
                "A line needs one class: give `class` or `product_class`, not both and not none.",
            )
        least, most = card.test.min_hours, card.test.max_hours
        if least is not None and most is not None and most < least:
            faults.add(
                f"/plan/lines/{at}/test/max_hours",
                f"The test's longest time must be at least its shortest, {least:g} h;"
                f" got {most:g}.",
            )
    if plan.purpose == "client":
        return
    if plan.grams is None:
        faults.add(
            "/plan/grams", f"Say how many grams this {_in_words(plan.purpose)} takes: at most 10."
        )
    elif plan.grams > _MOST_TEST_GRAMS:
        faults.add(
            "/plan/grams",
            f"A {_in_words(plan.purpose)} takes at most {_MOST_TEST_GRAMS} g; got {plan.grams:g}."
            " For more, the purpose is client.",
        )


def _check_tests(request: SafetyReviewRequest, moments: dict[str, Moment], faults: Faults) -> None:
    for at, test in enumerate(request.facts.tests):
        here = f"/facts/tests/{at}"
        applied, read = moments.get(f"{here}/applied_at"), moments.get(f"{here}/read_at")
        if applied and read and read.seconds < applied.seconds:
            faults.add(
                f"{here}/read_at",
                f"A test is read after it was put on, {test.applied_at}; got {test.read_at}.",
            )
        if test.read_by is not None:
            _check_said(f"{here}/read_by", test.read_by, faults)


def _check_decision(
    here: str,
    decision: Decision,
    request: SafetyReviewRequest,
    moments: dict[str, Moment],
    faults: Faults,
) -> None:
    if (rule := _rule(f"{here}/rule", decision.rule, faults)) is None:
        return
    if not _ever_decided(rule):
        faults.add(
            f"{here}/rule",
            f"Nobody can decide {rule.id}: it lifts only when the facts change. Take the"
            " decision out.",
        )
    elif decision.role not in rule.decided_by:
        faults.add(
            f"{here}/role",
            f"{rule.id} is decided by {_either(rule.decided_by)}; got {_in_words(decision.role)}.",
        )
    for field in ("by", "saw", "why"):
        _check_said(f"{here}/{field}", getattr(decision, field), faults)
    client = request.plan.client
    if _same(decision.by, "client") or (client is not None and _same(decision.by, client)):
        faults.add(f"{here}/by", "The client cannot decide this. Name the colourist who does.")
    _check_decided_at(here, rule, moments, faults)


def _check_decided_at(here: str, rule: Rule, moments: dict[str, Moment], faults: Faults) -> None:
    at, now = moments.get(f"{here}/at"), moments.get("/now")
    opened = moments.get("/plan/opened_at")
    if at is None or now is None:
        return
    if at.seconds > now.seconds + CLOCK_SLACK_S:
        faults.add(
            f"{here}/at",
            "A decision cannot be dated after now. Check the device's date and time.",
        )
    elif opened and at.seconds < opened.seconds - CLOCK_SLACK_S and not rule.once_per_line:
        faults.add(
            f"{here}/at",
            "A decision cannot be dated before this service was opened. Decide again, today.",
        )


def _check_house_rule(
    here: str, house_rule: HouseRule, request: SafetyReviewRequest, faults: Faults
) -> None:
    for field in ("by", "why"):
        _check_said(f"{here}/{field}", getattr(house_rule, field), faults)
    if (rule := _rule(f"{here}/rule", house_rule.rule, faults)) is None:
        return
    if rule.id == _FIXED or rule.part == "Live signs":
        faults.add(f"{here}/rule", f"{rule.id} is the same everywhere. Take it out.")
        return
    own = rule.severity_in(request.profile)
    if own is None or RANK[house_rule.severity] >= RANK[own]:
        return
    if not rule.loosen:
        faults.add(
            f"{here}/severity",
            f"{rule.id} is {own} here and may only be made stricter; got {house_rule.severity}.",
        )
    elif house_rule.review_on is None:
        faults.add(
            f"{here}/review_on",
            "A milder rule needs a day on which it is looked at again. Give `review_on`.",
        )


def _rule(pointer: str, rule_id: str, faults: Faults) -> Rule | None:
    rule = rules_by_id().get(rule_id)
    if rule is None:
        do = _did_you_mean(rule_id, list(rules_by_id()), "The rules are at /api/safety/rules")
        faults.add(pointer, f"There is no rule {rule_id!r}. {do}")
    return rule


def _ever_decided(rule: Rule) -> bool:
    by_profile = rule.severity.values() if isinstance(rule.severity, dict) else [rule.severity]
    return "decide" in by_profile


def _check_said(pointer: str, text: str, faults: Faults) -> None:
    if _NOBODY.fullmatch(text):
        words = {"by": "who", "read_by": "who read it", "saw": "what was seen", "why": "why"}
        what = words[pointer.rpartition("/")[2]]
        faults.add(pointer, f"Say {what}, in letters; got {text!r}.")


def _did_you_mean(came: str, known: list[str], otherwise: str) -> str:
    near = nearest(came[:64], known)
    return f"Did you mean {near}?" if near else f"{otherwise}."


def _same(one: str, other: str) -> bool:
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def _either(roles: Sequence[str]) -> str:
    return " or ".join(_in_words(role) for role in roles)


def _in_words(name: str) -> str:
    return "person in charge" if name == "in_charge" else name.replace("_", " ")
