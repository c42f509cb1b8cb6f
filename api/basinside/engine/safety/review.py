"""The review: which rules speak, how loudly, and whether the service may start.

A rule whose facts are missing counts as if they were unsafe. A stop lifts only when the
facts change; a decide holds until a named person's decision on these very facts is there.
"""

from typing import get_args

from msgspec import UNSET, UnsetType

from ...contract.safety import (
    Because,
    Decision,
    Finding,
    NeverBlocked,
    Phase,
    SafetyReviewReply,
    SafetyReviewRequest,
    Severity,
)
from ..version import engine_version
from .before_mix import is_about_the_mix
from .check import check
from .conditions import NOT_ASKED, Facts, Known, Verdict, facts_in, judge
from .instants import read_moment
from .known import all_known
from .questions import Spoken, questions_of
from .rulebook import (
    ASKS,
    RANK,
    Rule,
    condition_of,
    rule_book,
    rules_by_id,
    stop_condition_of,
)
from .skin_test import Tested
from .times import times_of

NEVER_BLOCKED: list[NeverBlocked] = list(get_args(NeverBlocked))
_DECISION_OPEN = "decision-unsigned"
_TOO_SOON = "alert-test-too-soon"
# The phases a moment looks at; at `live` the service's start is judged again.
_LOOKS_AT: dict[str, tuple[Phase, ...]] = {
    "booking": ("booking",),
    "start": ("start", "booking", "mix"),
    "live": ("live", "start", "booking", "mix"),
    "after": ("after",),
}


def review(request: SafetyReviewRequest) -> SafetyReviewReply:
    """Return what the rules find. Raises Faulty for what cannot be meant."""
    check(request)
    times = times_of(request)
    facts, tests = all_known(request, times)
    facts["decision_open"] = Known("no")
    spoken, asking = _speaking(request, facts)
    findings = [_finding(one, request, facts, tests) for one in spoken]
    if any(finding.group == "needs_decision" for finding in findings):
        facts["decision_open"] = Known("yes")
        spoken += _unsigned(request)
        findings += [_finding(one, request, facts, tests) for one in spoken[len(findings) :]]
    findings.sort(key=lambda finding: -RANK[finding.severity])
    holding = [f for f in findings if f.group != "good_to_know"]
    startable = request.plan.moment in ("start", "live")
    return SafetyReviewReply(
        findings=findings,
        questions=questions_of(spoken, asking, findings, facts),
        may_mix=startable and not any(f.phase != "mix" for f in _but_unsigned(holding)),
        may_start=startable and not holding,
        rinse_now=request.plan.moment == "live" and any(f.group == "holds" for f in findings),
        never_blocked=NEVER_BLOCKED,
        alert_test=tests.state,
        emergency_number=rule_book().profiles[request.profile].emergency_number,
        profile=request.profile,
        time_zone=request.time_zone,
        edition=rule_book().edition,
        engine_version=engine_version(),
    )


def _but_unsigned(holding: list[Finding]) -> list[Finding]:
    return [finding for finding in holding if finding.id != _DECISION_OPEN]


def _unsigned(request: SafetyReviewRequest) -> list[Spoken]:
    rule = rules_by_id()[_DECISION_OPEN]
    if not set(rule.phases) & set(_LOOKS_AT[request.plan.moment]):
        return []
    return [Spoken(rule, "stop", Verdict(True))]


def _speaking(request: SafetyReviewRequest, facts: Facts) -> tuple[list[Spoken], list[Spoken]]:
    """Return the rules that speak, and those that only ask."""
    judged = [
        Spoken(rule, severity, verdict)
        for rule in rule_book().rules
        if (request.plan.mix_chosen or not is_about_the_mix(rule.id))
        and (severity := _severity(rule, request, facts)) is not None
        and (verdict := judge(condition_of(rule.id), facts)).truth is not False
    ]
    handed_to = {one.rule.id: _handed_to(one, facts) for one in judged}
    speaking = {one.rule.id for one in judged if handed_to[one.rule.id] is None}
    # A rule that leaves its place to another speaks after all when the other does not.
    speaking |= {
        name
        for name, other in handed_to.items()
        if other is not None and other != ASKS and other not in speaking
    }
    spoken = [one for one in judged if one.rule.id in speaking]
    return spoken, [one for one in judged if one.rule.id not in speaking]


