"""The salon's database: one SQLite file, opened so that every acknowledged write survives.

WAL lets many read while one writes. `synchronous=FULL` puts each commit on the disk before it is
acknowledged. Strict tables refuse a value of another type. https://sqlite.org/pragma.html
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlite_utils import Database

from .key import SalonKey
from .migrations import migrations, steps_unknown
from .reader import Reader
from .unready import Unready
from .whole_copies import before_upgrade, copied, copies, drop_old
from .writer import Writer

DATABASE_FILE = "salon.db"
# How long a writer waits for another process before it must come back, in seconds.
PATIENCE_S = 5.0


class Salon:
    """The only way to the stored records. Open it once in a process; any thread may use it."""

    def __init__(self, path: Path, *, patience_s: float = PATIENCE_S) -> None:
        self.path = path
        self._patience_s = patience_s
        self._local = threading.local()
        self._opened: list[sqlite3.Connection] = []
        self.unsound: set[str] = set()
        """Records whose rows are not as they were written, until they are repaired."""
        self._key = SalonKey(path.parent)
        self._connection()

    @contextmanager
    def writing(self) -> Iterator[Writer]:
        """Give the holder of the write lock; commit at the end, or nothing at all.

        Raises `sqlite3.OperationalError` if another process keeps the lock, or the disk is full.
        """
        connection = self._connection()
        connection.execute("BEGIN IMMEDIATE")
        try:
            yield Writer(connection, self._key)
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise

    @contextmanager
    def reading(self) -> Iterator[Reader]:
        """Give one unmoving view of all records, whatever is written meanwhile."""
        connection = self._connection()
        connection.execute("BEGIN")
        reading = Reader(connection, self._key)
        try:
            yield reading
        finally:
            self.unsound |= reading.unsound
            connection.execute("ROLLBACK")

    def run_alone(self, statement: str) -> list[tuple[object, ...]]:
        """Run a statement that cannot be inside a transaction, such as a checkpoint."""
        return self._connection().execute(statement).fetchall()

    def copy_to(self, path: Path) -> None:
        """Write a whole copy as of one moment, while others read and write."""
        copied(self._connection(), path)

    def check_pages(self) -> None:
        """Check every page of the file; raise `Unready` if one is damaged, and name a backup."""
        try:
            found = self.run_alone("PRAGMA quick_check(1)")[0][0]
        except sqlite3.DatabaseError as error:
            found = str(error)
        if found != "ok":
            self.close()
            newest = next(iter(copies(self.path.parent)), None)
            raise Unready(
                f"The salon's records in {self.path} are damaged: {found}. Nothing was changed. Put"
                f" the latest backup back: `basinside restore {newest or 'FILE'}`. Phones hand back"
                " the later entries."
            )

    def close(self) -> None:
        """Close every connection; the files may then be moved."""
        for connection in self._opened:
            connection.close()
        self._opened.clear()
        self._local = threading.local()

    def _connection(self) -> sqlite3.Connection:
        if not hasattr(self._local, "connection"):
            self._local.connection = _opened(self.path, self._patience_s)
            self._opened.append(self._local.connection)
        connection: sqlite3.Connection = self._local.connection
        return connection


def _opened(path: Path, patience_s: float) -> sqlite3.Connection:
    try:
        connection = sqlite3.connect(
            path, timeout=patience_s, isolation_level=None, check_same_thread=False
        )
        for pragma in (
            # Before the first write: an older salon keeps its page size.
            "page_size = 8192",
            "journal_mode = WAL",
            "synchronous = FULL",
            "foreign_keys = ON",
            "secure_delete = ON",
            "cache_size = -32768",
            # A phone that comes back sends some megabytes at once, so they move to the file in one
            # go.
            "wal_autocheckpoint = 4000",
        ):
            connection.execute(f"PRAGMA {pragma}")
        database = Database(connection)
        if newer := steps_unknown(database):
            connection.close()
            raise Unready(
                f"A newer Basinside wrote the salon's records in {path}. This one does not know the"
                f" step {newer[0]}. Start the newer one; nothing was changed."
            )
        # Each step is a transaction of its own. If one breaks, the steps before it stay.
        if pending := migrations.pending(database):
            if database["log"].exists():
                target = before_upgrade(path.parent, pending[0].name)
                target.parent.mkdir(mode=0o700, exist_ok=True)
                copied(connection, target)
                drop_old(path.parent)
            migrations.apply(database)
    except OSError as error:
        raise Unready(
            f"The records in {path} need an upgrade, and no copy of them can be written first:"
            f" {error.strerror}. Make room, or give the folder write access. Nothing was changed."
        ) from error
    except sqlite3.DatabaseError as error:
        raise Unready(
            f"The salon's database {path} cannot be opened: {error}. Put a backup back with"
            " `basinside restore`, or give its folder write access."
        ) from error
    return connection
