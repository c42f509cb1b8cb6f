"""What is still to be asked, in the order that closes most."""

from collections.abc import Sequence
from typing import NamedTuple

from ...contract.fact_rows import Fact
from ...contract.safety import Answer, Finding, SafetyQuestion, Severity
from .conditions import NOT_ASKED, UNKNOWN, Ask, Facts, Verdict
from .rulebook import ASKS, RANK, Rule, answers_of, rule_book

# One stop outweighs all decides, one decide all advice.
_WEIGHT = {1: 1, 2: 100, 3: 10_000}


class Spoken(NamedTuple):
    """One rule that speaks, or only asks, with the severity it has here."""

    rule: Rule
    severity: Severity
    verdict: Verdict


def questions_of(
    spoken: Sequence[Spoken],
    asking: Sequence[Spoken],
    findings: Sequence[Finding],
    facts: Facts,
) -> list[SafetyQuestion]:
    """Return the questions: first what most stops wait for, then decides, then advice.

    Ties keep the order of the file. A finding that was decided waits for nothing.
    """
    decided = {finding.id for finding in findings if finding.decision}
    waiting: dict[Ask, list[Spoken]] = {}
    for one in [*spoken, *asking]:
        if one.rule.id in decided:
            continue
        for name in one.verdict.missing:
            if facts[name].value in (NOT_ASKED, UNKNOWN) or isinstance(
                facts[name].value, frozenset
            ):
                for ask in facts[name].ask:
                    waiting.setdefault(ask, []).append(one)
    order = {name: at for at, name in enumerate(rule_book().facts)}
    ranked = sorted(
        waiting.items(),
        key=lambda pair: (-sum(map(_weight, pair[1])), order[pair[0].fact], pair[0].pointer),
    )
    return [_question(ask, rules) for ask, rules in ranked]


def _question(ask: Ask, rules: Sequence[Spoken]) -> SafetyQuestion:
    fact = rule_book().facts[ask.fact]
    return SafetyQuestion(
        fact=ask.fact,
        pointer=ask.pointer,
        words=fact.ask,
        to_client=fact.to_client,
        answers=answers_in_words(fact),
        closes=[one.rule.id for one in rules],
        may_skip=not any(one.severity == "stop" and _waits(one) for one in rules),
        fresh=fact.fresh_hours is not None,
        of=fact.asked_of,
        kept_with=fact.kept_with,
        input=fact.input,
    )


def _waits(one: Spoken) -> bool:
    """Return whether a rule holds something while its question is open."""
    return one.verdict.truth is not None or one.rule.unasked != ASKS


def _weight(one: Spoken) -> int:
    return _WEIGHT[RANK[one.severity]] if _waits(one) else 1


def answers_in_words(fact: Fact) -> list[Answer]:
    """Return the answers of a fact's question, each with its words."""
    return [Answer(value, words) for value, words in answers_of(fact).items()]
