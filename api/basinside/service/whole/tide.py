"""A small file beside the database that says how far it had got, so that an older one shows.

It is written after commits and at most a second late. If the database ends before its tide, or in
another history, somebody put a copy back. A new epoch then begins, and every device hears of it.
"""

import os
import threading
from pathlib import Path
from uuid import uuid4

import msgspec

from ..records.instants import instant_text
from ..store.rows import Position
from ..store.salon import Salon

TIDE_FILE = "tide"
# A desk that closes writes while the last round's thread may still do so: both use one new file.
_WRITING = threading.Lock()


class Tide(msgspec.Struct, frozen=True):
    """How far the database had got: its epoch, its last number and the running hash there."""

    epoch: int
    seq: int
    chain: str


def begin(salon: Salon, now_ms: int) -> str | None:
    """Name a new salon, compare an old one with its tide; return why a new epoch began, if so."""
    with salon.writing() as writing:
        end, epoch = writing.end(), writing.epoch()
        if not epoch:
            writing.name_salon(str(uuid4()))
            writing.begin_epoch(1, instant_text(now_ms), "the first")
            why = None
        else:
            tide = _read(salon.path)
            why = _behind(tide, epoch, end, writing.chain_at(tide.seq) if tide else None)
            if why:
                highest = max(epoch, tide.epoch if tide else 0)
                writing.begin_epoch(highest + 1, instant_text(now_ms), why)
    keep_tide(salon)
    return why


def keep_tide(salon: Salon) -> None:
    """Write how far the database has got, if it has moved: whole, and to the disk."""
    with _WRITING:
        with salon.reading() as reading:
            end, epoch = reading.end(), reading.epoch()
        tide = Tide(epoch, end.seq, end.chain.hex())
        if tide == _read(salon.path):
            return
        path = salon.path.with_name(TIDE_FILE)
        partial = path.with_suffix(".partial")
        with partial.open("wb") as file:
            file.write(msgspec.json.encode(tide))
            file.flush()
            os.fsync(file.fileno())
        partial.replace(path)


def _read(database: Path) -> Tide | None:
    try:
        return msgspec.json.decode(database.with_name(TIDE_FILE).read_bytes(), type=Tide)
    except (OSError, msgspec.DecodeError):
        return None


def _behind(tide: Tide | None, epoch: int, end: Position, chain: bytes | None) -> str | None:
    if tide is None:
        return "the file that says how far the database had got is missing" if end.seq else None
    if tide.epoch > epoch or tide.seq > end.seq:
        return f"the database ends at {end.seq} but had got to {tide.seq}"
    if chain is not None and chain.hex() != tide.chain:
        return f"the database no longer holds the history it had up to {tide.seq}"
    return None
