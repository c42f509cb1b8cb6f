"""Makes every change to the stored records, in one transaction that holds the write lock."""

import hashlib
import sqlite3
from collections.abc import Callable, Iterable
from typing import NamedTuple
from zlib import crc32

from .key import SalonKey
from .photos import keep_photo, name_photos, wipe_photos
from .reader import Reader
from .rows import Aside, Device, Entry, Erasure, Kept, Photo, Position, Rights, Started
from .search_index import index, index_anew


class Numbered(NamedTuple):
    """An operation with its place in the log."""

    seq: int
    entry: Entry
    chain: bytes


class Writer(Reader):
    """One transaction; only `Salon.writing` makes it.

    Only this class gives out numbers, so their order is the order of commits. A reader that asks
    for everything after a number can miss nothing.
    """

    def __init__(self, connection: sqlite3.Connection, key: SalonKey) -> None:
        super().__init__(connection, key)
        self._end = super().end()

    # The salon and its history

    def name_salon(self, salon_id: str) -> None:
        """Give the salon its id, once."""
        self._row("INSERT INTO salon (only_one, salon_id) VALUES (1, ?)", salon_id)

    def begin_epoch(self, n: int, at: str, why: str) -> None:
        """Start another history: some device may know a different one up to here."""
        self._row(
            "INSERT INTO epoch (n, from_seq, started_at, why) VALUES (?, ?, ?, ?)",
            n,
            self._end.seq,
            at,
            why,
        )

    def backed_up(self, seq: int) -> None:
        """Note that a verified backup holds everything up to a number."""
        self._row("UPDATE salon SET safe_seq = MAX(safe_seq, ?)", seq)

    def end(self) -> Position:
        """Return where the log ends, with the rows this transaction has added."""
        return self._end

    # Operations

    def add(self, entry: Entry) -> int:
        """Log an operation; return its number. Its id and its device's number must be new."""
        numbered = self.number(entry)
        self.log([numbered])
        return numbered.seq

    def number(self, entry: Entry) -> Numbered:
        """Give an operation the next number; `log` must store it before the transaction ends."""
        seq, chain = self._end.seq + 1, chained(self._end.chain, entry.op_id)
        self._end = Position(seq, chain)
        return Numbered(seq, entry, chain)

    def log(self, numbered: Iterable[Numbered]) -> None:
        """Log operations that have their numbers, many in one statement."""
        self._connection.executemany(
            "INSERT INTO log (seq, op_id, device_id, device_seq, entity_id, eff, clock_off,"
            " received_at, sha256, body, chain) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [(each.seq, *each.entry, each.chain) for each in numbered],
        )

    def refuse(self, entry: Entry, receipt: bytes) -> None:
        """Store a refused operation, with the receipt its sender got."""
        self._row(
            "INSERT INTO refused (op_id, sha256, device_id, device_seq, entity_id, received_at,"
            " receipt) VALUES (?, ?, ?, ?, ?, ?, ?)",
            entry.op_id,
            entry.sha256,
            entry.device_id,
            entry.device_seq,
            entry.entity_id,
            entry.received_at,
            receipt,
        )

    def came_back(self, op_ids: Iterable[str], seq: int) -> None:
        """Note that a device handed back the writes of these operations."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO rescued (op_id, seq) VALUES (?, ?)",
            [(op_id, seq) for op_id in op_ids],
        )

    # Records

    def keep(self, records: Iterable[Kept]) -> None:
        """Store records as they are folded now, and index them."""
        records = list(records)
        self._connection.executemany(
            "INSERT INTO record (entity_id, kind, seq, client, service, at, gone, asks, change,"
            " crc) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (entity_id) DO UPDATE SET"
            " kind = excluded.kind, seq = excluded.seq, client = excluded.client,"
            " service = excluded.service, at = excluded.at, gone = excluded.gone,"
            " asks = excluded.asks, change = excluded.change, crc = excluded.crc",
            [(*record, crc32(record.change)) for record in records],
        )
        index(self._connection, records)
        name_photos(
            self._connection, ((each.entity_id, each.kind, each.change) for each in records)
        )

    def forget_records(self) -> None:
        """Drop every record and the search, to fold them again from the log."""
        self._row("DELETE FROM record")
        index_anew(self._connection)

    # Photos

    def keep_photo(self, photo: Photo) -> bool:
        """Store a photo; return whether it is new."""
        return keep_photo(self._connection, photo)

    # Services that were started

    def keep_started(self, started: Iterable[Started]) -> None:
        """Store the safety rules' findings on services, in place of the earlier ones."""
        self._connection.executemany(
            "INSERT OR REPLACE INTO started (service, client, last_start, held_at, matter, found)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            started,
        )

    def forget_started(self, services: Iterable[str]) -> None:
        """Forget the findings on services that count as not started."""
        self._connection.executemany(
            "DELETE FROM started WHERE service = ?", [(service,) for service in services]
        )

    def reviewed(self, seq: int) -> None:
        """Store the number up to which the safety rules have checked again."""
        self._row("UPDATE salon SET reviewed_seq = ?", seq)

    # Rows that were set aside

    def set_aside(self, rows: Iterable[Aside]) -> None:
        """Store rows that cannot be read where somebody can look at them."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO aside (matter, found_at, what, entity_id, seq, row)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            rows,
        )

    def drop_rows(self, entity_ids: Iterable[str]) -> None:
        """Delete the rows of records that are made again from the log."""
        self._connection.executemany(
            "DELETE FROM record WHERE entity_id = ?", [(each,) for each in entity_ids]
        )

    # Devices

    def pair(
        self,
        device_id: str,
        name: str,
        token_sha256: bytes,
        at: str,
        *,
        reads_only: bool,
        until: str | None,
    ) -> None:
        """Pair a device; a known one keeps its numbers, and has the rights of this pairing."""
        self._row(
            "INSERT INTO device (device_id, name, token_sha256, paired_at, reads_only, until)"
            " VALUES (?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (device_id) DO UPDATE SET name = excluded.name,"
            " token_sha256 = excluded.token_sha256, paired_at = excluded.paired_at,"
            " reads_only = excluded.reads_only, until = excluded.until, revoked_at = NULL",
            device_id,
            name,
            token_sha256,
            at,
            reads_only,
            until,
        )

    def revoke(self, device_id: str, at: str) -> None:
        """Revoke a device."""
        self._row("UPDATE device SET revoked_at = ? WHERE device_id = ?", at, device_id)

    def seen(self, device_id: str, at: str) -> None:
        """Note when a device called that had nothing to send."""
        self._row("UPDATE device SET last_seen_at = ? WHERE device_id = ?", at, device_id)

    def heard(self, device: Device) -> None:
        """Store how far a device has got, when it called, and how much still waits on it."""
        self._row(
            "UPDATE device SET acked_through = ?, last_eff = ?, last_seen_at = ?, queued = ?"
            " WHERE device_id = ?",
            device.acked_through,
            device.last_eff,
            device.last_seen_at,
            device.queued,
            device.device_id,
        )

    def offer_code(self, code_sha256: bytes, made_at: str, until: str, rights: Rights) -> None:
        """Store a pairing code by its hash, with what it gives; expired codes are dropped."""
        self._row("DELETE FROM pairing WHERE until < ?", made_at)
        self._row(
            "INSERT INTO pairing (code_sha256, made_at, until, reads_only, days)"
            " VALUES (?, ?, ?, ?, ?)",
            code_sha256,
            made_at,
            until,
            rights.reads_only,
            rights.days,
        )

    def use_code(self, code_sha256: bytes, device_id: str, at: str) -> Rights | None:
        """Use a code up; return what it gives, or None if it is unknown, used or too old."""
        row = self._connection.execute(
            "UPDATE pairing SET used_by = ? WHERE code_sha256 = ? AND used_by IS NULL"
            " AND until >= ? RETURNING reads_only, days",
            (device_id, code_sha256, at),
        ).fetchone()
        return Rights(bool(row[0]), row[1]) if row else None

    # Erasures

    def wipe(self, hashes: set[str], hashed: Callable[[str], str]) -> None:
        """Delete the records whose hashed id is one of these, and the content of their operations.

        It looks at every id, since the hashes do not say which they are.
        """
        self._connection.create_function(
            "is_wiped", 1, lambda each: hashed(each) in hashes, deterministic=True
        )
        self._row("DELETE FROM record WHERE is_wiped(entity_id)")
        wipe_photos(self._connection)
        self._row("DELETE FROM aside WHERE is_wiped(entity_id)")
        # Its number stays used up, and a repeat gets the same receipt.
        self._row("UPDATE refused SET entity_id = '' WHERE is_wiped(entity_id)")
        self._row("DELETE FROM started WHERE is_wiped(service) OR is_wiped(client)")
        self._row("UPDATE log SET body = NULL, entity_id = '' WHERE is_wiped(entity_id)")
        index_anew(self._connection)

    def ask_erasure(self, client_id: str, asked_at: str, due_at: str) -> None:
        """Note that a client is to be erased at an instant; an earlier request stays as it is."""
        self._row(
            "INSERT OR IGNORE INTO erasing (client_id, asked_at, due_at) VALUES (?, ?, ?)",
            client_id,
            asked_at,
            due_at,
        )

    def put_off_erasures(self, due_at: str) -> None:
        """Erase no client before an instant."""
        self._row("UPDATE erasing SET due_at = MAX(due_at, ?)", due_at)

    def drop_erasure(self, client_id: str) -> bool:
        """Forget that a client is to be erased; return whether it was noted."""
        dropped = self._connection.execute("DELETE FROM erasing WHERE client_id = ?", (client_id,))
        return dropped.rowcount == 1

    def note_erasures(self, entries: Iterable[Erasure]) -> None:
        """Add entries to the ledger; an id that is in it already stays as it is."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO erasure (n, id_sha256, at, sig) VALUES (?, ?, ?, ?)", entries
        )


def chained(chain: bytes, op_id: str) -> bytes:
    """Return the running hash after one more operation: SHA-256 of the last and the new id."""
    return hashlib.sha256(chain + op_id.encode()).digest()
