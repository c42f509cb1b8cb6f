"""Answers every question about the stored records, inside one transaction."""

import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any
from zlib import crc32

from .key import SalonKey
from .photos import is_named, missing_photos, photo_of
from .rows import Aside, Device, Erasure, Kept, Landed, Logged, NotTaken, Photo, Position, Started
from .search_index import asked_of, found

_STARTED = "service, client, last_start, held_at, matter, found"
# A closing is a record with the id of the matter it closes.
_OPEN = (
    "NOT EXISTS (SELECT 1 FROM record WHERE entity_id = matter AND kind = 'closing' AND gone = 0)"
)
# Takes a column of ids, and a list of ids as JSON, which has no limit to its length.
NOT_AMONG = "{} NOT IN (SELECT value FROM json_each(?))"
# Nothing of an erased person is left to look at.
_REFUSED = (
    "FROM (SELECT op_id AS matter, * FROM refused GROUP BY op_id)"
    " WHERE entity_id <> '' AND json_extract(CAST(receipt AS TEXT), '$.code') <> 'erased'"
    f" AND {_OPEN} AND {NOT_AMONG.format('entity_id')}"
)
# The place before the first operation.
BEGINNING = bytes(32)
_KEPT = "entity_id, kind, seq, client, service, at, gone, asks, change"
_SUM = "crc"
_DEVICE = (
    "device_id, name, paired_at, revoked_at, acked_through, last_eff, last_seen_at, queued,"
    " reads_only, until"
)


