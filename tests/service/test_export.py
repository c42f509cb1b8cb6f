"""What another program reads: values as they are shown, in the order of their last change."""

import sys
import time
from pathlib import Path

import pytest
from litestar.testing import TestClient

from basinside.app import create_app
from basinside.service.records.instants import instant_text

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "sync"))
from phone import Phone

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
OTHER = "0199c0de-0000-7000-8000-00000000c12e"
SERVICE = "0199c0de-0000-7000-8000-0000000005e1"
LINE = "0199c0de-0000-7000-8000-00000000011e"
CALLS = ("clients", "services", "notes", "formulas")


@pytest.fixture
def reader(tmp_path):
    with TestClient(create_app(tmp_path), base_url="http://127.0.0.1") as client:
        now_ms = time.time_ns() // 1_000_000
        phone = Phone(client, client.app.state.desk.salon, 1, now_ms)
        phone.pair(now_ms)
        yield phone


def read(phone, name, **query):
    reply = phone.client.get(f"/api/{name}", params=query, headers=phone.headers)
    assert reply.status_code == 200, reply.text
    return reply.json()


def note(phone, text, **fields):
    return phone.op("note.create", next(phone.ids), {"text": text, **fields})


def test_each_kind_is_read_by_itself_with_its_values(reader):
    reader.push(
        reader.op("client.create", CLIENT, {"name": "Ona Petrel", "phone": "020 7946 0991"}),
        reader.op("service.create", SERVICE, {"client": CLIENT, "purpose": "client"}),
        note(reader, "beige at eight", service=SERVICE, client=CLIENT),
        reader.op("formula.create", next(reader.ids), {"client": CLIENT, "name": "pearl ends"}),
    )
    told = {name: read(reader, name)["records"] for name in CALLS}
    assert [len(told[name]) for name in CALLS] == [1, 1, 1, 1]
    (client,), (service,), (said,), (formula,) = told.values()
    assert client["values"] == {"name": "Ona Petrel", "phone": "020 7946 0991"}
    assert (service["client"], service["values"]["purpose"]) == (CLIENT, "client")
    assert (said["service"], said["client"]) == (SERVICE, CLIENT)
    assert formula["values"]["name"] == "pearl ends"


def test_pages_give_what_one_page_gives_in_the_order_of_change(reader):
    reader.push(*[note(reader, f"note {n}") for n in range(7)])
    whole = read(reader, "notes")
    paged, after = [], {}
    while True:
        page = read(reader, "notes", limit=3, **after)
        paged += page["records"]
        after = {"after": page["next"]}
        if not page["more"]:
            break
    assert paged == whole["records"]
    assert [each["seq"] for each in paged] == list(range(1, 8))
    assert page["next"] == whole["next"]


def test_asking_on_gives_what_changed_since_and_nothing_else(reader):
    create = reader.op("client.create", CLIENT, {"name": "Ona"})
    reader.push(create, reader.op("client.create", OTHER, {"name": "Ben"}))
    first = read(reader, "clients")
    assert read(reader, "clients", after=first["next"])["records"] == []
    reader.push(
        reader.op("client.set", CLIENT, {"name": "Una"}, base={"name": [create["op_id"]]}),
        note(reader, "not a client"),
    )
    (changed,) = read(reader, "clients", after=first["next"])["records"]
    assert (changed["id"], changed["values"]["name"]) == (CLIENT, "Una")


def test_they_are_narrowed_by_client_by_day_and_by_words(reader):
    reader.push(
        note(reader, "Beige at eight", client=CLIENT, at="2026-11-24T23:59:59Z"),
        note(reader, "beige at nine", client=CLIENT, at="2026-11-25T01:00:00+02:00"),
        note(reader, "violet", client=OTHER, at="2026-11-25T12:00:00Z"),
    )

    def texts(**query):
        return [each["values"]["text"] for each in read(reader, "notes", **query)["records"]]

    assert texts(client=OTHER) == ["violet"]
    # 01:00 two hours east of UTC is 23:00 of the day before.
    assert texts(day="2026-11-24") == ["Beige at eight", "beige at nine"]
    assert texts(day="2026-11-25") == ["violet"]
    assert texts(text="BEI") == ["Beige at eight", "beige at nine"]
    assert texts(text="beige nine", client=CLIENT) == ["beige at nine"]


def test_what_two_wrote_apart_is_named_and_caution_is_what_shows(reader):
    create = reader.op("client.create", CLIENT, {"name": "Ona"})
    apart = {"base": {"name": [create["op_id"]]}}
    reader.push(
        create,
        reader.op("client.set", CLIENT, {"name": "Una", "dye_allergy": "suspected"}, **apart),
        reader.op("client.set", CLIENT, {"name": "Oona", "dye_allergy": "unknown"}, **apart),
    )
    (client,) = read(reader, "clients")["records"]
    assert client["values"] == {"name": "Oona", "dye_allergy": "suspected"}
    assert client["apart"] == ["dye_allergy", "name"]


