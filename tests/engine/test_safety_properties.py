"""What must hold of any facts: caution adds up, a stop has no override, unknown is never "no".

10,000 drawn requests, each with one fact made a step more cautious, one made unknown and one
left out; and decisions tried on all that was found. The laws are those of the brief's own
promise; nothing here is read from the rule book but which rule spoke.
"""

import copy

import pytest
from drawing import seeds
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from safety_asking import REGULAR, bent, found, reviewed
from safety_random import FACTS, ORDERED, more_cautious, parts, requests

# 10,000 in all, each share drawn from its own number.
DRAWN_EACH, SHARES = 250, seeds(40, parts=20)
RANK = {"advise": 1, "decide": 2, "stop": 3}
MISSING = ["unknown", "left out"]
# Here another answer has settled what the worst one would open, or it holds nothing.
SETTLED = {
    "asthma", "pregnant", "could_be_under_18", "eighteen_or_over", "metal_test", "reaction_record",
    "new_to_client", "hair_doubt",
}  # fmt: skip
NEVER_BLOCKED = ["rinse", "first_aid", "call_for_help", "end_service", "export"]


def held(reply):
    """Return the severities that hold a service, by rule; a decided one holds nothing."""
    return {
        finding["id"]: RANK[finding["severity"]]
        for finding in reply["findings"]
        if finding["group"] != "good_to_know"
    }


def worst(reply):
    return max((RANK[finding["severity"]] for finding in reply["findings"]), default=0)


def check_answer(reply):
    """Check what must be so of every review."""
    assert reply["never_blocked"] == NEVER_BLOCKED
    ranks = [RANK[finding["severity"]] for finding in reply["findings"]]
    assert ranks == sorted(ranks, reverse=True), "worst first"
    if reply["may_start"]:
        assert not held(reply)
        assert reply["may_mix"]
    for finding in reply["findings"]:
        group = {"stop": "holds", "decide": "needs_decision", "advise": "good_to_know"}
        assert finding["group"] == group[finding["severity"]]
        assert 0 < len(finding["message"]) <= 140
        assert "{" not in finding["message"]
        assert finding["next"]
        assert finding["source"]
        assert bool(finding["decided_by"]) == (finding["severity"] == "decide")


@pytest.mark.parametrize("share", SHARES)
def test_more_caution_never_yields_less(share):
    opened = []

    @seed(share)
    @settings(
        max_examples=DRAWN_EACH,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(requests(), st.sampled_from(ORDERED), st.sampled_from(ORDERED), st.sampled_from(MISSING))
    def hold(request, raised, dropped, missing):
        reply = reviewed(request)
        check_answer(reply)
        opened.append(reply["may_start"])
        stops = [f for f in reply["findings"] if f["severity"] == "stop"]
        live = request["plan"]["moment"] == "live"
        assert reply["rinse_now"] == (live and bool(stops))
        if request["plan"]["moment"] in ("booking", "after"):
            assert not reply["may_start"]
        if (further := more_cautious(request, *raised)) is not None:
            cautious = reviewed(further)
            check_answer(cautious)
            assert worst(cautious) >= worst(reply), raised
            assert cautious["may_start"] <= reply["may_start"], raised
            assert cautious["may_mix"] <= reply["may_mix"], raised
        check_missing(request, dropped, missing, reply)
        check_decisions(request, reply)

    hold()
    # Were none ever open, or all, this would prove little.
    assert len(opened) == DRAWN_EACH
    assert 2 < sum(opened) < len(opened) - 2


def check_missing(request, fact, missing, reply):
    """An answer that is unknown or left out opens nothing that its safest value does not."""
    part, name, values = fact
    # A developer nobody names is none, for what takes none.
    if parts(request)[part].get(name) != values[0] or name == "developer_percent":
        return
    asked = copy.deepcopy(request)
    if missing in values:
        parts(asked)[part][name] = missing
    else:
        del parts(asked)[part][name]
    assert reviewed(asked)["may_start"] <= reply["may_start"], (missing, fact)


def check_decisions(request, reply):
    """A decision on all that can be decided opens the service, unless anything stops it."""
    stops = {
        finding["id"]
        for finding in reply["findings"]
        if finding["severity"] == "stop" and finding["id"] != "decision-unsigned"
    }
    signed = copy.deepcopy(request)
    signed["plan"]["decisions"] = [
        {
            "rule": finding["id"], "by": "Ana", "role": "in_charge", "saw": "calm", "why": "fine",
            "at": request["now"], "basis": finding["basis"],
        }
        for finding in reply["findings"] if finding["severity"] == "decide"
    ]  # fmt: skip
    after = reviewed(signed)
    still = {finding["id"] for finding in after["findings"] if finding["group"] == "holds"}
    assert still == stops, "a decision lifts no stop, and leaves none behind"
    startable = request["plan"]["moment"] in ("start", "live")
    assert after["may_start"] == (startable and not stops)


@pytest.mark.parametrize(("part", "name", "values"), ORDERED, ids=lambda v: str(v)[:24])
def test_each_step_of_each_fact_alone_adds_up_on_a_regular_and_on_a_lightener(part, name, values):
    """Nothing else speaks here, so the worst finding is this fact's own."""
    lightener = bent({"zones": ["regrowth"]})
    lightener["plan"]["lines"][0] |= {"class": "lightener_powder", "heat_allowed": "yes"}
    lightener["plan"]["lines"][0].pop("product_class")
    for request in (copy.deepcopy(REGULAR), lightener):
        ranks = []
        for value in values:
            parts(request)[part][name] = value
            ranks.append(worst(reviewed(request)))
        assert ranks == sorted(ranks)


@pytest.mark.parametrize("name", [n for n, values in FACTS.items() if "unknown" in values])
def test_an_answer_of_not_sure_is_never_taken_for_the_safe_one(name):
    """Where the worst answer of a fact holds a service, "not sure" holds it too."""
    request = bent({"zones": ["regrowth"], "eighteen_or_over": "no", "hair_past": []})
    request["facts"] |= {"sixteen_or_over": "yes", "guardian_consent": "yes"}
    request["facts"] |= {"stretch_test": "returns", "strand_test": "pass", "metal_test": "clear"}
    request["facts"] |= {"persulfate_reaction": "none", "air": "open"}
    request["plan"] |= {"heat": "no"}
    request["plan"]["lines"][0] |= {"class": "lightener_powder"}
    request["plan"]["lines"][0].pop("product_class")
    assert reviewed(request)["may_start"]
    request["facts"][name] = FACTS[name][-1]
    if reviewed(request)["may_start"]:
        assert name in SETTLED
        return
    request["facts"][name] = "unknown"
    assert not reviewed(request)["may_start"], name


def test_a_salon_may_be_stricter_and_looser_only_where_that_is_marked_and_for_a_time():
    no_gloves = bent({"gloves": "no"})
    own = {"rule": "gloves-not-on", "severity": "stop", "by": "Ana", "why": "skin"}
    no_gloves["plan"]["house"] = {"rules": [own]}
    assert found(no_gloves)["gloves-not-on"]["severity"] == "stop"
    first = bent({"new_to_client": "yes"})
    milder = {"rule": "strand-not-done", "severity": "advise", "by": "Ana", "why": "we swatch"}
    first["plan"]["house"] = {"rules": [milder | {"review_on": "2026-12-01T00:00:00Z"}]}
    assert reviewed(first)["may_start"]
    first["plan"]["house"] = {"rules": [milder | {"review_on": "2026-11-25T10:00:00Z"}]}
    assert not reviewed(first)["may_start"], "its day has come: the rule's own severity is back"
