"""The desk backs itself up: what it proves, what it keeps, and what it says where it cannot."""

import errno
import shutil
import sqlite3
from contextlib import closing
from datetime import date, timedelta

import pytest
from litestar.testing import TestClient
from sqlite_utils import Database
from waiting import once

from basinside.app import create_app
from basinside.cli.doctor import _backups
from basinside.cli.keep import erase, restore
from basinside.cli.serve import Settings
from basinside.service.http import backups as by_itself
from basinside.service.store import salon as salon_module
from basinside.service.store.migrations import migrations
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.store.unready import Unready
from basinside.service.store.whole_copies import COPIES_FOLDER, copies, drop_old, of_day
from basinside.service.whole.backups import EVERY_MS, back_up, backup_state, holds_erased, is_due
from basinside.service.whole.erasing import erase_client
from basinside.service.whole.ledger import Ledger

NOON_MS = 1_796_040_000_000  # 30 November 2026, 12:00 UTC


def notes_in(path):
    with closing(sqlite3.connect(path)) as copy:
        return copy.execute("SELECT COUNT(*) FROM log").fetchone()[0]


def names_in(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_proven_copy_brings_every_entry_back(phone, salon, folder, tmp_path):
    phone.push(phone.note(), phone.note())
    state = back_up(salon, NOON_MS)
    assert (state.proven_at, state.failed) == ("2026-11-30T12:00:00.000Z", "")
    assert state == backup_state(folder)
    (copy,) = copies(folder)
    assert names_in(copy.parent) == ["last.json", copy.name]
    restored = Settings("127.0.0.1", 0, tmp_path / "other")
    restore(restored, copy)
    assert notes_in(restored.data_folder / DATABASE_FILE) == notes_in(salon.path) == 2


def test_what_a_killed_backup_left_is_cleared(salon, folder):
    left = folder / COPIES_FOLDER
    (left / "trial-x").mkdir(parents=True)
    for name in ("salon-2026-11-29.db.new", "salon-before-x.db.9.partial", "trial-x/salon.db"):
        (left / name).write_bytes(b"records")
    assert back_up(salon, NOON_MS).failed == ""
    assert names_in(left) == ["last.json", "salon-2026-11-30.db"]


def test_one_is_due_after_a_day_and_where_the_clock_went_back(salon):
    state = back_up(salon, NOON_MS)
    assert not is_due(state, NOON_MS + EVERY_MS - 1)
    assert is_due(state, NOON_MS + EVERY_MS)
    assert is_due(state, NOON_MS - 1)
    assert is_due(backup_state(salon.path.parent / "none"), NOON_MS)


def test_seven_days_and_four_weeks_are_kept(tmp_path):
    last = date(2026, 11, 30)  # a Monday
    (tmp_path / COPIES_FOLDER).mkdir()
    for back in range(60):
        of_day(tmp_path, last - timedelta(days=back)).touch()
    drop_old(tmp_path)
    days = {*range(7), 1, 8, 15}  # today begins a week; the Sundays before end theirs
    assert set(copies(tmp_path)) == {of_day(tmp_path, last - timedelta(days=n)) for n in days}


def change_each_copy(salon, monkeypatch, statement):
    """Has every further copy of the salon changed before it is proven."""
    whole = salon.copy_to

    def changed(path):
        whole(path)
        with closing(sqlite3.connect(path)) as copy, copy:
            copy.execute(statement)

    monkeypatch.setattr(salon, "copy_to", changed)


def test_a_damaged_copy_is_refused_and_the_one_before_stays(phone, salon, folder, monkeypatch):
    phone.push(phone.note())
    back_up(salon, NOON_MS)
    change_each_copy(salon, monkeypatch, "UPDATE record SET change = CAST('{}' AS BLOB)")
    state = back_up(salon, NOON_MS + EVERY_MS)
    assert state.failed == "The last backup failed its trial. Run `basinside doctor` at the desk."
    assert state.proven_at == "2026-11-30T12:00:00.000Z"
    assert copies(folder) == [of_day(folder, date(2026, 11, 30))]


def test_a_copy_of_another_history_is_refused(phone, salon, monkeypatch):
    phone.push(phone.note())
    change_each_copy(salon, monkeypatch, "UPDATE log SET chain = x'00'")
    assert back_up(salon, NOON_MS).failed.startswith("The last backup failed its trial.")


def test_a_full_disk_is_a_sentence_here_in_health_and_at_the_doctor(
    client, salon, folder, monkeypatch
):
    def full(_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(salon, "copy_to", full)
    client.app.state.desk.backups = back_up(salon, NOON_MS)
    said = "The last backup failed: the desk's disk is full. Make room there."
    assert client.get("/api/health").json()["backup_failed"] == said
    assert copies(folder) == []
    with pytest.raises(Unready, match="disk is full"):
        _backups(Settings("127.0.0.1", 0, folder))


def test_the_doctor_calls_a_backup_of_last_week_wrong(salon, folder):
    back_up(salon, NOON_MS - 7 * EVERY_MS)
    with pytest.raises(Unready, match=r"The last backup is \d+ days old"):
        _backups(Settings("127.0.0.1", 0, folder))


def test_a_running_desk_backs_up_by_itself(folder, monkeypatch):
    monkeypatch.setattr(by_itself, "FIRST_LOOK_AFTER_S", 0.0)
    with TestClient(create_app(folder)) as client:
        once(lambda: client.get("/api/health").json()["backup_proven_at"], bool)
    assert len(copies(folder)) == 1


def test_an_upgrade_begins_with_a_copy_and_not_without(tmp_path, monkeypatch):
    older = tmp_path / DATABASE_FILE
    with closing(Database(older).conn) as connection:
        migrations.apply(Database(connection), stop_before="0006_photos")

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(salon_module, "copied", full)
    with pytest.raises(Unready, match="no copy of them can be written first"):
        Salon(older)
    monkeypatch.undo()
    Salon(older).close()
    (copy,) = copies(tmp_path)
    assert copy.name == "salon-before-0006_photos.db"
    with closing(sqlite3.connect(copy)) as kept:
        tables = {row[0] for row in kept.execute("SELECT name FROM sqlite_master")}
    assert "aside" in tables
    assert "photo" not in tables


def test_no_server_starts_on_damaged_pages_and_it_names_the_backup(phone, salon, folder):
    phone.push(phone.note())
    back_up(salon, NOON_MS)
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    salon.close()
    whole = bytearray(salon.path.read_bytes())
    page = int.from_bytes(whole[16:18], "big")  # sqlite.org/fileformat.html, offset 16
    for start in range(8 * page, 12 * page, page):
        whole[start : start + 16] = b"\xff" * 16
    stopped = folder.parent / "stopped"
    shutil.copytree(folder, stopped)
    (stopped / DATABASE_FILE).write_bytes(whole)
    with pytest.raises(Unready, match="are damaged") as told:
        create_app(stopped)
    assert f"basinside restore {copies(stopped)[0]}" in str(told.value)


CANARY = "quartzfinch"
CLIENT = "0199c0de-0000-7000-8000-00000000c11e"


def bytes_in(folder):
    return b"".join(path.read_bytes() for path in copies(folder))


def test_who_was_erased_is_soon_in_no_backup(phone, salon, folder):
    phone.push(phone.op("client.create", CLIENT, {"name": CANARY}))
    for day in (2, 1, 0):
        assert back_up(salon, NOON_MS - day * EVERY_MS).failed == ""
    assert not holds_erased(salon)
    assert CANARY.encode() in bytes_in(folder)
    # As the server does by itself: the day's copy is no day old, but it still holds the person.
    erase_client(salon, Ledger(folder), CLIENT, NOON_MS)
    assert holds_erased(salon)
    assert back_up(salon, NOON_MS + 1).failed == ""
    assert len(copies(folder)) == 1
    assert CANARY.encode() not in bytes_in(folder)
    assert not holds_erased(salon)


def test_the_command_that_erases_at_once_replaces_them_too(phone, salon, folder, capsys):
    phone.push(phone.op("client.create", CLIENT, {"name": CANARY}))
    back_up(salon, NOON_MS)
    assert erase(Settings("127.0.0.1", 0, folder), CLIENT, now=True) == 0
    assert "backups made by hand still hold them" in capsys.readouterr().out
    assert len(copies(folder)) == 1
    assert CANARY.encode() not in bytes_in(folder)
