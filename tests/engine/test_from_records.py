"""A service put before the safety rules by its records, asked at the door as a phone asks."""

import json

import pytest
from gate_question import made_of

from basinside.engine.door import answer

MADE = "2026-11-22T09:00:00.000Z"
TODAY = "2026-11-25T09:00:00+00:00"


def said(fact, value, at=TODAY):
    return {"fact": fact, "value": value, "at": at}


def product(line, percent=1.9):
    return {
        "id": line,
        "line": line,
        "class": "neutral_demi",
        "developer_percent": [percent],
        "window": {"max": 20},
    }


def zone(name, line, percent, **more):
    return {
        "id": name,
        "created_at": MADE,
        "service": "s1",
        "name": name,
        "mix": {"parts": [{"product": line}], "developer": {"percent": percent}},
        "products": [product(line)],
        **more,
    }


def asked(client=(), service=(), *, about="s1", **more):
    """A visit of one client, with what the client and the visit were asked."""
    records = {
        "client": [{"id": "c1", "created_at": MADE, "name": "Ona Petrel", **dict(client)}],
        "service": [{"id": "s1", "created_at": MADE, "client": "c1", **dict(service)}],
    }
    others = {
        name: more.pop(name) for name in ("booking", "starts_at", "seen_until") if name in more
    }
    return {
        "records": records | more,
        "service": about,
        "now": "2026-11-25T10:00:00+00:00",
        "time_zone": "UTC",
        "profile": "eu",
    } | others


def reviewed(request, status=200):
    reply = answer("safety/services", json.dumps(request).encode())
    assert reply.status == status, reply.body
    return json.loads(reply.body)


def questions(request):
    return {each["fact"]: each for each in reviewed(request)["questions"]}


def test_nothing_asked_and_nothing_mixed_holds_and_asks_of_everything():
    reply = reviewed(asked())
    assert not reply["may_start"]
    assert reply["alert_test"]["state"] == "missing"
    assert {"scalp", "colour_reaction"} <= {each["fact"] for each in reply["questions"]}


def test_an_answer_of_the_client_s_and_one_of_the_visit_are_asked_no_more():
    before = questions(asked())
    answers = {"black_tattoo": "never"}, {"facts": [said("scalp", "sound")]}
    after = questions(asked(*answers))
    assert {"scalp", "black_tattoo"} <= set(before)
    assert not {"scalp", "black_tattoo"} & set(after)


def test_an_answer_that_must_be_fresh_is_asked_again_after_a_day():
    old = [said("scalp", "sound", "2026-11-24T09:59:59+00:00")]
    assert "scalp" in questions(asked((), {"facts": old}))
    fresh = [said("scalp", "sound", "2026-11-24T10:00:00+00:00")]
    assert "scalp" not in questions(asked((), {"facts": fresh}))


def test_a_question_says_with_which_record_its_answer_is_kept_and_how_it_is_entered():
    bowl = [zone("roots", "Still", 1.9, area="scalp")]
    paper = {"id": "t1", "created_at": MADE, "client": "c1", "line": "Still", "from_paper": True}
    test = paper | {"applied_at": MADE, "result": "clear", "read_at": TODAY, "read_by": "Ana"}
    found = questions(asked(zone=bowl, alert_test=[test]))
    kept = {name: (each["kept_with"], each["input"]) for name, each in found.items()}
    assert kept["scalp"] == ("service", "choice")
    assert kept["colour_reaction"] == ("client", "choice")
    assert kept["hair_past"] == ("client", "past")
    assert kept["leaflet_version"] == ("line", "text")
    assert found["leaflet_version"]["about"] == "Still"
    assert kept["used_before"] == ("test", "choice")
    assert found["used_before"]["about"] == "t1"
    assert "about" not in found["scalp"]
    powder = {"kind": "powder", "developer_percent": 6, "max_min": 45}
    under = {"id": "z1", "created_at": MADE, "service": "s1", "work": "lightener"}
    heat = questions(asked(zone=[under | {"lightener": powder}]))["heat"]
    assert (heat["kept_with"], heat["input"]) == ("zone", "choice")


def test_several_bowls_are_asked_as_one_and_a_question_names_the_line_it_is_about():
    bowls = [zone("roots", "Still", 1.9), zone("ends", "Fathom", 9, area="lengths", order=1)]
    request = asked(zone=bowls)
    open_lines = [
        each["about"] for each in reviewed(request)["questions"] if each["fact"] == "labelled"
    ]
    assert sorted(open_lines) == ["Fathom", "Still"]
    key = "line card: Fathom: labelled"
    setting = {"id": "x", "created_at": MADE, "key": key, "value": {"value": "yes"}}
    told = reviewed(request | {"records": request["records"] | {"setting": [setting]}})
    left = [each["about"] for each in told["questions"] if each["fact"] == "labelled"]
    assert left == ["Still"]


