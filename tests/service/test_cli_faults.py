"""Every command on records meets every fault with a sentence and an exit status."""

import shutil
import sqlite3
import time
import uuid
from contextlib import closing

import pytest
from drawing import seeds

from basinside import cli
from basinside.contract.devices import Pairing
from basinside.service.store.key import KEY_FILE
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.pairing import Gate, new_code
from basinside.service.whole.tide import begin

DAY_NS = 86_400_000_000_000
COMMANDS = {
    "pair": ["pair"],
    "devices": ["devices"],
    "revoke": ["revoke", "Till"],
    "backup": ["backup", "{there}/copy.db"],
    "restore": ["restore", "{there}/older.db"],
    "doctor": ["doctor"],
    "bring-in": ["bring-in", "{there}/phone.file"],
    "aside": ["aside", "{there}/aside.txt"],
    "erase": ["erase", "0199c0de-0000-7000-8000-000000000001"],
    "demo": ["demo"],
}


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """A salon with a paired device, and an older copy of it."""
    folder = tmp_path_factory.mktemp("kept")
    now_ms = time.time_ns() // 1_000_000
    (folder / "salon").mkdir()
    salon = Salon(folder / "salon" / DATABASE_FILE)
    begin(salon, now_ms)
    asked = Pairing(1, new_code(salon, now_ms), str(uuid.uuid4()), "Till")
    Gate().pair(salon, asked, now_ms)
    salon.copy_to(folder / "older.db")
    salon.close()
    (folder / "phone.file").write_bytes(b"no gzip")
    return folder


@pytest.fixture
def there(kept, tmp_path, monkeypatch):
    folder = tmp_path / "there"
    shutil.copytree(kept, folder)
    monkeypatch.setenv("BASINSIDE_DATA", str(folder / "salon"))
    return folder


def full(*_):
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    raise error


def run(command, there, capsys):
    """Run a command; return its status and all that it said."""
    ended = cli.main([part.format(there=there) for part in COMMANDS[command]])
    told = capsys.readouterr()
    assert ended in (0, 1)
    said = told.err or told.out
    assert said.strip() or ended == 0
    assert "Traceback" not in said
    if ended and told.err:
        assert told.err.rstrip().endswith(".")
    return ended, said


@pytest.mark.parametrize("command", COMMANDS)
def test_a_damaged_page(command, there, capsys):
    database = there / "salon" / DATABASE_FILE
    with database.open("rb+") as file:
        file.seek(4096)
        file.write(b"\xa5" * (database.stat().st_size - 4096))
    before = database.read_bytes()
    ended, _ = run(command, there, capsys)
    # A restore is what such a salon needs. It keeps what was there.
    assert ended == (0 if command == "restore" else 1)
    if command == "restore":
        (aside,) = (there / "salon").glob("salon.db.before-????????-??????")
        assert aside.read_bytes() == before


@pytest.mark.parametrize("command", COMMANDS)
def test_a_file_that_is_no_database(command, there, capsys):
    (there / "salon" / DATABASE_FILE).write_bytes(b"not a database, but long enough" * 400)
    ended, _ = run(command, there, capsys)
    assert ended == (0 if command == "restore" else 1)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_full_disk(command, there, capsys, monkeypatch):
    monkeypatch.setattr(Salon, "writing", full)
    monkeypatch.setattr(Salon, "copy_to", full)
    run(command, there, capsys)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_lost_key(command, there, capsys):
    (there / "salon" / KEY_FILE).unlink(missing_ok=True)
    run(command, there, capsys)


@pytest.mark.parametrize("days", [-2, 2])
@pytest.mark.parametrize("command", COMMANDS)
def test_a_clock_that_is_wrong_by_two_days(command, days, there, capsys, monkeypatch):
    now_ns = time.time_ns
    monkeypatch.setattr(time, "time_ns", lambda: now_ns() + days * DAY_NS)
    run(command, there, capsys)


# Each waits its five seconds, so a fifth of them each day.
@pytest.mark.parametrize("command", [sorted(COMMANDS)[at] for at in seeds(len(COMMANDS), parts=5)])
def test_records_that_another_process_is_writing(command, there, capsys):
    with closing(sqlite3.connect(there / "salon" / DATABASE_FILE, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        run(command, there, capsys)
