"""The ledger of erasures: hashed ids, each signed with a key outside the database.

It is in the database, in a file that only grows, in every backup and on every device. The longer
one hands the rest back to the shorter, so an older copy cannot forget an erasure.
"""

import hmac
import os
from collections.abc import Iterable
from pathlib import Path

import msgspec

from ..records.instants import instant_text
from ..store.key import SalonKey
from ..store.rows import Erasure
from ..store.writer import Writer

LEDGER_FILE = "erasures.ndjson"

_line = msgspec.json.Decoder(Erasure)


class Ledger:
    """The file of the ledger and its signing key, in the data folder."""

    def __init__(self, folder: Path) -> None:
        self._file, self._key = folder / LEDGER_FILE, SalonKey(folder)
        self._key.make()

    def is_ours(self, id_sha256: str, at: str, sig: str) -> bool:
        """Return whether this salon signed an entry."""
        return hmac.compare_digest(self._signed(id_sha256, at), sig)

    def erase(self, writing: Writer, id_sha256s: Iterable[str], now_ms: int) -> None:
        """Enter hashed ids that are not in the ledger yet."""
        at = instant_text(now_ms)
        new = sorted(set(id_sha256s))
        self.enter(writing, [Erasure(0, each, at, self._signed(each, at)) for each in new])

    def enter(self, writing: Writer, entries: Iterable[Erasure]) -> None:
        """Add signed entries under the next numbers, to the database and to the file."""
        last = max((entry.n for entry in writing.erasures_after(0)), default=0)
        known = writing.erased(entry.id_sha256 for entry in entries)
        fresh = [entry for entry in entries if entry.id_sha256 not in known]
        numbered = [entry._replace(n=last + 1 + place) for place, entry in enumerate(fresh)]
        writing.note_erasures(numbered)
        with self._file.open("ab") as file:
            for entry in numbered:
                file.write(msgspec.json.encode(entry) + b"\n")
            file.flush()
            os.fsync(file.fileno())

    def of_file(self) -> list[Erasure]:
        """Return the entries of the file that this salon signed; a torn line is left out."""
        if not self._file.exists():
            return []
        entries = []
        for line in self._file.read_bytes().splitlines():
            try:
                entry = _line.decode(line)
            except msgspec.DecodeError:
                continue
            if self.is_ours(entry.id_sha256, entry.at, entry.sig):
                entries.append(entry)
        return entries

    def _signed(self, id_sha256: str, at: str) -> str:
        return self._key.signed(f"{id_sha256} {at}")
