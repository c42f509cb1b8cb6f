"""Says whether a database's file is sound: every page of it, and every record's row."""

import sqlite3
from contextlib import closing
from pathlib import Path
from zlib import crc32

from .unready import Unready


def looked_through(path: Path) -> int:
    """Return the last number of a database, after a check of the whole of it.

    Raises `Unready` if it is no salon's database, or is damaged.
    """
    if not path.exists():
        raise Unready(f"{path} does not exist. Name a file that `basinside backup` wrote.")
    try:
        with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as connection:
            found = connection.execute("PRAGMA integrity_check").fetchone()[0]
            if found != "ok":
                raise Unready(f"{path} is damaged: {found}. Take another backup.")
            row = connection.execute("SELECT COALESCE(MAX(seq), 0) FROM log").fetchone()
    except sqlite3.DatabaseError as error:
        raise Unready(f"{path} is no salon's database: {error}. Take another backup.") from error
    return int(row[0])


def unsound_rows(connection: sqlite3.Connection) -> int:
    """Return how many records' rows do not match their checksums; 0 in an older database."""
    if "crc" not in {row[1] for row in connection.execute("PRAGMA table_info(record)")}:
        return 0
    rows = connection.execute("SELECT change, crc FROM record")
    return sum(crc32(change) != crc for change, crc in rows)
