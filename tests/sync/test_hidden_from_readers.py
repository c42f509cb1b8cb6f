"""A client whose erasure was asked for is given to no reader, until it is called off or done."""

import pytest
from test_push import CLIENT

from basinside.cli.keep import erase
from basinside.cli.serve import Settings
from basinside.service.http import recheck
from basinside.service.store.rows import Aside, Started
from basinside.service.whole.erasing import ask_to_erase

SERVICE = "0199c0de-0000-7000-8000-0000000005e1"
OTHER = "0199c0de-0000-7000-8000-00000000c12e"
NAME = "Quillfeather"
CALLS = ("clients", "services", "notes", "formulas", "matters")


@pytest.fixture(autouse=True)
def never(monkeypatch):
    """The desk looks at nothing again: it would take back what is put among the matters here."""
    monkeypatch.setattr(recheck, "EVERY_S", 1e6)


@pytest.fixture
def read(phone):
    def ask(call, **query):
        reply = phone.client.get(f"/api/{call}", params=query, headers=phone.headers)
        assert reply.status_code == 200, reply.text
        return reply.json()

    return ask


@pytest.fixture
def known(phone, salon):
    """A client with one of everything that is read, and of each kind of matter; and another."""
    made = phone.op("client.create", CLIENT, {"name": NAME})
    saw = {"base": {"name": [made["op_id"]]}}
    hers = [
        made,
        phone.op("service.create", SERVICE, {"client": CLIENT, "purpose": "client"}),
        # Whose it is, only its service says.
        phone.op("note.create", next(phone.ids), {"service": SERVICE, "text": f"{NAME} ends"}),
        phone.op("formula.create", next(phone.ids), {"client": CLIENT, "name": f"{NAME} pearl"}),
        phone.op("client.set", CLIENT, {"name": f"{NAME} A."}, **saw),
        phone.op("client.set", CLIENT, {"name": f"B. {NAME}"}, **saw),
        phone.op("client.create", OTHER, {"name": "Wren Aldous"}),
    ]
    assert len(phone.push(*hers).json()["accepted"]) == len(hers)
    with salon.writing() as writing:
        stamp = made["hlc"]
        writing.keep_started([Started(SERVICE, CLIENT, stamp, stamp[:24], "held one", b"[]")])
        writing.set_aside([Aside("row one", stamp[:24], "record", CLIENT, 1, NAME.encode())])
    return CLIENT


def test_no_reading_call_gives_them_or_what_hangs_on_them(known, phone, read, salon):
    before = {call: read(call) for call in CALLS}
    assert [len(before[call]["records"]) for call in CALLS[:-1]] == [2, 1, 1, 1]
    assert {matter["why"] for matter in before["matters"]["matters"]} == {
        "held", "apart", "unreadable",
    }  # fmt: skip
    ask_to_erase(salon, known, phone.now_ms)
    after = {call: read(call) for call in CALLS}
    assert [len(after[call]["records"]) for call in CALLS[:-1]] == [1, 0, 0, 0]
    assert after["clients"]["records"][0]["id"] == OTHER
    assert after["matters"] == {"matters": [], "next": None, "in_all": 0}
    for narrowed in ({"client": CLIENT}, {"text": NAME}, {"text": "ends"}):
        for call in ("clients", "notes", "formulas"):
            assert read(call, **narrowed)["records"] == []
    assert read("search", q=NAME)["found"] == []


def test_called_off_they_come_to_who_read_on_meanwhile(known, phone, read, salon, folder):
    ask_to_erase(salon, known, phone.now_ms)
    cursors = {call: read(call)["next"] for call in CALLS[:-1]}
    assert all(read(call, after=cursors[call])["records"] == [] for call in cursors)
    assert erase(Settings("127.0.0.1", 0, folder), known, keep=True) == 0
    came = {call: read(call, after=cursors[call])["records"] for call in cursors}
    assert [len(came[call]) for call in cursors] == [1, 1, 1, 1]
    assert came["clients"][0]["id"] == known
    assert read("matters")["in_all"] == 3


def test_while_a_product_is_on_their_head_they_are_given(known, phone, read, salon):
    at = "2026-11-25T10:15:03Z"
    zone = phone.op("zone.create", next(phone.ids), {"service": SERVICE, "first_section_at": at})
    phone.push(zone)
    ask_to_erase(salon, known, phone.now_ms)
    assert known in {record["id"] for record in read("clients")["records"]}
    rinsed = phone.op("zone.set", zone["entity_id"], {"rinsed_at": at})
    assert phone.push(rinsed).json()["accepted"]
    assert [record["id"] for record in read("clients")["records"]] == [OTHER]
