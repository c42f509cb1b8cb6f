"""Searching, and pulling one change, in a salon of 100,000 clients and 1,000,000 notes.

Records go in by the store's own write path (log, records and index in one transaction of 20,000),
without the phones that would have sent them; each operation is logged whole, so that the size of
the file is what such a salon's would be. Searches are for words as they are typed: a name, two
words, the beginning of one, a word in every fifth note. Timed in this process, without HTTP.
Smaller: `RECORDS=10000 python benchmarks/search.py`.
"""

import hashlib
import os
import random
import sqlite3
import tempfile
import time
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from basinside.service.desk.record_search import search
from basinside.service.records.fold import fold
from basinside.service.records.operation import Operation
from basinside.service.records.wire import kept_of
from basinside.service.store.rows import Device, Entry, Kept
from basinside.service.store.salon import Salon
from basinside.service.store.writer import Writer
from basinside.service.sync.cursor import cursor_at
from basinside.service.sync.pull import pull
from basinside.service.whole.tide import begin

NOTES = int(os.environ.get("RECORDS", "1000000"))
CLIENTS = NOTES // 10
AT_ONCE = 20_000
SEARCHES = 400
PULLS = 200
DEVICE = "0199c0de-0000-7000-8000-00000000000a"
STAMP = f"2026-11-25T10:15:03.120Z-0000-{DEVICE}"
NOW_MS = 1795608000000


def main() -> None:
    """Build the salon, then say how long searches and pulls take."""
    chance = random.Random(7)
    words = ["".join(chance.choices("aeiklmnoprstu", k=chance.randint(4, 9))) for _ in range(8000)]
    names = ["".join(chance.choices("aeiklmnoprstu", k=7)).title() for _ in range(6000)]
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        path = Path(folder) / "salon.db"
        salon = Salon(path)
        begin(salon, NOW_MS)
        began = time.perf_counter()
        fill(salon, chance, words, names)
        took = time.perf_counter() - began
        size_mb = path.stat().st_size / 1e6
        print(
            f"{CLIENTS:,} clients and {NOTES:,} notes in {took:.0f} s, {size_mb:,.0f} MB",
            flush=True,
        )
        say_what_a_note_takes(salon)
        asked = {
            "a name": lambda: chance.choice(names),
            "two words": lambda: f"{chance.choice(words)} {chance.choice(words)}",
            "a beginning of 2": lambda: chance.choice(words)[:2],
            "a beginning of 3": lambda: chance.choice(words)[:3],
            "a common word": lambda: "beige",
            "a common and a rare word": lambda: f"beige {chance.choice(words)}",
        }
        for kind, typed in asked.items():
            say(f"search, {kind}", [timed(search, salon, typed(), 60) for _ in range(SEARCHES)])
        say("pull after one change", [one_pull(salon, words, chance) for _ in range(PULLS)])
        salon.close()


def fill(salon: Salon, chance: random.Random, words: list[str], names: list[str]) -> None:
    """Write clients, then their notes."""
    clients: list[str] = []

    def made() -> Iterator[tuple[str, dict[str, object]]]:
        for _ in range(CLIENTS):
            yield "client", {"name": f"{chance.choice(names)} {chance.choice(names)}"}
        for _ in range(NOTES):
            said = chance.choices(words, k=9)
            if chance.random() < 0.2:
                said[3] = "beige"
            yield "note", {"text": " ".join(said), "client": chance.choice(clients)}

    ids = (str(uuid.UUID(int=(0x0199C0DE << 96) | (7 << 76) | (8 << 60) | n)) for n in range(10**9))
    coming = made()
    left = CLIENTS + NOTES
    while left:
        with salon.writing() as writing:
            kept = []
            for _ in range(min(AT_ONCE, left)):
                kind, fields = next(coming)
                entity_id = next(ids)
                if kind == "client":
                    clients.append(entity_id)
                kept.append(written(writing, kind, entity_id, next(ids), fields))
                left -= 1
            writing.keep(kept)


def written(
    writing: Writer, kind: str, entity_id: str, op_id: str, fields: dict[str, object]
) -> Kept:
    """Log the creation of a record; return the record."""
    number = writing.end().seq + 1
    op = Operation(
        op_id=op_id,
        device_seq=number,
        hlc=STAMP,
        schema=2,
        kind=f"{kind}.create",
        entity_id=entity_id,
        by=DEVICE,
        fields=fields,
    )
    body = msgspec.json.encode(op)
    sha256 = hashlib.sha256(body).digest()
    entry = Entry(op_id, DEVICE, number, entity_id, STAMP, False, STAMP[:24], sha256, body)
    state = fold(None, op)
    assert state
    return kept_of(state, writing.add(entry))


def one_pull(salon: Salon, words: list[str], chance: random.Random) -> float:
    """Write one note; return how long the pull of it takes, in ms."""
    device = Device(DEVICE, "", "", None, 0, "", None, 0)
    with salon.reading() as reading:
        cursor = cursor_at(reading, reading.end())
    with salon.writing() as writing:
        fields = {"text": chance.choice(words)}
        ids = [str(uuid.UUID(int=chance.getrandbits(128))) for _ in range(2)]
        writing.keep([written(writing, "note", *ids, fields)])
    began = time.perf_counter()
    pulled = pull(salon, device, cursor, 500, 0, NOW_MS)
    took = (time.perf_counter() - began) * 1000
    assert len(pulled.changes) == 1
    return took


def say_what_a_note_takes(salon: Salon) -> None:
    """Print the bytes of file per record, and how much of them each table with its indexes has."""
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    records = CLIENTS + NOTES
    whole = salon.path.stat().st_size
    print(f"{whole / records:,.0f} bytes a record, checkpointed", flush=True)
    try:
        parts = salon.run_alone(
            "SELECT tbl_name, SUM(pgsize) FROM dbstat JOIN sqlite_schema USING (name)"
            " GROUP BY tbl_name ORDER BY 2 DESC LIMIT 8"
        )
    except sqlite3.OperationalError:
        return  # this SQLite was built without the table that says so
    for table, size in parts:
        print(f"  {table:20} {int(str(size)) / records:5.0f}", flush=True)


def timed(work: Callable[..., object], *inputs: object) -> float:
    """Return how long a call takes, in ms."""
    began = time.perf_counter()
    work(*inputs)
    return (time.perf_counter() - began) * 1000


def say(what: str, times: list[float]) -> None:
    """Print the median, the 95th and the slowest."""
    times = sorted(times)
    middle, p95 = times[len(times) // 2], times[int(len(times) * 0.95)]
    print(f"{what:33} median {middle:7.2f} ms   p95 {p95:7.2f}   most {times[-1]:7.2f}")


if __name__ == "__main__":
    print(f"SQLite {sqlite3.sqlite_version}", flush=True)
    main()
