"""Databases of every step so far are opened and lose nothing; a newer one is left as it is."""

import json
import sqlite3
import subprocess
import sys
from contextlib import closing
from zlib import crc32

import pytest
from sqlite_utils import Database, Migrations

from basinside.service.store import salon as salon_module
from basinside.service.store.migrations import migrations
from basinside.service.store.photos import name_photos
from basinside.service.store.salon import Salon
from basinside.service.store.search_index import index_anew
from basinside.service.store.unready import Unready

STEPS = [step.name for step in migrations.pending(Database(memory=True))]
CLIENT = "0199c0de-0000-7000-8000-00000000c11e"
NOTE = "0199c0de-0000-7000-8000-00000000007e"
OP = "0199c0de-0000-7000-8000-0000000000{}"
STAMP = "2026-11-25T10:15:03.120Z-0000-0199c0de-0000-7000-8000-00000000000a"
PHOTO = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def write(fields, op):
    return {name: {"v": v, "op": op, "eff": STAMP, "by": "ana"} for name, v in fields.items()}


def filled(path, until):
    """A database as it was before a step, with a client and a note in it, and what it holds."""
    db = Database(path)
    migrations.apply(db, stop_before=until)
    db.execute("INSERT INTO salon (only_one, salon_id) VALUES (1, 'a salon')")
    db.execute("INSERT INTO epoch VALUES (1, 0, '2026-11-25T10:00:00.000Z', 'the first')")
    records = [
        (CLIENT, "client", {"name": "Ona Petrel"}),
        (NOTE, "note", {"client": CLIENT, "text": "beige", "photo": PHOTO}),
    ]
    for seq, (entity_id, kind, fields) in enumerate(records, start=1):
        op = OP.format(f"c{seq}")
        change = {
            "entity_id": entity_id, "kind": kind, "seq": seq, "gone": False,
            "fields": write(fields, op), "created": [{"op": op, "eff": STAMP, "by": "ana"}],
        }  # fmt: skip
        body = {
            "op_id": op, "device_seq": seq, "hlc": STAMP, "schema": 2, "kind": f"{kind}.create",
            "entity_id": entity_id, "by": "ana", "fields": fields,
        }  # fmt: skip
        db.execute(
            "INSERT INTO log (seq, op_id, device_id, device_seq, entity_id, eff, clock_off,"
            " received_at, sha256, chain, body)"
            " VALUES (?, ?, 'd', ?, ?, ?, 0, '', x'00', x'00', ?)",
            [seq, op, seq, entity_id, STAMP, json.dumps(body).encode()],
        )
        kept = {
            "entity_id": entity_id, "kind": kind, "seq": seq, "client": CLIENT, "service": None,
            "at": "2026-11-25T10:15:03Z", "gone": 0, "asks": 0,
            "change": json.dumps(change).encode(),
        }  # fmt: skip
        if "crc" in db["record"].columns_dict:
            kept["crc"] = crc32(kept["change"])
        marks = ", ".join("?" * len(kept))
        db.execute(f"INSERT INTO record ({', '.join(kept)}) VALUES ({marks})", list(kept.values()))
    if db["search_client"].exists():
        index_anew(db.conn)
    if db["photo_named"].exists():
        name_photos(db.conn, db.conn.execute("SELECT entity_id, kind, change FROM record"))
    db.conn.commit()
    held = holds(path)
    db.close()
    return held


def holds(path):
    """All statements that make the database and fill it again."""
    with closing(sqlite3.connect(path)) as db:
        return list(db.iterdump())


def test_there_are_steps_to_try():
    assert STEPS[0] == "0001_log_and_records"
    assert sorted(STEPS) == STEPS
    assert len(STEPS) >= 6


@pytest.mark.parametrize("until", STEPS[1:])
def test_a_database_of_an_earlier_step_opens_with_all_it_held(tmp_path, until):
    path = tmp_path / "salon.db"
    filled(path, until)
    salon = Salon(path)
    with salon.reading() as reading:
        records = reading.changed_after(0, 10)
        assert [kept.entity_id for kept in records] == [CLIENT, NOTE]
        assert not reading.unsound
        assert [row[0] for row in reading.found("petrel", ["client", "note"], 9)] == [CLIENT]
        assert [each.seq for each in reading.log_after(0, 10)] == [1, 2]
        assert reading.photos_missing("", 9) == [PHOTO]
        assert reading.held("", "", 9) == reading.aside("", 9) == []
        assert reading.reviewed_seq() in (0, 2)
    with salon.writing() as writing:
        writing.keep(records)  # and it can be written
    assert salon.run_alone("PRAGMA integrity_check") == [("ok",)]
    salon.close()


def test_every_way_through_the_steps_ends_in_the_same_tables(tmp_path):
    def tables(path):
        Salon(path).close()
        with closing(sqlite3.connect(path)) as db:
            return db.execute("SELECT name, sql FROM sqlite_schema ORDER BY name").fetchall()

    new = tables(tmp_path / "new.db")
    for until in STEPS[1:]:
        filled(tmp_path / f"{until}.db", until)
        assert tables(tmp_path / f"{until}.db") == new, until


def test_a_newer_database_is_refused_in_words_and_left_as_it_is(tmp_path):
    path = tmp_path / "salon.db"
    Salon(path).close()
    with closing(sqlite3.connect(path)) as db, db:
        db.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at)"
            " VALUES ('salon', '0999_of_tomorrow', '')"
        )
    before = holds(path)
    with pytest.raises(Unready, match=r"newer Basinside wrote .* 0999_of_tomorrow"):
        Salon(path)
    assert holds(path) == before


@pytest.fixture
def breaking(monkeypatch):
    """The steps so far and one more, which breaks after it has begun."""
    steps = Migrations("salon")
    for step in migrations.pending(Database(memory=True)):
        steps(name=step.name)(step.fn)

    @steps(name="0998_breaks")
    def breaks(db):
        db.execute("ALTER TABLE record ADD COLUMN half TEXT")
        db.execute("DELETE FROM log")
        db.execute("UPDATE nowhere SET half = 1")

    monkeypatch.setattr(salon_module, "migrations", steps)


@pytest.mark.usefixtures("breaking")
def test_a_step_that_breaks_midway_leaves_what_was_there_whole(tmp_path, monkeypatch):
    path = tmp_path / "salon.db"
    filled(path, "0998_breaks")
    before = holds(path)
    with pytest.raises(Unready, match="cannot be opened: no such table: nowhere"):
        Salon(path)
    assert holds(path) == before
    monkeypatch.undo()
    salon = Salon(path)
    with salon.reading() as reading:
        assert reading.end().seq == 2
    salon.close()


# Opens the database named to it with one step more, in which the process dies.
KILLED = """
import os, signal, sys
from pathlib import Path
from basinside.service.store.migrations import migrations
from basinside.service.store.salon import Salon

@migrations(name="0998_killed")
def killed(db):
    db.execute("ALTER TABLE record ADD COLUMN half TEXT")
    db.execute("DELETE FROM log")
    os.kill(os.getpid(), signal.SIGKILL)

Salon(Path(sys.argv[1]))
"""


def test_a_step_in_which_the_power_goes_leaves_what_was_there_whole(tmp_path):
    path = tmp_path / "salon.db"
    filled(path, None)
    before = holds(path)
    killed = subprocess.run([sys.executable, "-c", KILLED, path], check=False)
    assert killed.returncode == -9
    assert holds(path) == before
    Salon(path).close()
