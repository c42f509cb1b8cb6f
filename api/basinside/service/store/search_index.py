"""Finds records by their words with SQLite's full-text index (https://sqlite.org/fts5.html).

Each kind has an index of its own. So a word in every note does not slow a search for a client. The
index changes in the transaction that changes the record, so it is never behind. A row has the
record's own number. If two people wrote apart, either's words find the record.
"""

import re
import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec

from .rows import Kept

# The searched fields of each kind. Answers list the kinds in this order.
SEARCHED: dict[str, tuple[str, ...]] = {
    "client": ("name", "phone", "history"),
    "formula": ("name", "products"),
    "history_entry": ("what", "class"),
    "note": ("text",),
}
SEARCH_TABLES = tuple(
    f"CREATE VIRTUAL TABLE search_{kind} USING fts5 ("
    " words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3')"
    for kind in SEARCHED
)
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
    """Return every text that finds a record, or "" if its kind is not searched."""
    names = SEARCHED.get(kind)
    if not names:
        return ""
    try:
        record = _change.decode(change)
    except (msgspec.DecodeError, UnicodeDecodeError):
        return ""  # its next reader sets the row aside
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
    """Index records by their present words, and drop deleted ones."""
    by_kind: dict[str, list[Kept]] = {}
    for record in records:
        if record.kind in SEARCHED:
            by_kind.setdefault(record.kind, []).append(record)
    for kind, alike in by_kind.items():
        for first in range(0, len(alike), _MOST_AT_ONCE):
            _index_some(connection, kind, alike[first : first + _MOST_AT_ONCE])


def _index_some(connection: sqlite3.Connection, kind: str, records: Sequence[Kept]) -> None:
    marks = ", ".join("?" * len(records))
    numbers = dict(
        connection.execute(
            f"SELECT entity_id, number FROM record WHERE entity_id IN ({marks})",
            [record.entity_id for record in records],
        )
    )
    connection.execute(
        f"DELETE FROM search_{kind} WHERE rowid IN ({', '.join('?' * len(numbers))})",
        list(numbers.values()),
    )
    connection.executemany(
        f"INSERT INTO search_{kind} (rowid, words) VALUES (?, ?)",
        [
            (numbers[record.entity_id], words)
            for record in records
            if not record.gone and (words := words_of(kind, record.change))
        ],
    )


def index_anew(connection: sqlite3.Connection) -> None:
    """Build the search from the records, so that no deleted word is left in it."""
    for kind in SEARCHED:
        connection.execute(f"DELETE FROM search_{kind}")
        rows = connection.execute(
            "SELECT number, change FROM record WHERE kind = ? AND gone = 0", [kind]
        )
        connection.executemany(
            f"INSERT INTO search_{kind} (rowid, words) VALUES (?, ?)",
            ((number, words) for number, change in rows if (words := words_of(kind, change))),
        )
        connection.execute(f"INSERT INTO search_{kind} (search_{kind}) VALUES ('rebuild')")


def asked_of(typed: str) -> str:
    """Return the query for the index: every typed word, begun or whole; "" for no word."""
    words = [f'"{word}"' for word in _word.findall(typed.replace("_", " "))[:_MOST_WORDS]]
    # A single letter starts too many words, so only the whole word matches.
    return " AND ".join(word + ("*" if len(word) > 3 else "") for word in words)


def found(
    connection: sqlite3.Connection, typed: str, kinds: Sequence[str], most: int
) -> list[tuple[Any, ...]]:
    """Return `(entity_id, kind, words, client, service, at)` of each match for all words typed.

    One kind after the other, and within a kind the newest first.
    """
    asked = asked_of(typed)
    rows: list[tuple[Any, ...]] = []
    for kind in kinds if asked else ():
        rows += connection.execute(
            "SELECT record.entity_id, record.kind, found.words, record.client, record.service,"
            f" record.at FROM search_{kind} AS found JOIN record ON record.number = found.rowid"
            f" WHERE found.search_{kind} MATCH ? ORDER BY found.rowid DESC LIMIT ?",
            (asked, most - len(rows)),
        ).fetchall()
        if len(rows) >= most:
            break
    return rows
