"""Ten thousand queued notes until a second device has them: ours, and PouchDB with LevelDB.

Both as two processes on this machine over HTTP on the loopback address, in one run, turn by turn,
the median of `RUNS` (5): the same operations with the same ids go from one device's disk through
the server's disk to another device's disk, and are compared there. PouchDB takes the best of its
batch sizes. Both force each batch to the disk at all three places: ours in LevelDB with `sync` and
in SQLite (WAL, `synchronous = FULL`), PouchDB in LevelDB that is made to (`sync/durable.mjs`;
`UNFORCED=1` leaves it as it comes). Neither packs what it sends. Writing the notes on the first
device is told apart. `NOTES=1000` sends fewer.
"""

import json
import os
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

from _page import served

from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.pairing import new_code

HERE = Path(__file__).resolve().parent
NOTES = int(os.environ.get("NOTES", "10000"))
RUNS = int(os.environ.get("RUNS", "5"))
BATCH_SIZES = (500, 1000, 2000)
TIMES = {"local_ms": "written", "to_ms": "to the server", "from_ms": "to the second"}


def told(script: str, *inputs: object) -> dict[str, float]:
    """Return what a device's process says: its times in ms, once all of its notes are there."""
    said = subprocess.run(
        ["node", HERE / "sync" / script, *map(str, inputs)],
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    times: dict[str, float] = json.loads(said.stdout)
    if times.pop("count") != NOTES or not times.pop("same"):
        raise SystemExit(f"{script}: not every note came through")
    return times | {"all_ms": times["to_ms"] + times["from_ms"]}


def ours() -> dict[str, float]:
    """Return the times of one run of ours."""
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        served(folder) as address,
    ):
        salon = Salon(Path(folder) / DATABASE_FILE)
        codes = [new_code(salon, time.time_ns() // 1_000_000) for _ in range(2)]
        salon.close()
        devices = Path(folder) / "devices"
        devices.mkdir()
        return told("ours.mjs", address, devices, NOTES, *codes)


@contextmanager
def pouch_server(folder: Path) -> Iterator[str]:
    """Serve PouchDB from a folder; give its address."""
    script = HERE / "sync" / "pouch_server.mjs"
    server = subprocess.Popen(["node", script, folder], stdout=subprocess.PIPE, text=True)
    try:
        yield server.stdout.readline().strip()
    finally:
        server.send_signal(signal.SIGTERM)
        server.wait()


def pouch(batch_size: int) -> dict[str, float]:
    """Return the times of one run of PouchDB."""
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        at_server, at_devices = Path(folder) / "server", Path(folder) / "devices"
        at_server.mkdir()
        at_devices.mkdir()
        with pouch_server(at_server) as address:
            return told("pouch.mjs", address, at_devices, NOTES, batch_size)


def say(who: str, runs: list[dict[str, float]]) -> float:
    """Print the medians of one side; return that of the whole way."""
    parts = (f"{words} {median(run[name] for run in runs):5.0f}" for name, words in TIMES.items())
    whole = sorted(run["all_ms"] for run in runs)
    spread = f"{whole[0]:.0f} to {whole[-1]:.0f}"
    print(f"{who:22} {', '.join(parts)}; both ways {median(whole):5.0f} ms ({spread})")
    return median(whole)


def main() -> None:
    """Find PouchDB's best batch size, run both in turn, and report."""
    if not (HERE / "node_modules" / "pouchdb").exists():
        print("PouchDB is not here: run `npm --prefix benchmarks ci` once, then this again.")
        return
    tried = {size: pouch(size)["all_ms"] for size in BATCH_SIZES}
    best = min(tried, key=tried.__getitem__)
    sizes = ", ".join(f"{size}: {ms:.0f} ms" for size, ms in tried.items())
    print(f"{NOTES:,} notes; PouchDB by its batch size: {sizes}")
    turns = [(ours(), pouch(best)) for _ in range(RUNS)]
    mine = say("ours", [turn[0] for turn in turns])
    theirs = say(f"PouchDB, batch {best}", [turn[1] for turn in turns])
    each = sorted(other["all_ms"] / own["all_ms"] for own, other in turns)
    print(
        f"PouchDB takes {theirs / mine:.1f} times as long ({each[0]:.1f} to {each[-1]:.1f} in one"
        " turn); the aim is 5"
    )


if __name__ == "__main__":
    main()
