"""Stores photos beside the records: which are named, which are here, and what goes with whom."""

import re
import sqlite3
from collections.abc import Iterable

from .rows import Photo

# The kinds that name photos, by the SHA-256 in the record.
_NAMING = {"note", "reaction", "service"}
_name = re.compile(rb'"([0-9a-f]{64})"')


def name_photos(connection: sqlite3.Connection, records: Iterable[tuple[str, str, bytes]]) -> None:
    """Store which photos these records name, each given as its id, kind and state.

    A name is never taken back, so a replaced photo goes with its record.
    """
    named = [
        (sha256.decode(), entity_id)
        for entity_id, kind, change in records
        if kind in _NAMING and b"photo" in change
        for sha256 in _name.findall(change)
    ]
    connection.executemany(
        "INSERT OR IGNORE INTO photo_named (sha256, entity_id) VALUES (?, ?)", named
    )


def is_named(connection: sqlite3.Connection, sha256: str) -> bool:
    """Return whether some record names a photo."""
    row = connection.execute("SELECT 1 FROM photo_named WHERE sha256 = ? LIMIT 1", (sha256,))
    return row.fetchone() is not None


def photo_of(connection: sqlite3.Connection, sha256: str) -> Photo | None:
    """Return a photo, or None while it is not here."""
    row = connection.execute("SELECT sha256, type, bytes FROM photo WHERE sha256 = ?", (sha256,))
    found = row.fetchone()
    return found and Photo(*found)


def missing_photos(connection: sqlite3.Connection, after: str, most: int) -> list[str]:
    """Return the photos that are named and not here, after a given one, in their order."""
    rows = connection.execute(
        "SELECT DISTINCT sha256 FROM photo_named WHERE sha256 > ? AND NOT EXISTS"
        " (SELECT 1 FROM photo WHERE photo.sha256 = photo_named.sha256)"
        " ORDER BY sha256 LIMIT ?",
        (after, most),
    )
    return [row[0] for row in rows]


def keep_photo(connection: sqlite3.Connection, photo: Photo) -> bool:
    """Store a photo; return whether it is new."""
    added = connection.execute(
        "INSERT OR IGNORE INTO photo (sha256, type, bytes) VALUES (?, ?, ?)", photo
    )
    return added.rowcount == 1


def wipe_photos(connection: sqlite3.Connection) -> None:
    """Delete the photos that only wiped records name (`is_wiped` says which)."""
    connection.execute(
        "DELETE FROM photo WHERE sha256 IN"
        " (SELECT sha256 FROM photo_named WHERE is_wiped(entity_id)) AND sha256 NOT IN"
        " (SELECT sha256 FROM photo_named WHERE NOT is_wiped(entity_id))"
    )
    connection.execute("DELETE FROM photo_named WHERE is_wiped(entity_id)")
