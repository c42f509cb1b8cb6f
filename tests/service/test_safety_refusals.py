"""What a safety review refuses, with pointer and sentence: impossible dates, unknown names,
decisions by nobody. 400: the shape; 422: the meaning, every place at once."""

import copy

import pytest

from basinside.engine.safety.rulebook import rules_by_id
from basinside.service.http.document import examples

REGULAR = next(iter(examples.SAFETY_REVIEWS.values()))
DECISION = {
    "rule": "alert-test-masked",
    "by": "Ana",
    "role": "colourist",
    "saw": "skin calm",
    "why": "doctor's letter seen",
    "at": "2026-11-25T10:10:00+00:00",
    "basis": "",
}

TERMS = {
    "months": 6,
    "by": "Ana",
    "why": "the insurer's terms",
    "review_on": "2027-11-25T10:00:00+00:00",
}


def refused(client, bend, status=422):
    """Return the refusal of a bent regular: each place with its sentence."""
    request = copy.deepcopy(REGULAR)
    bend(request)
    reply = client.post("/api/safety/reviews", json=request)
    assert reply.status_code == reply.json()["status"] == status, reply.text[:400]
    assert reply.headers["content-type"] == "application/problem+json"
    places = {error["pointer"]: error["message"] for error in reply.json()["errors"]}
    assert all(sentence.endswith((".", "?")) for sentence in places.values())
    return places


@pytest.mark.parametrize(
    ("moment", "says"),
    [
        ("2026-02-30T10:00:00+00:00", "Feb 2026 has 28 days; got day 30."),
        ("2026-13-01T10:00:00+00:00", "There is no month 13. Use 01 to 12."),
        ("2026-04-00T10:00:00Z", "Apr 2026 has 30 days; got day 0."),
        ("2026-11-25T24:00:00Z", "There is no time 24:00:00. Use 00:00 to 23:59."),
        ("2026-11-25T10:61:00Z", "There is no time 10:61:00. Use 00:00 to 23:59."),
        ("2026-11-25T10:00:00+25:00", "There is no offset +25:00."),
        ("1970-01-01T00:00:00Z", "The year must be 2000 to 2099; got 1970."),
    ],
)
@pytest.mark.parametrize("place", ["/now", "/starts_at", "/facts/tests/0/applied_at"])
def test_a_moment_no_calendar_has_is_named(client, moment, says, place):
    def bend(request):
        home = request["facts"]["tests"][0] if place.count("/") > 1 else request
        home[place.rpartition("/")[2]] = moment

    assert refused(client, bend)[place].startswith(says)


def test_a_moment_without_an_offset_is_the_wrong_shape(client):
    places = refused(client, lambda r: r.update(now="2026-11-25T10:00:00"), 400)
    assert list(places) == ["/now"]
    assert "2026-11-25T10:15:00+01:00" in places["/now"]


def test_every_impossible_date_is_named_at_once(client):
    def bend(request):
        request["facts"]["hair_past"] = [{"what": "perm", "on": "2026-02-29"}]
        request["facts"]["tests"][0]["read_at"] = "2026-11-20T10:00:00+00:00"
        request["plan"]["opened_at"] = "2026-06-31T10:00:00+00:00"

    places = refused(client, bend)
    assert places.keys() == {
        "/facts/hair_past/0/on",
        "/facts/tests/0/read_at",
        "/plan/opened_at",
    }
    assert places["/facts/tests/0/read_at"].startswith("A test is read after it was put on")


@pytest.mark.parametrize(
    ("change", "pointer", "says"),
    [
        ({"rule": "alert-test-maskd"}, "rule", "There is no rule 'alert-test-maskd'. Did you mean"),
        ({"rule": "face-rash"}, "rule", "Nobody can decide face-rash: it lifts only when"),
        ({"rule": "decision-unsigned"}, "rule", "Nobody can decide decision-unsigned"),
        ({"rule": "closed-mix"}, "rule", "Nobody can decide closed-mix"),
        ({"by": " "}, "by", "Say who, in letters; got ' '."),
        ({"by": "--"}, "by", "Say who, in letters; got '--'."),
        ({"saw": "  "}, "saw", "Say what was seen, in letters"),
        ({"why": "..."}, "why", "Say why, in letters"),
        ({"by": "the  CLIENT", "_client": "The Client"}, "by", "The client cannot decide this."),
        ({"by": "Client"}, "by", "The client cannot decide this."),
        ({"role": "assistant"}, "role", "alert-test-masked is decided by colourist or person in"),
        ({"at": "2026-11-25T10:20:01+00:00"}, "at", "A decision cannot be dated after now."),
        ({"at": "2026-11-25T08:54:59+00:00"}, "at", "A decision cannot be dated before this serv"),
    ],
)
def test_a_decision_by_nobody_or_on_nothing_is_refused(client, change, pointer, says):
    def bend(request):
        request["plan"]["opened_at"] = "2026-11-25T09:00:00+00:00"
        if client_name := change.get("_client"):
            request["plan"]["client"] = client_name
        own = {name: value for name, value in change.items() if name != "_client"}
        request["plan"]["decisions"] = [DECISION | own]

    places = refused(client, bend)
    assert places.keys() == {f"/plan/decisions/0/{pointer}"}
    assert places[f"/plan/decisions/0/{pointer}"].startswith(says)


