"""Everything that changes what is kept, inside one transaction that holds the write lock."""

import hashlib
import sqlite3
from collections.abc import Callable, Iterable
from typing import NamedTuple
from zlib import crc32

from .photos import keep_photo, name_photos, wipe_photos
from .reader import Reader
from .rows import Aside, Device, Entry, Erasure, Kept, Photo, Position, Started
from .search_index import index, index_anew


class Numbered(NamedTuple):
    """An operation with its place in the log."""

    seq: int
    entry: Entry
    chain: bytes


class Writer(Reader):
    """One transaction; made by `Salon.writing` alone.

    Numbers are given out here and nowhere else, so their order is the order of commits and a
    reader that asks for what came after a number can miss nothing.
    """

    def __init__(self, connection: sqlite3.Connection) -> None:
        super().__init__(connection)
        self._end = super().end()

    # The salon and its history

    def name_salon(self, salon_id: str) -> None:
        """Give the salon its id, once."""
        self._row("INSERT INTO salon (only_one, salon_id) VALUES (1, ?)", salon_id)

    def begin_epoch(self, n: int, at: str, why: str) -> None:
        """Say that from here on this is another history than some device may know."""
        self._row(
            "INSERT INTO epoch (n, from_seq, started_at, why) VALUES (?, ?, ?, ?)",
            n,
            self._end.seq,
            at,
            why,
        )

    def backed_up(self, seq: int) -> None:
        """Keep that a verified backup holds everything up to a number."""
        self._row("UPDATE salon SET safe_seq = MAX(safe_seq, ?)", seq)

    def end(self) -> Position:
        """Return where the log ends, with what this transaction has added."""
        return self._end

    # Operations

    def add(self, entry: Entry) -> int:
        """Log an operation; return its number. Its id and its device's number must be new."""
        numbered = self.number(entry)
        self.log([numbered])
        return numbered.seq

    def number(self, entry: Entry) -> Numbered:
        """Give an operation the next number; `log` must keep it before the transaction ends."""
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
        """Keep that an operation was refused, and what its sender was told."""
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
        """Keep that the writes of these operations came back from a device."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO rescued (op_id, seq) VALUES (?, ?)",
            [(op_id, seq) for op_id in op_ids],
        )

    # Records

    def keep(self, records: Iterable[Kept]) -> None:
        """Keep records as they are now folded, and have the search find them so."""
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
        """Drop every record and the search, to be folded again from the log."""
        self._row("DELETE FROM record")
        index_anew(self._connection)

    # Photos

    def keep_photo(self, photo: Photo) -> bool:
        """Keep a photo; return whether it is new."""
        return keep_photo(self._connection, photo)

    # Services that were started

    def keep_started(self, started: Iterable[Started]) -> None:
        """Keep what the safety rules say of services, in place of what they said before."""
        self._connection.executemany(
            "INSERT OR REPLACE INTO started (service, client, last_start, held_at, matter, found)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            started,
        )

    def forget_started(self, services: Iterable[str]) -> None:
        """Forget what was said of services that count as not started."""
        self._connection.executemany(
            "DELETE FROM started WHERE service = ?", [(service,) for service in services]
        )

    def reviewed(self, seq: int) -> None:
        """Keep up to which number the safety rules have looked again."""
        self._row("UPDATE salon SET reviewed_seq = ?", seq)

    # Rows that were set aside

    def set_aside(self, rows: Iterable[Aside]) -> None:
        """Keep rows that cannot be read where somebody can look at them."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO aside (matter, found_at, what, entity_id, seq, row)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            rows,
        )

    def drop_rows(self, entity_ids: Iterable[str]) -> None:
        """Take out the rows of records, which are made again from the log."""
        self._connection.executemany(
            "DELETE FROM record WHERE entity_id = ?", [(each,) for each in entity_ids]
        )

    # Devices

    def pair(self, device_id: str, name: str, token_sha256: bytes, at: str) -> None:
        """Let a device in; one that was known keeps its numbers."""
        self._row(
            "INSERT INTO device (device_id, name, token_sha256, paired_at) VALUES (?, ?, ?, ?)"
            " ON CONFLICT (device_id) DO UPDATE SET name = excluded.name,"
            " token_sha256 = excluded.token_sha256, paired_at = excluded.paired_at,"
            " revoked_at = NULL",
            device_id,
            name,
            token_sha256,
            at,
        )

    def revoke(self, device_id: str, at: str) -> None:
        """Let a device in no more."""
        self._row("UPDATE device SET revoked_at = ? WHERE device_id = ?", at, device_id)

    def seen(self, device_id: str, at: str) -> None:
        """Keep when a device was heard of that had nothing to send."""
        self._row("UPDATE device SET last_seen_at = ? WHERE device_id = ?", at, device_id)

    def heard(self, device: Device) -> None:
        """Keep how far a device has got, when it was heard, and what it said still waits on it."""
        self._row(
            "UPDATE device SET acked_through = ?, last_eff = ?, last_seen_at = ?, queued = ?"
            " WHERE device_id = ?",
            device.acked_through,
            device.last_eff,
            device.last_seen_at,
            device.queued,
            device.device_id,
        )

    def offer_code(self, code_sha256: bytes, made_at: str, until: str) -> None:
        """Keep a pairing code by its hash; those that have run out are dropped."""
        self._row("DELETE FROM pairing WHERE until < ?", made_at)
        self._row(
            "INSERT INTO pairing (code_sha256, made_at, until) VALUES (?, ?, ?)",
            code_sha256,
            made_at,
            until,
        )

    def use_code(self, code_sha256: bytes, device_id: str, at: str) -> bool:
        """Use a code up; return whether it was there, unused, and in time."""
        used = self._connection.execute(
            "UPDATE pairing SET used_by = ? WHERE code_sha256 = ? AND used_by IS NULL"
            " AND until >= ?",
            (device_id, code_sha256, at),
        )
        return used.rowcount == 1

    # Erasures

    def wipe(self, hashes: set[str], hashed: Callable[[str], str]) -> None:
        """Take out the records whose hashed id is one of these; their operations lose all they say.

        Every id is looked at, since the hashes do not say which they are.
        """
        self._connection.create_function(
            "is_wiped", 1, lambda each: hashed(each) in hashes, deterministic=True
        )
        self._row("DELETE FROM record WHERE is_wiped(entity_id)")
        wipe_photos(self._connection)
        self._row("DELETE FROM aside WHERE is_wiped(entity_id)")
        # Its number stays used up, and the same receipt is given again.
        self._row("UPDATE refused SET entity_id = '' WHERE is_wiped(entity_id)")
        self._row("DELETE FROM started WHERE is_wiped(service) OR is_wiped(client)")
        self._row("UPDATE log SET body = NULL, entity_id = '' WHERE is_wiped(entity_id)")
        index_anew(self._connection)

    def ask_erasure(self, client_id: str, asked_at: str, due_at: str) -> None:
        """Keep that a client is to be erased at an instant; one that was asked for before stays."""
        self._row(
            "INSERT OR IGNORE INTO erasing (client_id, asked_at, due_at) VALUES (?, ?, ?)",
            client_id,
            asked_at,
            due_at,
        )

    def put_off_erasures(self, due_at: str) -> None:
        """Let no client be erased before an instant."""
        self._row("UPDATE erasing SET due_at = MAX(due_at, ?)", due_at)

    def drop_erasure(self, client_id: str) -> bool:
        """Forget that a client is to be erased; return whether it was kept."""
        dropped = self._connection.execute("DELETE FROM erasing WHERE client_id = ?", (client_id,))
        return dropped.rowcount == 1

    def note_erasures(self, entries: Iterable[Erasure]) -> None:
        """Add entries to the ledger; those whose id is in it already stay as they are."""
        self._connection.executemany(
            "INSERT OR IGNORE INTO erasure (n, id_sha256, at, sig) VALUES (?, ?, ?, ?)", entries
        )


def chained(chain: bytes, op_id: str) -> bytes:
    """Return the running hash after one more operation: SHA-256 of the last and the new id."""
    return hashlib.sha256(chain + op_id.encode()).digest()
