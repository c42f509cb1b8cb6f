"""Every safety rule by its written case: it fires, is silent, and asks when it cannot tell."""

import re

import pytest
from safety_asking import bent, found, reviewed
from safety_cases import CASES

from basinside.engine.safety.in_words import rules_in_words
from basinside.engine.safety.rulebook import ASKS, rule_book, rules_by_id

RULES = list(rules_by_id())
# Where an answer of "not sure" or a missing one passes to a rule that holds less: both are
# named in the sources, as otherwise an honest "not sure" could never be cleared.
MILDER_INSTEAD = {
    ("black-tattoo-reacted", "black-tattoo-no-reaction"),
    ("signs-scalp-pain", "signs-mild-tingle"),
}
# What nobody is made to answer before a service: the worker's own signs, old records.
ONLY_ASKED = {
    "worker-skin-signs", "worker-wheeze", "worker-dye-allergy", "reaction-record-open",
    "health-basis-missing", "retention-due",
}  # fmt: skip


def test_each_rule_has_its_case_and_each_case_its_rule():
    assert len(RULES) > 80
    assert set(RULES) == set(CASES)


def test_the_regular_of_the_cases_may_start():
    reply = reviewed(bent({}))
    assert reply["may_start"]
    assert {finding["severity"] for finding in reply["findings"]} == {"advise"}


@pytest.mark.parametrize("rule", RULES)
def test_it_fires(rule):
    case = CASES[rule]
    finding = found(bent(case.fires, case.profile)).get(rule)
    assert finding, f"{rule} is silent where {case.source} speaks"
    # "not yes" may rest on a missing answer; then the finding says so.
    assert finding["certain"] or "is not" in rules_in_words_by_id()[rule].when


@pytest.mark.parametrize("rule", RULES)
def test_it_is_silent(rule):
    case = CASES[rule]
    assert rule not in found(bent(case.silent, case.profile)), case.source


@pytest.mark.parametrize("rule", RULES)
def test_it_asks_when_it_cannot_tell(rule):
    case = CASES[rule]
    if isinstance(case.missing, str):
        return
    reply = reviewed(bent(case.missing, case.profile))
    findings = {finding["id"] for finding in reply["findings"]}
    clock_wrong = "seen_until" in case.missing
    asked = [question for question in reply["questions"] if rule in question["closes"]]
    assert asked or clock_wrong, f"{rule} does not ask"
    row = rules_by_id()[rule]
    assert rule in findings or row.unasked == ASKS or {row.unasked, row.unknown} & findings


@pytest.mark.parametrize("rule", RULES)
def test_its_case_names_one_of_its_sources(rule):
    key = CASES[rule].source.split(" ")[0]
    assert key in rules_by_id()[rule].sources


@pytest.mark.parametrize("rule", RULES)
def test_it_is_written_for_the_basin(rule):
    row = rules_by_id()[rule]
    for sentence in (row.say, row.say_unknown):
        assert len(sentence) <= 140
        assert "!" not in sentence
        assert not re.search(r"\b(error|invalid)\b", sentence, re.IGNORECASE)
    assert row.next.endswith(".")
    assert row.sources


def test_a_rule_hands_its_place_only_to_one_that_holds_as_much():
    rank = {"advise": 1, "decide": 2, "stop": 3}
    milder = set()
    for rule in rule_book().rules:
        for other in {rule.unasked, rule.unknown} - {"fires", ASKS}:
            for profile in ("eu", "uk", "us", "other"):
                own, theirs = (rules_by_id()[r].severity_in(profile) for r in (rule.id, other))
                if own and rank[theirs] < rank[own]:
                    milder.add((rule.id, other))
    assert milder == MILDER_INSTEAD


def test_only_advice_and_a_named_few_do_no_more_than_ask():
    asking = {rule.id for rule in rule_book().rules if rule.unasked == ASKS}
    holding = {name for name in asking if rules_by_id()[name].severity != "advise"}
    assert holding == ONLY_ASKED


def test_every_source_is_used_and_every_source_named_is_there():
    used = {key for rule in rule_book().rules for key in rule.sources}
    assert used == set(rule_book().sources)


def test_a_rule_is_called_published_only_if_some_source_was_read():
    seen = {key: source.seen for key, source in rule_book().sources.items()}
    for rule in rule_book().rules:
        if rule.status == "published":
            assert (
                any(seen[key] == "read" for key in rule.sources)
                or rule.id == "health-note-minimal"
                or "GDPR" in rule.sources
            ), rule.id


def test_a_place_without_a_profile_takes_the_strictest_of_all():
    rank = {None: 0, "advise": 1, "decide": 2, "stop": 3}
    off = set()
    for rule in rule_book().rules:
        strictest = max(rank[rule.severity_in(p)] for p in ("eu", "uk", "us"))
        if rank[rule.severity_in("other")] < strictest:
            off.add(rule.id)
    # Who is told in one country, and one country's boards: the duty is not one elsewhere.
    assert off == {"report-uk", "report-us", "us-licence-scope"}


def rules_in_words_by_id():
    return {rule.id: rule for rule in rules_in_words().rules}