@pytest.mark.parametrize(
    ("bend", "pointer", "says"),
    [
        (lambda r: r["facts"].update(scalpp="sound"), "/facts/scalpp", "Did you mean `scalp`?"),
        (lambda r: r["facts"].update(scalp="fine"), "/facts/scalp", "Scalp must be one of"),
        (lambda r: r["facts"].update(face_rash=True), "/facts/face_rash", "must be one"),
        (lambda r: r.update(profile="mars"), "/profile", "eu, other, uk, us"),
        (lambda r: r.update(time_zone="not a zone"), "/time_zone", "IANA"),
        (lambda r: r["plan"].update(areas=["elbow"]), "/plan/areas/0", "brows"),
        (lambda r: r["plan"].update(lines=[]), "/plan/lines", "1 to 8"),
        (lambda r: r["plan"].update(decisions=[DECISION | {"by": ""}]), "/plan/decisions/0/by",
         "1 to 120 characters"),
        (lambda r: r["plan"].update(decisions=[DECISION | {"role": "client"}]),
         "/plan/decisions/0/role", "assistant, colourist, in_charge"),
        (lambda r: r["facts"]["tests"][0].update(result="fine"), "/facts/tests/0/result", "clear"),
        (lambda r: r["facts"]["tests"][0].update(read_by=""), "/facts/tests/0/read_by",
         "1 to 120 characters"),
        (lambda r: r["plan"].update(house={"test_validity": TERMS | {"months": 13}}),
         "/plan/house/test_validity/months", "1 to 12"),
        (lambda r: r["plan"].update(house={"test_validity": TERMS | {"by": ""}}),
         "/plan/house/test_validity/by", "1 to 120 characters"),
        (lambda r: r["plan"].update(house={"test_min_hours": 24}), "/plan/house/test_min_hours",
         "48 to 1000"),
    ],
)  # fmt: skip
def test_an_unknown_fact_or_a_wrong_shape_is_the_first_place_named(client, bend, pointer, says):
    places = refused(client, bend, 400)
    assert list(places) == [pointer]
    assert says in places[pointer]


@pytest.mark.parametrize(
    ("bend", "pointer", "says"),
    [
        (lambda r: r["facts"].update(said_at=[{"fact": "scalpp", "at": r["now"]}]),
         "/facts/said_at/0/fact", "There is no fact 'scalpp'. Did you mean scalp?"),
        (lambda r: r["plan"]["lines"][0].update({"class": "direct_dye"}), "/plan/lines/0",
         "A line needs one class"),
        (lambda r: r["plan"]["lines"][0].pop("product_class"), "/plan/lines/0",
         "A line needs one class"),
        (lambda r: r["plan"]["lines"][0].update(test={"min_hours": 72, "max_hours": 48}),
         "/plan/lines/0/test/max_hours", "The test's longest time must be at least"),
        (lambda r: r["plan"].update(purpose="swatch"), "/plan/grams", "Say how many grams"),
        (lambda r: r["plan"].update(purpose="test_dab", grams=40), "/plan/grams",
         "A test dab takes at most 10 g; got 40. For more, the purpose is client."),
        (lambda r: house(r, "face-rsh", "stop"), "/plan/house/rules/0/rule", "There is no rule"),
        (lambda r: house(r, "face-rash", "advise"), "/plan/house/rules/0/severity",
         "face-rash is stop here and may only be made stricter; got advise."),
        (lambda r: house(r, "signs-eye", "stop"), "/plan/house/rules/0/rule", "signs-eye is the"),
        (lambda r: house(r, "decision-unsigned", "stop"), "/plan/house/rules/0/rule", "decision"),
        (lambda r: house(r, "strand-not-done", "advise"), "/plan/house/rules/0/review_on",
         "A milder rule needs a day on which it is looked at again."),
        (lambda r: house(r, "gloves-not-on", "stop", by="-"), "/plan/house/rules/0/by", "Say who"),
    ],
)  # fmt: skip
def test_a_plan_that_cannot_be_meant_is_refused(client, bend, pointer, says):
    places = refused(client, bend)
    assert list(places) == [pointer]
    assert places[pointer].startswith(says)


def house(request, rule, severity, by="Ana"):
    own = {"rule": rule, "severity": severity, "by": by, "why": "our way"}
    request["plan"]["house"] = {"rules": [own]}


def test_a_hold_is_an_answer_and_never_a_refusal(client):
    request = copy.deepcopy(REGULAR) | {"facts": {}}
    reply = client.post("/api/safety/reviews", json=request)
    assert reply.status_code == 200
    assert not reply.json()["may_start"]


def test_the_rules_are_told_to_whoever_asks(client):
    told = client.get("/api/safety/rules").json()
    assert [rule["id"] for rule in told["rules"]] == list(rules_by_id())
    sources = {source["key"] for source in told["sources"]}
    assert all(set(rule["sources"]) <= sources for rule in told["rules"])
    assert client.head("/api/safety/rules").status_code == 200
    assert client.post("/api/safety/rules").status_code == 405