def _severity(rule: Rule, request: SafetyReviewRequest, facts: Facts) -> Severity | None:
    """Return the severity of a rule in this review; none where it does not apply."""
    plan = request.plan
    if plan.purpose not in rule.purposes or not set(rule.phases) & set(_LOOKS_AT[plan.moment]):
        return None
    severity = rule.severity_in(request.profile)
    for house_rule in plan.house.rules:
        if house_rule.rule == rule.id and not _review_is_due(house_rule.review_on, request):
            severity = house_rule.severity
    stop = stop_condition_of(rule.id)
    if severity is not None and stop and judge(stop, facts).truth is not False:
        return "stop"
    return severity


def _review_is_due(review_on: str | None, request: SafetyReviewRequest) -> bool:
    """Return whether a salon's own severity has run out: then the rule's own is back."""
    return review_on is not None and read_moment(review_on) < read_moment(request.now)


def _handed_to(one: Spoken, facts: Facts) -> str | None:
    """Return what a rule left open does instead of speaking; none when it speaks itself."""
    if one.verdict.truth is not None:
        return None
    unasked = all(_is_unasked(facts[name]) for name in one.verdict.open_by)
    instead = one.rule.unasked if unasked else one.rule.unknown
    return None if instead == "fires" else instead


def _is_unasked(known: Known) -> bool:
    return known.value == NOT_ASKED


def _finding(one: Spoken, request: SafetyReviewRequest, facts: Facts, tests: Tested) -> Finding:
    rule, severity, verdict = one
    basis = _basis(rule, facts)
    decision = _decision(rule, request, basis) if severity == "decide" else None
    group = {"stop": "holds", "decide": "needs_decision", "advise": "good_to_know"}[severity]
    phase = next(phase for phase in _LOOKS_AT[request.plan.moment] if phase in rule.phases)
    opens_at: str | UnsetType = UNSET
    if rule.id == _TOO_SOON and verdict.truth:
        opens_at = tests.state.ready_at
    return Finding(
        id=rule.id,
        severity=severity,
        group="good_to_know" if decision else group,  # type: ignore[arg-type]
        phase=phase,
        message=_message(one, request, facts, tests),
        next=_next(one, request),
        source=_source_in_words(rule),
        sources=rule.sources,
        status=rule.status,
        certain=not verdict.missing,
        because=[Because(name, _text(facts[name])) for name in facts_in(condition_of(rule.id))],
        basis=basis,
        decided_by=rule.decided_by if severity == "decide" else [],
        decision=decision or UNSET,
        opens_at=opens_at,
    )


def _message(one: Spoken, request: SafetyReviewRequest, facts: Facts, tests: Tested) -> str:
    rule, _, verdict = one
    number = rule_book().profiles[request.profile].emergency_number
    if verdict.truth:
        return rule.say.format(emergency=number, **tests.words)
    known = facts[verdict.open_by[0]]
    if rule.say_unknown and not (known.value == NOT_ASKED and known.ask):
        return rule.say_unknown
    if not known.ask:
        return rule.say
    question = rule_book().facts[known.ask[0].fact].ask
    return f"Ask first: {question}" if known.value == NOT_ASKED else f"Not known: {question}"


def _next(one: Spoken, request: SafetyReviewRequest) -> str:
    on_head = request.plan.moment == "live" and one.severity == "stop"
    if on_head and "live" in one.rule.phases and len(one.rule.phases) > 1:
        return f"The mix is on: rinse it off now. Then: {one.rule.next}"
    if on_head and "live" not in one.rule.phases:
        return f"The mix is on: if this cannot be settled at once, rinse. {one.rule.next}"
    return one.rule.next


def _source_in_words(rule: Rule) -> str:
    titles = "; ".join(rule_book().sources[key].title for key in rule.sources)
    note = {
        "published": "",
        "common_practice": " (common practice, no published source)",
        "not_yet_checked": " (not yet checked against the primary text)",
    }
    return titles + note[rule.status]


def _basis(rule: Rule, facts: Facts) -> str:
    """Return the facts a decision rests on, as text: when they change, it must be taken again."""
    names = dict.fromkeys([*facts_in(condition_of(rule.id)), *rule.basis_also])
    return "; ".join(f"{name}={_text(facts[name])}" for name in names)


def _decision(rule: Rule, request: SafetyReviewRequest, basis: str) -> Decision | None:
    found = [
        decision
        for decision in request.plan.decisions
        if decision.rule == rule.id and decision.basis == basis
    ]
    return max(found, key=lambda decision: read_moment(decision.at).seconds, default=None)


def _text(known: Known) -> str:
    match known.value:
        case frozenset():
            return "+".join(sorted(known.value)) or "none"
        case float():
            return f"{known.value:g}"
        case text:
            return text
