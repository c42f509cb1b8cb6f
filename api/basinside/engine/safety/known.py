"""All facts of one review under the names the rules read, worked-out ones included.

Nothing is ever filled in with its safe value, save two defaults of a product's card that are
said where they stand (`releases_peroxide`, `nh3_percent`).
"""

from functools import cache

from ...contract.safety import SafetyReviewRequest
from ...contract.safety_facts import SafetyFacts
from .bowl import bowl_facts
from .conditions import NOT_ASKED, UNKNOWN, Ask, Facts, Known
from .hair_past import hair_facts
from .instants import read_moment
from .rulebook import place_of, rule_book
from .skin_test import Tested, tested
from .times import HOUR_S, Times

# A test nobody speaks of is one that was not done.
_TESTS_ON_HAIR = ("metal_test", "stretch_test", "strand_test")
_OLDEST = 200


def all_known(request: SafetyReviewRequest, times: Times) -> tuple[Facts, Tested]:
    """Return every fact the rules may read, and what the alert tests come to."""
    facts, plan = request.facts, request.plan
    known: Facts = {name: _asked(name, request, times) for name in _choices()}
    for name in _TESTS_ON_HAIR:
        if known[name].value == NOT_ASKED:
            known[name] = Known("not_done", known[name].ask)
    known |= bowl_facts(plan, times)
    known |= hair_facts(request, times)
    known |= _age(request)
    known |= _signs(facts)
    known["profile"] = Known(request.profile)
    known["chemo_ended_months"] = _number("chemo_ended_months", facts.chemo_ended_months)
    known["outcome"] = Known(frozenset(facts.outcome), (Ask("outcome", "/facts/outcome"),))
    months = rule_book().profiles[request.profile].keep_months
    age = facts.record_age_months
    known["past_keeping"] = (
        Known(NOT_ASKED, (Ask("record_age_months", "/facts/record_age_months"),))
        if age is None
        else _yes(age >= months)
    )
    needed = known["sensitiser"]
    if plan.purpose != "client" or known["touches_skin"].value == "no":
        needed = Known("no")
    found = tested(request, times, needed)
    known |= found.facts
    return known, found


@cache
def _choices() -> tuple[str, ...]:
    """Return the facts that are read as they came; the rest are lists, or worked out."""
    rows = rule_book().facts.items()
    return tuple(name for name, row in rows if row.input == "choice" and not row.place)


def _asked(name: str, request: SafetyReviewRequest, times: Times) -> Known:
    """Return a fact as it was answered, or as not asked once its answer is no longer fresh."""
    fact = rule_book().facts[name]
    ask = (Ask(name, place_of(name, fact)),)
    value = getattr(request.facts, name) or NOT_ASKED
    if fact.fresh_hours is not None:
        for said in request.facts.said_at:
            age = times.now.seconds - read_moment(said.at).seconds
            if said.fact == name and (times.clock_back or age > fact.fresh_hours * HOUR_S):
                value = NOT_ASKED
    return Known(value, ask)


def _number(name: str, value: float | None) -> Known:
    if value is None:
        return Known(NOT_ASKED, (Ask(name, place_of(name, rule_book().facts[name])),))
    return Known(float(value))


def _age(request: SafetyReviewRequest) -> Facts:
    """Return what the age, said or judged, comes to. The younger of two answers counts."""
    facts = request.facts
    least, most = 0, _OLDEST
    said = True
    sixteen, eighteen = facts.sixteen_or_over, facts.eighteen_or_over
    if facts.age_years is not None:
        least = most = facts.age_years
    elif eighteen == "yes":
        least = 18
    elif sixteen == "yes":
        least = 16
    elif "no" not in (sixteen, eighteen):
        said = False
        least = 18 if facts.could_be_under_18 == "no" else 0
    most = min(most, 15 if sixteen == "no" else 17 if eighteen == "no" else _OLDEST)
    least = min(least, most)
    asked = said or UNKNOWN in (sixteen, eighteen)
    ask = _to_ask_of_age(sixteen, eighteen)
    blank = NOT_ASKED if not asked else UNKNOWN

    def under(limit: int) -> Known:
        if most < limit:
            return Known("yes")
        return Known("no") if least >= limit else Known(blank, ask)

    label = max((card.min_age or 0 for card in request.plan.lines), default=0)
    consent = rule_book().profiles[request.profile].consent_age
    return {
        "under_16": under(16),
        "under_label_age": under(label),
        "under_consent_age": under(consent),
        "age_known": Known("yes" if said else "no" if asked else NOT_ASKED, ask),
    }


def _to_ask_of_age(sixteen: str | None, eighteen: str | None) -> tuple[Ask, ...]:
    if eighteen is None:
        return (Ask("eighteen_or_over", "/facts/eighteen_or_over"),)
    if sixteen is None:
        return (Ask("sixteen_or_over", "/facts/sixteen_or_over"),)
    return (Ask("age_years", "/facts/age_years"),)


def _signs(facts: SafetyFacts) -> Facts:
    signs, later = frozenset(facts.signs), frozenset(facts.signs_later)
    ask = (Ask("signs", "/facts/signs"),)
    only = signs == {"mild_tingle"}
    unsure = UNKNOWN in signs
    stayed = facts.tingle_stayed or NOT_ASKED
    tingling = "mild_tingle" in signs
    any_sign = bool(signs or later)
    return {
        "signs": Known(signs, ask),
        "signs_all": Known(
            signs | later, ask if signs else (Ask("signs_later", "/facts/signs_later"),)
        ),
        "only_mild_tingle": Known("yes" if only else UNKNOWN if unsure else "no", ask),
        "tingle_stays": Known(stayed, (Ask("tingle_stayed", "/facts/tingle_stayed"),))
        if tingling
        else Known(UNKNOWN if unsure else "no", ask),
        "signs_later_any": _yes(bool(later)),
        "record_missing": _yes(any_sign and facts.reaction_record != "complete"),
    }


def _yes(is_so: bool) -> Known:
    return Known("yes" if is_so else "no")