def test_a_deletion_is_told_and_a_record_without_its_beginning_is_not_complete(reader):
    create = reader.op("client.create", CLIENT, {"name": "Ona"})
    reader.push(
        create,
        reader.op("client.gone", CLIENT, seen=[create["op_id"]], base={"gone": []}),
        reader.op("client.set", OTHER, {"phone": "020 7946 0992"}, base={"phone": []}),
    )
    deleted, begun = read(reader, "clients")["records"]
    assert (deleted["gone"], deleted["complete"]) == (True, True)
    assert (begun["gone"], begun["complete"]) == (False, False)


@pytest.mark.parametrize("name", [*CALLS, "search?q=ona"])
def test_nobody_reads_without_a_token_or_with_one_that_was_taken_back(reader, name):
    get = reader.client.get
    assert get(f"/api/{name}").status_code == 401
    wrong = get(f"/api/{name}", headers={"authorization": "Bearer made-up"})
    assert (wrong.status_code, wrong.json()["code"]) == (401, "pairing_expired")
    with reader.salon.writing() as writing:
        writing.revoke(reader.device_id, instant_text(reader.now_ms))
    taken = get(f"/api/{name}", headers=reader.headers)
    assert (taken.status_code, taken.json()["code"]) == (403, "device_revoked")


@pytest.mark.parametrize(
    "query",
    [
        {"after": "yesterday"},
        {"limit": "0"},
        {"limit": "501"},
        {"client": "Ona"},
        {"day": "25 November"},
        {"text": " - "},
        {"text": "x" * 201},
    ],
)
@pytest.mark.parametrize("name", CALLS)
def test_a_question_that_cannot_be_read_is_refused_in_words(reader, name, query):
    reply = reader.client.get(f"/api/{name}", params=query, headers=reader.headers)
    assert (reply.status_code, reply.json()["code"]) == (400, "body_unreadable")
    assert next(iter(query)) in reply.json()["detail"] or "cursor" in reply.json()["detail"]


@pytest.mark.parametrize("query", ["clinet=x", "limit=1&limit=2", "limit=1&%00=1"])
@pytest.mark.parametrize("name", CALLS)
def test_a_parameter_that_is_unknown_or_given_twice_is_refused(reader, name, query):
    reply = reader.client.get(f"/api/{name}?{query}", headers=reader.headers)
    assert (reply.status_code, reply.json()["code"]) == (400, "body_unreadable")
    assert "parameter" in reply.json()["detail"] or "once" in reply.json()["detail"]


def test_a_place_in_another_history_is_refused(reader):
    after = reader.client.get("/api/notes", headers=reader.headers).json()["next"]
    with reader.salon.writing() as writing:
        writing.begin_epoch(2, "2026-11-25T10:00:00Z", "a copy was put back")
    for place, code in (
        (after, (409, "epoch_changed")),
        ("e9.1.00000000", (400, "cursor_unknown")),
    ):
        reply = reader.client.get("/api/notes", params={"after": place}, headers=reader.headers)
        assert (reply.status_code, reply.json()["code"]) == code


def test_products_are_the_demo_shelf_without_a_token_and_the_salon_s_own_with_one(reader):
    demo = reader.client.get("/api/products").json()
    assert demo["demo"] is True
    line = {
        "name": "Wren",
        "class": "neutral_demi",
        "mix_ratio": 1,
        "developer_percent": [1.9],
        "window": {"min": 5, "max": 20},
    }
    shade = {"line": LINE, "name": "9 violet", "level": 9, "tone": ["violet"]}
    reader.push(
        reader.op("line.create", LINE, line),
        reader.op("product.create", next(reader.ids), shade),
        # One whose tone is not known yet cannot be calculated with.
        reader.op("product.create", next(reader.ids), {"line": LINE, "name": "new", "level": 8}),
    )
    own = read(reader, "products")
    (product,) = own["products"]
    assert "demo" not in own
    assert (product["line"], product["name"]) == ("Wren", "9 violet")
    asked = {
        "hair": {"level": 10},
        "wish": {"level": 9, "tone": ["violet"]},
        "products": own["products"],
    }
    assert reader.client.post("/api/formulations", json=asked).status_code == 200
    assert "promised_on" not in {name for name, value in product.items() if value is not None}
    wrong = reader.client.get("/api/products", headers={"authorization": "Bearer made-up"})
    assert wrong.status_code == 401


@pytest.mark.parametrize(
    ("said", "sent"), [("any", None), ("lifted", "lifted"), ("white", "white")]
)
def test_products_say_which_hair_their_line_is_made_for(reader, said, sent):
    line = {
        "name": "Wren",
        "class": "neutral_demi",
        "developer_percent": [1.9],
        "window": {"min": 5, "max": 20},
        "promised_on": said,
    }
    shade = {"line": LINE, "name": "9 violet", "level": 9, "tone": ["violet"]}
    reader.push(
        reader.op("line.create", LINE, line),
        reader.op("product.create", next(reader.ids), shade),
    )
    (product,) = read(reader, "products")["products"]
    assert product.get("promised_on") == sent