def test_days_before_it_says_only_how_the_alert_test_will_do():
    test = {"id": "t1", "created_at": MADE, "client": "c1", "line": "Still"}
    clear = test | {"applied_at": MADE, "result": "clear", "read_at": TODAY, "read_by": "Ana"}
    booking = {"booking": [{"line": "Still"}], "starts_at": "2026-11-27T10:00:00+00:00"}
    assert reviewed(asked(**booking))["alert_test"]["state"] == "missing"
    found = reviewed(asked(alert_test=[clear], **booking))
    assert found["alert_test"]["state"] == "clear"
    assert not found["may_start"]
    assert found["may_mix"] is False


def test_a_moment_after_now_among_records_not_sent_opens_nothing_by_age():
    test = {"id": "t1", "created_at": MADE, "client": "c1", "line": "Still", "result": "clear"}
    test |= {"applied_at": MADE, "read_at": TODAY, "read_by": "Ana"}
    bowl = [zone("roots", "Still", 1.9, area="scalp")]
    assert reviewed(asked(zone=bowl, alert_test=[test]))["alert_test"]["state"] == "clear"
    ahead = asked(zone=bowl, alert_test=[test], seen_until="2026-11-25T10:06:00+00:00")
    assert reviewed(ahead)["alert_test"]["state"] != "clear"


def test_a_strength_answered_where_no_bowl_says_it_is_taken_into_the_plan():
    bowl = zone("roots", "Still", 1.9)
    del bowl["mix"]["developer"]
    bowl["products"][0]["developer_percent"] = []
    assert "developer_percent" in questions(asked(zone=[bowl]))
    told = {"facts": [said("developer_percent", 3)]}
    assert "developer_percent" not in questions(asked((), told, zone=[bowl]))


def test_a_service_that_was_not_sent_is_refused_with_what_to_do():
    told = reviewed(asked(about="s2"), status=422)
    assert told["errors"][0]["pointer"] == "/service"
    assert "under `service`" in told["errors"][0]["message"]


@pytest.mark.parametrize(
    ("records", "pointer", "words"),
    [
        ({"client": {"name": 5}}, "/records/client/0/name", "text"),
        ({"service": {"facts": [{"value": "sound"}]}}, "/records/service/0/facts/0/fact", "fact"),
        ({"client": {"hair": {}}}, "/records/client/0/hair", "no field `hair`"),
    ],
)
def test_a_record_of_another_shape_is_refused_with_its_place(records, pointer, words):
    told = reviewed(asked(**records), status=400)
    assert told["errors"][0]["pointer"] == pointer
    assert words in told["errors"][0]["message"]


def test_an_answer_that_the_rules_cannot_read_is_refused_and_never_taken_for_a_no():
    told = reviewed(asked((), {"facts": [said("scalp", 7)]}), status=422)
    assert told["errors"][0]["pointer"] == "/facts/scalp"
    assert told["detail"].startswith("What is on record does not fit: Scalp must be one of")


def made(request):
    """The facts and the plan that are made of what was sent."""
    return made_of(request)["facts"], made_of(request)["plan"]


@pytest.mark.parametrize("lines", [7, 8, 9])
def test_the_first_eight_lines_are_asked_about(lines):
    bowls = [zone(f"zone {at}", f"Line {at}", 1.9, order=at) for at in range(lines)]
    _, plan = made(asked(zone=bowls))
    assert [card["line"] for card in plan["lines"]] == [f"Line {at}" for at in range(lines)][:8]


@pytest.mark.parametrize("zones", [19, 20, 21])
def test_the_first_twenty_zones_are_named(zones):
    bowls = [zone(f"zone {at}", "Still", 1.9, order=at) for at in range(zones)]
    _, plan = made(asked(zone=bowls))
    assert plan["zones"] == [f"zone {at}" for at in range(zones)][:20]


@pytest.mark.parametrize("entries", [48, 49, 50])
def test_the_first_fifty_of_the_hair_s_past_are_told(entries):
    told = [said("hair_past", [{"what": "perm"}])]
    past = [
        {"id": f"h{at:02}", "created_at": MADE, "client": "c1", "what": "coloured at home"}
        for at in range(entries)
    ]
    facts, _ = made(asked({"answers": told}, history_entry=past))
    assert len(facts["hair_past"]) == min(1 + entries, 50)
    assert facts["hair_past"][0]["what"] == "perm"


@pytest.mark.parametrize("others", [49, 50, 51])
def test_a_line_is_told_of_the_first_fifty_it_may_mix_with(others):
    bowl = zone("roots", "Still", 1.9)
    names = [f"Line {at}" for at in range(others)]
    bowl["products"][0]["may_mix_with"] = names
    _, plan = made(asked(zone=[bowl]))
    assert plan["lines"][0]["may_mix_with"] == names[:50]
