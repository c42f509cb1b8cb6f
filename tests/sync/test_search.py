"""The search finds what records now say, at once, and keeps nothing of what was erased."""

import sqlite3

import pytest
from sqlite_utils import Database

from basinside.service.store.migrations import migrations
from basinside.service.store.salon import Salon
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
CANARY = "quillfeather"


def found(phone, q, **query):
    reply = phone.client.get("/api/search", params={"q": q, **query}, headers=phone.headers)
    assert reply.status_code == 200, reply.text
    return [each["words"] for each in reply.json()["found"]]


def about(phone, kind, fields):
    return phone.op(f"{kind}.create", next(phone.ids), {"client": CLIENT, **fields})


def test_it_finds_each_kind_clients_first_and_the_latest_first(phone):
    phone.push(
        phone.note("wren on the ends"),
        phone.note("Wren again"),
        about(phone, "history_entry", {"what": "box dye, wren"}),
        about(phone, "formula", {"name": "wren, pearl"}),
        phone.op("client.create", CLIENT, {"name": "Ada Wren"}),
    )
    assert found(phone, "wren") == [
        "Ada Wren",
        "wren, pearl",
        "box dye, wren",
        "Wren again",
        "wren on the ends",
    ]


def test_every_word_counts_begun_or_whole_whatever_accents_and_capitals(phone):
    phone.push(phone.note("Crème brûlée at the nape"), phone.note("crème alone"))
    assert found(phone, "CREME nap") == ["Crème brûlée at the nape"]
    assert found(phone, "creme violet") == []


@pytest.mark.parametrize(
    "typed", ['nape"', "nape*", "nape OR", "(nape", "kind:nape", "nape-", "NEAR nape"]
)
def test_signs_of_a_query_language_are_letters_like_any_other(phone, typed):
    phone.push(phone.note("nape or near kind"))
    assert found(phone, typed) == ["nape or near kind"]


def test_a_change_is_found_at_once_and_the_old_words_no_more(phone):
    create = phone.op("client.create", CLIENT, {"name": "Ona"})
    phone.push(create)
    phone.push(phone.op("client.set", CLIENT, {"name": "Una"}, base={"name": [create["op_id"]]}))
    assert (found(phone, "ona"), found(phone, "una")) == ([], ["Una"])


def test_a_note_on_a_service_says_whose_it_is(phone):
    service = next(phone.ids)
    phone.push(
        phone.op("client.create", CLIENT, {"name": "Ada Wren"}),
        phone.op("service.create", service, {"client": CLIENT}),
        phone.op("note.create", next(phone.ids), {"service": service, "text": "heather"}),
    )
    reply = phone.client.get("/api/search", params={"q": "heather"}, headers=phone.headers)
    [note] = reply.json()["found"]
    assert (note["client"], note["client_name"]) == (CLIENT, "Ada Wren")


def test_what_two_wrote_apart_is_found_by_either(phone):
    create = phone.op("client.create", CLIENT, {"name": "Ona"})
    apart = {"base": {"name": [create["op_id"]]}}
    phone.push(create, phone.op("client.set", CLIENT, {"name": "Una"}, **apart))
    phone.push(phone.op("client.set", CLIENT, {"name": "Oona"}, **apart))
    assert found(phone, "una") == found(phone, "oona") == ["Una Oona"]


def test_a_deleted_record_is_found_once_it_is_back(phone):
    create = phone.op("client.create", CLIENT, {"name": "Ona"})
    gone = phone.op("client.gone", CLIENT, seen=[create["op_id"]], base={"gone": []})
    phone.push(create, gone)
    assert found(phone, "ona") == []
    phone.push(phone.op("client.restore", CLIENT, base={"gone": [gone["op_id"]]}))
    assert found(phone, "ona") == ["Ona"]


def test_more_than_is_told_is_said(phone):
    phone.push(*[phone.note(f"wren {n}") for n in range(4)])
    reply = phone.client.get("/api/search?q=wren&limit=3", headers=phone.headers).json()
    assert (len(reply["found"]), reply["more"]) == (3, True)


@pytest.mark.parametrize("query", ["", "?q=", "?q=%20-", f"?q={'x' * 201}", "?q=a&limit=101"])
def test_nothing_to_look_for_is_refused_in_words(phone, query):
    reply = phone.client.get(f"/api/search{query}", headers=phone.headers)
    assert (reply.status_code, reply.json()["code"]) == (400, "body_unreadable")


def test_words_are_not_looked_for_where_a_kind_has_none(phone):
    reply = phone.client.get("/api/services?text=beige", headers=phone.headers)
    assert (reply.status_code, reply.json()["code"]) == (400, "body_unreadable")
    assert reply.json()["detail"] == (
        'There is no parameter "text". It takes after, limit, client, day.'
    )


def test_an_erased_client_leaves_no_word_in_any_byte_of_the_files(phone, salon, folder):
    phone.push(
        phone.op("client.create", CLIENT, {"name": f"Ona {CANARY}"}),
        *[about(phone, "note", {"text": f"{CANARY}{n} and {CANARY}"}) for n in range(50)],
        phone.note("stays"),
    )
    assert len(found(phone, CANARY)) == 51
    assert bytes_with(folder, CANARY)
    erase_client(salon, Ledger(folder), CLIENT, phone.now_ms)
    assert found(phone, CANARY) == []
    assert found(phone, "stays") == ["stays"]
    assert bytes_with(folder, CANARY) == []


def bytes_with(folder, word):
    # The index keeps a word without what it shares with the one before: its end is looked for too.
    parts = (word.encode(), word[2:].encode())
    return [
        file.name
        for file in folder.glob("salon.db*")
        if any(part in file.read_bytes() for part in parts)
    ]


def test_records_of_an_older_layout_are_found_after_the_step(tmp_path, phone, salon):
    phone.push(phone.note("wren before the step"))
    old = tmp_path / "old.db"
    db = Database(sqlite3.connect(old))
    migrations.apply(db, stop_before="0002_search_and_order_of_kinds")
    with salon.reading() as reading:
        (kept,) = reading.changed_after(0, 9)
    db.conn.execute(
        "INSERT INTO record (entity_id, kind, seq, client, service, at, gone, asks, change)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        kept,
    )
    db.conn.commit()
    db.close()
    stepped = Salon(old)
    with stepped.reading() as reading:
        assert [row[2] for row in reading.found("wren", ["note"], 9)] == ["wren before the step"]
    stepped.close()
