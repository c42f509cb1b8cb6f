"""Backs the records up by itself, once a day, and proves each copy by putting it back for trial.

The trial opens the copy as a restore would, in a folder of its own. It checks every page, every
record's checksum, and that the copy ends with the history that the desk has.

The copies are on the desk's own disk. So phones keep what they sent: only `basinside backup` lets
them drop it, as its file can be elsewhere.
"""

import errno
import os
import shutil
import sqlite3
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import msgspec

from ..records.instants import instant_ms, instant_text
from ..store.checks import looked_through, unsound_rows
from ..store.salon import DATABASE_FILE, Salon
from ..store.unready import Unready
from ..store.whole_copies import COPIES_FOLDER, clear_unfinished, copies, drop_old, of_day

EVERY_MS = 24 * 3600 * 1000
# A copy and its trial take twice the room; the rest is for the day's work.
_ROOM_TIMES = 3
_STATE_FILE = "last.json"


class BackupState(msgspec.Struct, frozen=True):
    """The last proven backup, and why the last try failed; each is "" where there is none."""

    proven_at: str = ""
    failed: str = ""


def backup_state(folder: Path) -> BackupState:
    """Return the state of a data folder's backups by itself."""
    try:
        state = (folder / COPIES_FOLDER / _STATE_FILE).read_bytes()
        return msgspec.json.decode(state, type=BackupState)
    except (OSError, msgspec.DecodeError):
        return BackupState()


def is_due(state: BackupState, now_ms: int) -> bool:
    """Return whether a day went by since the last proven backup, or the clock went back."""
    try:
        since_ms = now_ms - instant_ms(state.proven_at)
    except ValueError:
        return True
    return not 0 <= since_ms < EVERY_MS


def holds_erased(salon: Salon) -> bool:
    """Return whether a copy still holds somebody who was erased since it was made."""
    with salon.reading() as reading:
        erased = reading.count_erased()
    return any(_count_erased(copy) < erased for copy in copies(salon.path.parent))


def back_up(salon: Salon, now_ms: int) -> BackupState:
    """Write the day's copy, prove it, and delete the copies that the rule does not keep.

    Those that hold somebody who was erased since are deleted too.

    A failure is a sentence in the returned state, and the copies of before stay.
    """
    folder = salon.path.parent
    try:
        _back_up(salon, of_day(folder, datetime.fromtimestamp(now_ms / 1000, UTC).date()))
        state = BackupState(instant_text(now_ms))
    except (Unready, OSError, sqlite3.DatabaseError) as why:
        state = BackupState(backup_state(folder).proven_at, _sentence(why))
    try:
        _keep_state(folder, state)
    except OSError as why:
        return BackupState(state.proven_at, state.failed or _sentence(why))
    return state


def _back_up(salon: Salon, target: Path) -> None:
    target.parent.mkdir(mode=0o700, exist_ok=True)
    clear_unfinished(salon.path.parent)
    needed = _ROOM_TIMES * salon.path.stat().st_size
    if shutil.disk_usage(target.parent).free < needed:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    fresh = target.with_name(target.name + ".new")
    try:
        salon.copy_to(fresh)
        _prove(salon, fresh)
        fresh.replace(target)
    finally:
        fresh.unlink(missing_ok=True)
    drop_old(salon.path.parent)
    erased = _count_erased(target)
    for copy in copies(salon.path.parent):
        if _count_erased(copy) < erased:
            copy.unlink(missing_ok=True)


def _count_erased(copy: Path) -> int:
    """Return how many erasures a copy knows of, -1 for one that cannot be read any more."""
    try:
        # It changes no more, so reading it need leave no files beside it.
        with closing(sqlite3.connect(f"file:{copy}?immutable=1", uri=True)) as connection:
            return int(connection.execute("SELECT COUNT(*) FROM erasure").fetchone()[0])
    except sqlite3.DatabaseError:
        return -1


def _prove(salon: Salon, copy: Path) -> None:
    """Put a copy back in a folder of its own and check it; raise `Unready` if it is not sound."""
    with tempfile.TemporaryDirectory(dir=copy.parent, prefix="trial-") as trial:
        database = Path(trial, DATABASE_FILE)
        shutil.copyfile(copy, database)
        restored = Salon(database)
        try:
            with restored.reading() as reading:
                end = reading.end()
        finally:
            restored.close()
        looked_through(database)
        with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
            if unsound_rows(connection):
                raise Unready("The copy holds damaged rows of records.")
        with salon.reading() as reading:
            if reading.chain_at(end.seq) != end.chain:
                raise Unready("The copy does not hold the history that the desk has.")


def _keep_state(folder: Path, state: BackupState) -> None:
    path = folder / COPIES_FOLDER / _STATE_FILE
    path.parent.mkdir(mode=0o700, exist_ok=True)
    partial = path.with_suffix(".partial")
    partial.write_bytes(msgspec.json.encode(state))
    partial.replace(path)


def _sentence(why: Exception) -> str:
    code = getattr(why, "sqlite_errorcode", 0) & 0xFF
    if code == sqlite3.SQLITE_FULL or getattr(why, "errno", 0) == errno.ENOSPC:
        return "The last backup failed: the desk's disk is full. Make room there."
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return "The last backup failed: another process was writing the records."
    if isinstance(why, Unready) or code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return "The last backup failed its trial. Run `basinside doctor` at the desk."
    return "The last backup could not be written. Run `basinside doctor` at the desk."
