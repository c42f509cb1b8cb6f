"""The words of records, found by SQLite's full-text index (https://sqlite.org/fts5.html).

The index changes in the transaction that changes the record, so that it is never behind. A row
bears the record's own number; what was written apart by two people is found by either's words.
"""

import re
import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec

from .rows import Kept

# What is searched in each kind, and in which order the kinds are told.
SEARCHED: dict[str, tuple[str, ...]] = {
    "client": ("name", "phone", "history"),
    "formula": ("name", "products"),
    "history_entry": ("what", "class"),
    "note": ("text",),
}
SEARCH_TABLE = """
    CREATE VIRTUAL TABLE search USING fts5 (
        words, kind, tokenize = "unicode61 remove_diacritics 2", prefix = '2 3'
    )
"""
_MOST_AT_ONCE = 500
_MOST_WORDS = 8
_word = re.compile(r"\w+")


class _Value(msgspec.Struct):
    v: Any = None


class _Change(msgspec.Struct):
    fields: dict[str, _Value] = {}
    heads: dict[str, list[_Value]] = {}


_change = msgspec.json.Decoder(_Change)


def words_of(kind: str, change: bytes) -> str:
    """Return all that a record is found by, or "" where it is not searched."""
    names = SEARCHED.get(kind)
    if not names:
        return ""
    record = _change.decode(change)
    said: list[str] = []
    for name in names:
        standing = record.heads.get(name) or [record.fields.get(name, _Value())]
        said += [word for each in standing for word in _texts(each.v)]
    return " ".join(said)


def _texts(v: object) -> list[str]:
    """Return a text, or the names of a list of products."""
    if isinstance(v, str):
        return [v]
    if isinstance(v, list):
        return [str(each["name"]) for each in v if isinstance(each, dict) and "name" in each]
    return []


def index(connection: sqlite3.Connection, records: Iterable[Kept]) -> None:
    """Have the search find records by what they now say; those that are gone no more."""
    searched = [record for record in records if record.kind in SEARCHED]
    for first in range(0, len(searched), _MOST_AT_ONCE):
        some = searched[first : first + _MOST_AT_ONCE]
        marks = ", ".join("?" * len(some))
        numbers = dict(
            connection.execute(
                f"SELECT entity_id, number FROM record WHERE entity_id IN ({marks})",
                [record.entity_id for record in some],
            )
        )
        connection.executemany(
            "DELETE FROM search WHERE rowid = ?", [(number,) for number in numbers.values()]
        )
        connection.executemany(
            "INSERT INTO search (rowid, words, kind) VALUES (?, ?, ?)",
            [
                (numbers[record.entity_id], words, record.kind)
                for record in some
                if not record.gone and (words := words_of(record.kind, record.change))
            ],
        )


def index_anew(connection: sqlite3.Connection) -> None:
    """Build the search from the records, so that no word of what was deleted is left in it."""
    connection.execute("DELETE FROM search")
    rows = connection.execute("SELECT number, kind, change FROM record WHERE gone = 0")
    connection.executemany(
        "INSERT INTO search (rowid, words, kind) VALUES (?, ?, ?)",
        (
            (number, words, kind)
            for number, kind, change in rows
            if (words := words_of(kind, change))
        ),
    )
    connection.execute("INSERT INTO search (search) VALUES ('rebuild')")


def asked_of(typed: str) -> str:
    """Return what is asked of the index: every word typed, begun or whole; "" for no word."""
    words = [f'"{word}"' for word in _word.findall(typed.replace("_", " "))[:_MOST_WORDS]]
    # A single letter begins too much to be of use: it is asked for whole.
    return " AND ".join(word + ("*" if len(word) > 3 else "") for word in words)


def found(
    connection: sqlite3.Connection, typed: str, kinds: Sequence[str], most: int
) -> list[tuple[Any, ...]]:
    """Return `(entity_id, kind, words, client, service, at)` of what holds every word typed.

    One kind after the other, of each the last that was made first.
    """
    asked = asked_of(typed)
    rows: list[tuple[Any, ...]] = []
    for kind in kinds if asked else ():
        rows += connection.execute(
            "SELECT record.entity_id, record.kind, search.words, record.client, record.service,"
            " record.at FROM search JOIN record ON record.number = search.rowid"
            " WHERE search MATCH ? ORDER BY search.rowid DESC LIMIT ?",
            (f"words : ({asked}) AND kind : {kind}", most - len(rows)),
        ).fetchall()
        if len(rows) >= most:
            break
    return rows
