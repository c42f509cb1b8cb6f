"""An erasure that was asked for waits three days, can be called off, and then leaves no byte."""

import shutil
import sqlite3
from contextlib import closing

import pytest
from test_restored import CANARY, CLIENT, bytes_kept, restarted

from basinside.cli.keep import backup, erase, restore
from basinside.cli.serve import Settings
from basinside.service.store.salon import DATABASE_FILE
from basinside.service.store.unready import Unready
from basinside.service.whole.erasing import GRACE_MS, ask_to_erase, erase_due
from basinside.service.whole.ledger import Ledger

NOW_MS = 4102488000000  # 2100-01-01T12:00:00Z: the server's own clock gets in no test's way


@pytest.fixture
def settings(folder):
    return Settings("127.0.0.1", 0, folder)


@pytest.fixture
def known(phone):
    """A client the desk knows."""
    phone.push(phone.op("client.create", CLIENT, {"name": f"Ona {CANARY}"}))
    return CLIENT


def test_it_is_done_when_its_time_has_run_and_not_before(phone, known, salon, settings):
    ledger = Ledger(settings.data_folder)
    due = ask_to_erase(salon, known, NOW_MS)
    assert due == "2100-01-04T12:00:00.000Z"
    assert ask_to_erase(salon, known, NOW_MS + 1000) == due
    assert erase_due(salon, ledger, NOW_MS + GRACE_MS - 1) == 0
    assert set(phone.all_changes()[0]) == {known}
    assert erase_due(salon, ledger, NOW_MS + GRACE_MS) == 1
    assert phone.all_changes()[0] == {}
    kept = bytes_kept(settings.data_folder)
    assert CANARY.encode() not in kept
    assert known.encode() not in kept  # nor the asking, which names them
    assert erase_due(salon, ledger, NOW_MS + GRACE_MS) == 0


def test_it_can_be_called_off(phone, known, salon, settings, capsys):
    assert erase(settings, known) == 0
    assert f"basinside erase --keep {known}" in capsys.readouterr().out
    assert erase(settings, known, keep=True) == 0
    assert erase_due(salon, Ledger(settings.data_folder), 2 * NOW_MS) == 0
    assert set(phone.all_changes()[0]) == {known}
    with pytest.raises(Unready, match="has no erasure to cancel"):
        erase(settings, known, keep=True)


def overdue(database):
    """Let the time of every asking in a database have run long ago."""
    with closing(sqlite3.connect(database)) as kept, kept:
        kept.execute("PRAGMA secure_delete = ON")
        kept.execute("UPDATE erasing SET due_at = '2026-01-01T00:00:00.000Z'")


def test_a_server_that_starts_later_does_what_was_due(phone, known, salon, settings, tmp_path):
    ask_to_erase(salon, known, NOW_MS)
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    later = settings._replace(data_folder=tmp_path / "later")
    shutil.copytree(settings.data_folder, later.data_folder)
    overdue(later.data_folder / DATABASE_FILE)
    with restarted(later, phone):
        assert phone.all_changes()[0] == {}
    assert CANARY.encode() not in bytes_kept(later.data_folder)


def test_an_asking_in_an_older_copy_waits_its_full_time_again(
    phone, known, client, salon, settings, tmp_path, capsys
):
    """It may have been called off since the copy was made; nobody is erased unasked."""
    ask_to_erase(salon, known, NOW_MS)
    backup(settings, tmp_path / "copy.db")
    erase(settings, known, keep=True)
    overdue(tmp_path / "copy.db")
    client.app.state.desk.salon.close()
    restore(settings, tmp_path / "copy.db")
    assert f"{known} will be erased at" in capsys.readouterr().out
    with restarted(settings, phone):
        assert set(phone.all_changes()[0]) == {known}
