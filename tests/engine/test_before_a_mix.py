"""Before a mix is chosen the rules ask the client and look at the head, and ask nothing of the mix.

Which questions those are is common practice, no published source: nobody can answer for a
developer, a leaflet or a line that was not chosen. What stops for the person stops all the same.
"""

import json

import pytest
from safety_asking import bent, reviewed

from basinside.contract.fact_rows import fact_rows
from basinside.engine.door import answer

CLIENT, SERVICE = "c1", "s1"
MADE = {"created_at": "2026-11-20T09:00:00Z"}
CLEAR = {
    "id": "t1",
    "client": CLIENT,
    "line": "Still",
    "applied_at": "2026-11-20T09:00:00Z",
    "result": "clear",
    "read_at": "2026-11-23T09:00:00Z",
    "read_by": "Ana",
    "applied_by": "salon",
    **MADE,
}
MIXED = {
    "id": "z1",
    "service": SERVICE,
    "name": "all over",
    "work": "toner",
    "products": [{"id": "p1", "line": "Quilt", "class": "permanent", "developer_percent": [6]}],
    "mix": {"parts": [{"product": "p1"}]},
    **MADE,
}
OF_A_MIX = {"line", "test", "zone"}
# What stops because of the person: written from the table in docs/safety.md, not drawn from code.
OF_THE_PERSON = [
    ({"colour_reaction": "mild"}, "past-colour-reaction"),
    ({"black_tattoo": "yes_reaction"}, "black-tattoo-reacted"),
    ({"dye_allergy": "diagnosed"}, "dye-allergy-known"),
    ({"scalp": "broken"}, "scalp-not-sound"),
    ({"face_rash": "yes"}, "face-rash"),
    ({"sixteen_or_over": "no", "eighteen_or_over": "no"}, "under-16-sensitiser"),
    ({"tests.0.result": "itch"}, "alert-test-reacted"),
]


def asked(zones, tests=(), **client):
    records = {
        "client": [{"id": CLIENT, "name": "Ona Petrel", **MADE, **client}],
        "service": [{"id": SERVICE, "client": CLIENT, "facts": [], **MADE}],
        "alert_test": list(tests),
        "zone": zones,
    }
    body = {"records": records, "service": SERVICE, "now": "2026-11-25T09:00:00Z"}
    body |= {"time_zone": "UTC", "profile": "uk"}
    reply = answer("safety/services", json.dumps(body).encode())
    assert reply.status == 200, reply.body
    return json.loads(reply.body)


def about_a_mix(reply):
    """The questions that only a chosen mix can answer."""
    rows = fact_rows()
    return {
        question["fact"]
        for question in reply["questions"]
        if question["kept_with"] in OF_A_MIX
        or rows[question["fact"]].place in ("/plan/developer_percent", "/plan/on_head_percent")
    }


@pytest.mark.parametrize("tests", [[], [CLEAR]], ids=["no test", "a test of some line"])
def test_nothing_is_asked_of_a_mix_that_nobody_chose(tests):
    before = asked([{"id": "z1", "service": SERVICE, "work": "toner", **MADE}], tests)
    assert about_a_mix(before) == set()
    said = {finding["id"] for finding in before["findings"]}
    assert not said & {"alert-test-other-line", "alert-test-missing", "peroxide-over-12"}
    assert "mix-not-chosen" in said
    assert not before["may_mix"]
    assert not before["may_start"]


def test_the_chosen_mix_is_asked_about_and_its_line_needs_its_own_test():
    after = asked([MIXED], [CLEAR])
    assert about_a_mix(after)
    said = {finding["id"] for finding in after["findings"]}
    assert "alert-test-other-line" in said
    assert "mix-not-chosen" not in said
    assert after["alert_test"]["state"] == "other_line"


def test_a_test_of_one_line_gives_no_word_of_another_before_the_mix():
    before = asked([], [CLEAR])
    assert before["alert_test"]["state"] == "unsure"
    assert not any("another line" in finding["message"] for finding in before["findings"])


@pytest.mark.parametrize(("facts", "rule"), OF_THE_PERSON)
def test_what_stops_for_the_person_stops_before_any_mix(facts, rule):
    reply = reviewed(bent({"mix_chosen": False} | facts))
    held = {f["id"] for f in reply["findings"] if f["group"] == "holds" and f["certain"]}
    assert rule in held
    assert not reply["may_start"]


def test_a_clean_regular_is_held_by_the_missing_mix_alone():
    reply = reviewed(bent({"mix_chosen": False}))
    assert [f["id"] for f in reply["findings"] if f["group"] != "good_to_know"] == [
        "mix-not-chosen"
    ]
    assert not reply["may_mix"]