class Reader:
    """One unmoving view; only `Salon.reading` makes it."""

    def __init__(self, connection: sqlite3.Connection, key: SalonKey) -> None:
        self._connection = connection
        self.key = key
        self.unsound: set[str] = set()
        """The records left out of the answer, since their rows are not as written."""

    def _row(self, statement: str, *values: object) -> Any:
        return self._connection.execute(statement, values).fetchone()

    def _rows(self, statement: str, *values: object) -> list[Any]:
        return self._connection.execute(statement, values).fetchall()

    def _among(self, statement: str, ids: Iterable[str]) -> list[Any]:
        """Return the rows of a `SELECT … WHERE id IN` for a few hundred ids at most."""
        wanted = list(ids)
        return self._rows(f"{statement} ({', '.join('?' * len(wanted))})", *wanted)

    def _sound(self, rows: Iterable[Any]) -> list[Kept]:
        """Return rows, each with its checksum last, as records; note those that do not match."""
        kept = []
        for row in rows:
            if crc32(row[-2]) == row[-1]:
                kept.append(Kept(*row[:-1]))
            else:
                self.unsound.add(row[0])
        return kept

    # The salon and its history

    def salon_id(self) -> str:
        """Return the salon's id, or "" while it has none."""
        row = self._row("SELECT salon_id FROM salon")
        return row[0] if row else ""

    def epoch(self) -> int:
        """Return the number of the present history, 0 before the first."""
        return self._row("SELECT COALESCE(MAX(n), 0) FROM epoch")[0]  # type: ignore[no-any-return]

    def safe_seq(self) -> int:
        """Return the last number that a verified backup holds."""
        return self._row("SELECT safe_seq FROM salon")[0]  # type: ignore[no-any-return]

    def end(self) -> Position:
        """Return where the log ends."""
        row = self._row("SELECT seq, chain FROM log ORDER BY seq DESC LIMIT 1")
        return Position(row[0], bytes(row[1])) if row else Position(0, BEGINNING)

    def chain_at(self, seq: int) -> bytes | None:
        """Return the running hash at a number, or None if the log does not reach it."""
        if seq == 0:
            return BEGINNING
        row = self._row("SELECT chain FROM log WHERE seq = ?", seq)
        return bytes(row[0]) if row else None

    def position(self, seq: int) -> Position | None:
        """Return the place of a number, or None if the log does not reach it."""
        chain = self.chain_at(seq)
        return None if chain is None else Position(seq, chain)

    # Operations

    def landed(self, op_ids: Iterable[str]) -> dict[str, Landed]:
        """Return which of the operations are in the log, by their id."""
        rows = self._among("SELECT op_id, seq, sha256 FROM log WHERE op_id IN", op_ids)
        return {row[0]: Landed(*row) for row in rows}

    def receipts(self, op_ids: Iterable[str]) -> dict[tuple[str, bytes], bytes]:
        """Return the receipts of refused operations, by their id and SHA-256."""
        rows = self._among("SELECT op_id, sha256, receipt FROM refused WHERE op_id IN", op_ids)
        return {(op_id, sha256): receipt for op_id, sha256, receipt in rows}

    def rescued(self, op_ids: Iterable[str]) -> set[str]:
        """Return the operations whose writes a device handed back."""
        return {row[0] for row in self._among("SELECT op_id FROM rescued WHERE op_id IN", op_ids)}

    def log_of(self, entity_id: str) -> list[Logged]:
        """Return every operation of a record, in the order of their numbers."""
        rows = self._rows(
            "SELECT seq, op_id, entity_id, eff, clock_off, body FROM log"
            " WHERE entity_id = ? ORDER BY seq",
            entity_id,
        )
        return [Logged(*row) for row in rows]

    def log_after(self, seq: int, most: int) -> list[Logged]:
        """Return the operations after a number."""
        rows = self._rows(
            "SELECT seq, op_id, entity_id, eff, clock_off, body FROM log"
            " WHERE seq > ? ORDER BY seq LIMIT ?",
            seq,
            most,
        )
        return [Logged(*row) for row in rows]

    # Records

    def kept(self, entity_ids: Iterable[str]) -> dict[str, Kept]:
        """Return which of the records exist, by their id."""
        rows = self._among(f"SELECT {_KEPT}, {_SUM} FROM record WHERE entity_id IN", entity_ids)
        return {kept.entity_id: kept for kept in self._sound(rows)}

    def changed_after(self, seq: int, most: int) -> list[Kept]:
        """Return the records that changed after a number, in the order of their last change."""
        rows = self._rows(
            f"SELECT {_KEPT}, {_SUM} FROM record WHERE seq > ? ORDER BY seq LIMIT ?", seq, most
        )
        return self._sound(rows)

    def asking(self, most: int) -> list[Kept]:
        """Return the records that somebody should look at, the latest first."""
        rows = self._rows(
            f"SELECT {_KEPT}, {_SUM} FROM record WHERE asks = 1 ORDER BY seq DESC LIMIT ?", most
        )
        return self._sound(rows)

    def where(self, condition: str, values: Sequence[object], order: str, most: int) -> list[Kept]:
        """Return the records that meet a condition over the columns of `Kept`, in an order."""
        rows = self._rows(
            f"SELECT {_KEPT}, {_SUM} FROM record WHERE {condition} ORDER BY {order} LIMIT ?",
            *values,
            most,
        )
        return self._sound(rows)

    def found(self, typed: str, kinds: Sequence[str], most: int) -> list[tuple[Any, ...]]:
        """Return the records that hold every word typed (`search_index.py` gives the order)."""
        return found(self._connection, typed, kinds, most)

    def holding(self, typed: str, kind: str) -> tuple[str, list[object]]:
        """Return the condition, for `where`, of records of a kind that hold every word."""
        return (
            f"number IN (SELECT rowid FROM search_{kind} WHERE search_{kind} MATCH ?)",
            [asked_of(typed)],
        )

    def count(self, condition: str, values: Sequence[object]) -> int:
        """Return how many records meet a condition over the columns of `Kept`."""
        row = self._row(f"SELECT COUNT(*) FROM record WHERE {condition}", *values)
        return row[0]  # type: ignore[no-any-return]

    # Services that were started

    def reviewed_seq(self) -> int:
        """Return the last number whose services the safety rules have checked again."""
        row = self._row("SELECT reviewed_seq FROM salon")
        return row[0] if row else 0

    def started_after(self, stamp: str, client: str | None = None) -> list[str]:
        """Return the services that started after a stamp, of one client or of all."""
        rows = self._rows(
            "SELECT service FROM started WHERE last_start > ?" + " AND client = ?" * bool(client),
            *([stamp, client] if client else [stamp]),
        )
        return [row[0] for row in rows]

    def held(self, held_at: str, service: str, most: int, but: str = "[]") -> list[Started]:
        """Return the services that should have been held, after a given one, the oldest first.

        It leaves out closed ones, and those in `but`, a list as JSON.
        """
        rows = self._rows(
            f"SELECT {_STARTED} FROM started WHERE held_at IS NOT NULL AND {_OPEN}"
            f" AND (held_at, service) > (?, ?) AND {NOT_AMONG.format('service')}"
            " ORDER BY held_at, service LIMIT ?",
            held_at,
            service,
            but,
            most,
        )
        return [Started(*row) for row in rows]

    def count_held(self, but: str = "[]") -> int:
        """Return how many services should have been held and are not closed."""
        row = self._row(
            f"SELECT COUNT(*) FROM started WHERE held_at IS NOT NULL AND {_OPEN}"
            f" AND {NOT_AMONG.format('service')}",
            but,
        )
        return row[0]  # type: ignore[no-any-return]

    # Rows that were set aside

    def aside(self, after: str, most: int, but: str = "[]", *, closed: bool = False) -> list[Aside]:
        """Return the rows that were set aside, after a given one by its id, or `closed` too."""
        rows = self._rows(
            "SELECT matter, found_at, what, entity_id, seq, row FROM aside WHERE matter > ?"
            f" AND (? OR {_OPEN}) AND {NOT_AMONG.format('entity_id')} ORDER BY matter LIMIT ?",
            after,
            closed,
            but,
            most,
        )
        return [Aside(*row) for row in rows]

    def count_aside(self, but: str = "[]") -> int:
        """Return how many rows were set aside and are not closed."""
        row = self._row(
            f"SELECT COUNT(*) FROM aside WHERE {_OPEN} AND {NOT_AMONG.format('entity_id')}", but
        )
        return row[0]  # type: ignore[no-any-return]

    def rows_as_they_are(self, entity_ids: Iterable[str]) -> list[tuple[str, int, bytes]]:
        """Return the id, number and bytes of records' rows, whatever they hold."""
        return self._among(
            "SELECT entity_id, seq, change FROM record WHERE entity_id IN", entity_ids
        )

    # Operations that were refused

    def refused(self, after: str, most: int, but: str) -> list[NotTaken]:
        """Return the operations refused for good and not closed, after a given one by its id."""
        rows = self._rows(
            f"SELECT matter, device_id, entity_id, received_at, receipt {_REFUSED}"
            " AND matter > ? ORDER BY matter LIMIT ?",
            but,
            after,
            most,
        )
        return [NotTaken(*row) for row in rows]

    def count_refused(self, but: str) -> int:
        """Return how many operations were refused for good and are not closed."""
        return self._row(f"SELECT COUNT(*) {_REFUSED}", but)[0]  # type: ignore[no-any-return]

    # Photos

    def is_named(self, sha256: str) -> bool:
        """Return whether some record names a photo."""
        return is_named(self._connection, sha256)

    def photo(self, sha256: str) -> Photo | None:
        """Return a photo, or None while it is not here."""
        return photo_of(self._connection, sha256)

    def photos_missing(self, after: str, most: int) -> list[str]:
        """Return the photos that are named and not here, after a given one, in their order."""
        return missing_photos(self._connection, after, most)

    def ids_about(self, ids: Iterable[str]) -> list[str]:
        """Return the records that belong to one of these clients or services."""
        found: list[str] = []
        for each in ids:
            rows = self._rows(
                "SELECT entity_id FROM record WHERE client = ? UNION"
                " SELECT entity_id FROM record WHERE service = ?",
                each,
                each,
            )
            found += [row[0] for row in rows]
        return found

    # Devices

    def device(self, device_id: str) -> Device | None:
        """Return a device, or None for one that never paired."""
        row = self._row(f"SELECT {_DEVICE} FROM device WHERE device_id = ?", device_id)
        return row and Device(*row)

    def device_of_token(self, token_sha256: bytes) -> Device | None:
        """Return the device that holds the token of this hash, revoked or not."""
        row = self._row(f"SELECT {_DEVICE} FROM device WHERE token_sha256 = ?", token_sha256)
        return row and Device(*row)

    def devices(self) -> list[Device]:
        """Return all devices that ever paired, the latest first."""
        rows = self._rows(f"SELECT {_DEVICE} FROM device ORDER BY paired_at DESC, device_id")
        return [Device(*row) for row in rows]

    # Erasures

    def erasures_after(self, n: int) -> list[Erasure]:
        """Return the entries of the ledger after the nth."""
        rows = self._rows("SELECT n, id_sha256, at, sig FROM erasure WHERE n > ? ORDER BY n", n)
        return [Erasure(*row) for row in rows]

    def erased(self, id_sha256s: Iterable[str]) -> set[str]:
        """Return which of the hashed ids are in the ledger."""
        rows = self._among("SELECT id_sha256 FROM erasure WHERE id_sha256 IN", id_sha256s)
        return {row[0] for row in rows}

    def erasures_asked(self) -> dict[str, str]:
        """Return the clients to be erased, each with the instant it is due."""
        return dict(self._rows("SELECT client_id, due_at FROM erasing ORDER BY due_at"))

    def count_erased(self) -> int:
        """Return how many people were erased."""
        return self._row("SELECT COUNT(*) FROM erasure")[0]  # type: ignore[no-any-return]

    def any_erased(self) -> bool:
        """Return whether anything was ever erased."""
        return self._row("SELECT 1 FROM erasure LIMIT 1") is not None
