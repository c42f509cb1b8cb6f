"""The command line on a disk that is full, that fails, or that another process writes to.

Source: the codes of https://sqlite.org/rescode.html, and POSIX's ENOSPC.
"""

import errno
import shutil
import sqlite3
import sys
from contextlib import closing

import pytest
from running import Server

from basinside import cli
from basinside.service.store.salon import Salon


def sentences(result):
    """What a command that fails says on its way out."""
    assert (result.returncode, result.stdout) == (1, b"")
    said = result.stderr.decode()
    assert "Traceback" not in said
    return said.splitlines()


def test_the_doctor_tells_of_a_disk_that_is_nearly_full(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("BASINSIDE_DATA", str(tmp_path))
    usage = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=199 * 1024**2))
    assert cli.main(["doctor"]) == 1
    assert "wrong  Room: Only 199 MiB are free" in capsys.readouterr().out
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=200 * 1024**2))
    cli.main(["doctor"])
    assert "ok     Room: 200 MiB are free" in capsys.readouterr().out


@pytest.fixture(scope="module")
def salon_there(tmp_path_factory):
    """A salon's folder, which every command here leaves as it is."""
    folder = tmp_path_factory.mktemp("disk") / "salon"
    Server(folder).start().stop()
    return folder


def test_records_that_another_process_is_writing_are_one_sentence(basinside_alone, salon_there):
    with closing(sqlite3.connect(salon_there / "salon.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        (sentence,) = sentences(basinside_alone("pair", BASINSIDE_DATA=str(salon_there)))
        assert sentence.startswith("Another process is writing the records.")


@pytest.mark.parametrize(
    ("failure", "says"),
    [
        (sqlite3.SQLITE_FULL, "The disk is full"),
        (sqlite3.SQLITE_IOERR | 3 << 8, "The records cannot be written: failed."),
        (sqlite3.SQLITE_CORRUPT, "The records are damaged."),
    ],
)
def test_a_disk_that_fails_is_one_sentence(salon_there, monkeypatch, capsys, failure, says):
    def fails(*_):
        error = sqlite3.OperationalError("failed")
        error.sqlite_errorcode = failure
        raise error

    monkeypatch.setenv("BASINSIDE_DATA", str(salon_there))
    monkeypatch.setattr(Salon, "copy_to", fails)
    assert cli.main(["backup", str(salon_there / "copy.db")]) == 1
    assert capsys.readouterr().err.startswith(says)
    assert not list(salon_there.glob("copy*"))


def test_a_full_disk_outside_the_database_is_one_sentence(salon_there, monkeypatch, capsys):
    def fails(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setenv("BASINSIDE_DATA", str(salon_there))
    monkeypatch.setattr(sys.modules["basinside.cli.pair"], "new_code", fails)
    assert cli.main(["pair"]) == 1
    assert capsys.readouterr().err.startswith("The disk is full")
