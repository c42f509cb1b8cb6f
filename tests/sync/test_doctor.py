"""What the doctor says of the records: sound, an entry that cannot be read, a file that is cut."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from basinside.cli.doctor import examine
from basinside.cli.keep import backup
from basinside.cli.serve import Settings
from basinside.service.store.salon import DATABASE_FILE


@pytest.fixture
def settings(tmp_path):
    """Where a copy of the records will be that no server has open."""
    return Settings("127.0.0.1", 0, tmp_path / "stopped")


@pytest.fixture
def said(phone, salon, folder, settings, tmp_path, capsys):
    """What the doctor says of three notes, two in a backup, after something befell the file."""
    phone.push(phone.note(), phone.note())
    backup(settings._replace(data_folder=folder), tmp_path / "copy.db")
    phone.push(phone.note())
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    shutil.copytree(folder, settings.data_folder)

    def say():
        capsys.readouterr()
        examine(settings)
        lines = capsys.readouterr().out.splitlines()
        return next(line for line in lines if "Records: " in line)

    return say


def test_sound_records_are_counted_with_what_a_backup_holds(said):
    assert said() == "ok     Records: 3 entries, all sound; the last backup holds all up to 2"


def test_an_entry_that_cannot_be_read_is_named_with_the_way_back(said, settings):
    with closing(sqlite3.connect(settings.data_folder / DATABASE_FILE)) as kept, kept:
        kept.execute("UPDATE log SET body = substr(body, 1, 40) WHERE seq = 2")
    assert said().startswith("wrong  Records: Unreadable entries: 1, the first at number 2.")
    assert "holds all up to 2" in said()


def test_a_page_overwritten_is_found(said, settings):
    database = settings.data_folder / DATABASE_FILE
    whole = bytearray(database.read_bytes())
    page = int.from_bytes(whole[16:18], "big")  # sqlite.org/fileformat.html, offset 16
    for start in range(page, len(whole), page):
        whole[start : start + 16] = b"\xff" * 16
    database.write_bytes(whole)
    assert said().startswith("wrong  Records: ")
    assert "`basinside restore FILE`" in said()
