"""Rows of the desk's records that are not as they were written: nothing stops, nothing is lost."""

import base64
import json
import sqlite3
from contextlib import closing

import pytest
from test_push import CLIENT, problem

from basinside.cli.aside import write_aside
from basinside.cli.doctor import examine
from basinside.cli.serve import Settings
from basinside.service.store.unready import Unready
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

NAME, OTHER = b"Ona", b"Una"


@pytest.fixture
def settings(folder):
    return Settings("127.0.0.1", 0, folder)


@pytest.fixture
def made(phone):
    """A client and two notes, as they were pushed."""
    made = phone.op("client.create", CLIENT, {"name": "Ona", "phone": "020 7946 0991"})
    notes = [phone.note("first"), phone.note("second")]
    phone.push(made, *notes)
    return [made, *notes]


def spoil(salon, statement, *values):
    """Change the file behind the server's back, as a failing disk does."""
    with closing(sqlite3.connect(salon.path)) as disk, disk:
        assert disk.execute(statement, values).rowcount == 1


def spoil_record(salon, old=NAME, new=OTHER, entity_id=CLIENT):
    spoil(
        salon,
        "UPDATE record SET change = CAST(replace(CAST(change AS TEXT), ?, ?) AS BLOB)"
        " WHERE entity_id = ?",
        old.decode(),
        new.decode("latin-1"),
        entity_id,
    )


def forget_pages(salon):
    """What SQLite has read already it would not read again."""
    for connection in salon._opened:
        connection.execute("PRAGMA shrink_memory")


def unreadable(phone):
    told = phone.client.get("/api/matters", headers=phone.headers).json()["matters"]
    return [matter for matter in told if matter["why"] == "unreadable"]


# A flipped letter that still reads well, and bytes that are no JSON at all.
@pytest.mark.parametrize("new", [OTHER, b'"\x00'], ids=["another letter", "no JSON"])
@pytest.mark.usefixtures("made")
def test_a_record_whose_row_has_changed_comes_as_it_was_written_with_all_others(phone, salon, new):
    before, _ = phone.all_changes()
    spoil_record(salon, new=new)
    after, _ = phone.all_changes()
    assert after[CLIENT]["fields"] == before[CLIENT]["fields"]
    assert {**after, CLIENT: None} == {**before, CLIENT: None}


@pytest.mark.usefixtures("made")
def test_a_phone_that_had_read_past_it_hears_of_the_record_again(phone, salon):
    _, cursor = phone.all_changes()
    spoil_record(salon)
    phone.all_changes()
    (change,) = phone.pull(cursor=cursor).json()["changes"]
    assert change["entity_id"] == CLIENT
    assert change["fields"]["name"]["v"] == "Ona"


@pytest.mark.usefixtures("made")
def test_a_snapshot_and_a_reading_go_past_it_too(phone, salon):
    for path in ("/api/sync/snapshot", "/api/clients", "/api/search?q=Ona"):
        spoil_record(salon)
        reply = phone.client.get(path, headers=phone.headers)
        assert reply.status_code == 200, reply.text
        assert b"Una" not in reply.content


def test_a_write_to_it_is_folded_onto_what_was_written_not_onto_what_stands_there(
    phone, made, salon
):
    spoil_record(salon)
    base = {"phone": [made[0]["op_id"]]}
    assert phone.push(phone.op("client.set", CLIENT, {"phone": "020 7946 0992"}, base=base)).json()[
        "accepted"
    ]
    records, _ = phone.all_changes()
    fields = records[CLIENT]["fields"]
    assert (fields["name"]["v"], fields["phone"]["v"]) == ("Ona", "020 7946 0992")
    assert records[CLIENT]["created"][0]["op"] == made[0]["op_id"]


@pytest.mark.usefixtures("made")
def test_what_stood_there_is_listed_written_out_and_closed(phone, salon, settings, tmp_path):
    assert unreadable(phone) == []
    spoil_record(salon)
    phone.all_changes()
    (matter,) = unreadable(phone)
    assert (matter["settle"], matter["entity_id"]) == ("close", CLIENT)
    assert phone.client.get("/api/matters", headers=phone.headers).json()["in_all"] == 1
    write_aside(settings, tmp_path / "aside.ndjson")
    (line,) = (tmp_path / "aside.ndjson").read_text().splitlines()
    told = json.loads(line)
    assert (told["matter"], told["what"], told["seq"]) == (matter["id"], "record", 1)
    assert json.loads(base64.b64decode(told["row"]))["fields"]["name"]["v"] == "Una"
    with pytest.raises(Unready, match="exists already"):
        write_aside(settings, tmp_path / "aside.ndjson")
    phone.push(phone.op("closing.create", matter["id"], {"saw": "one letter", "why": "mended"}))
    assert unreadable(phone) == []


def test_an_operation_that_cannot_be_read_is_left_out_and_listed_and_the_rest_counts(
    phone, made, salon
):
    base = {"phone": [made[0]["op_id"]]}
    renamed = phone.op("client.set", CLIENT, {"phone": "020 7946 0992"}, base=base)
    phone.push(renamed)
    spoil(salon, "UPDATE log SET body = CAST('{' AS BLOB) WHERE op_id = ?", renamed["op_id"])
    spoil_record(salon)
    records, _ = phone.all_changes()
    assert records[CLIENT]["fields"]["phone"]["v"] == "020 7946 0991"
    assert {matter["words"].partition(" ")[0] for matter in unreadable(phone)} == {"A", "The"}
    assert phone.push(renamed).json()["duplicate"]


@pytest.mark.usefixtures("made")
def test_the_doctor_counts_it_and_finds_nothing_once_it_was_mended(phone, salon, settings, capsys):
    def said():
        capsys.readouterr()
        examine(settings)
        return next(line for line in capsys.readouterr().out.splitlines() if "Records: " in line)

    spoil_record(salon)
    assert said().startswith("wrong  Records: Damaged rows of records: 1.")
    phone.all_changes()
    assert said().startswith("ok     Records: 4 entries, all sound")


@pytest.mark.usefixtures("made")
def test_what_was_set_aside_of_a_client_goes_with_them(phone, salon, folder):
    spoil_record(salon)
    phone.all_changes()
    assert len(unreadable(phone)) == 1
    erase_client(salon, Ledger(folder), CLIENT, phone.now_ms)
    assert unreadable(phone) == []
    files = list(folder.glob("salon.db*"))
    assert files
    assert not any(name in file.read_bytes() for file in files for name in (NAME, OTHER))


@pytest.mark.usefixtures("made")
def test_a_damaged_page_is_told_as_such_and_takes_nothing_until_it_is_mended(client, phone, salon):
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    whole = salon.path.read_bytes()
    page = int.from_bytes(whole[16:18], "big")  # sqlite.org/fileformat.html, offset 16
    spoiled = bytearray(whole)
    for start in range(page, len(whole), page):
        spoiled[start : start + 16] = b"\xff" * 16
    salon.path.write_bytes(spoiled)
    forget_pages(salon)
    note = phone.note()
    for reply in (phone.pull(), phone.push(note)):
        problem(reply, 503, "damaged")
        assert "`basinside doctor`" in reply.json()["detail"]
        assert int(reply.headers["retry-after"]) > 0
    assert client.get("/api/health").status_code == 200
    salon.path.write_bytes(whole)
    forget_pages(salon)
    assert len(phone.push(note).json()["accepted"]) == 1
