"""Two hundred devices that each send fifty notes at the same moment, to the real server.

Each device is a thread with a connection of its own, and sends its notes in batches of ten, one
after the other; all begin together. Reported: how long one call takes, what was not answered with
200, and whether every note is in the log once. Client and server share this machine's processors.
`DEVICES=50` sends from fewer. The aim is 2 s for 99 calls in 100, nothing lost, no refusal.
"""

import os
import random
import sys
import tempfile
import threading
import time
from pathlib import Path

from _page import served

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "faults")]

from killed_server import Phone, now_ms, stored_as_told  # noqa: E402

from basinside.service.store.salon import DATABASE_FILE, Salon  # noqa: E402
from basinside.service.sync.pairing import new_code  # noqa: E402

DEVICES = int(os.environ.get("DEVICES", "200"))
NOTES = 50
IN_A_BATCH = 10


def send_all(phone: Phone, start: threading.Barrier, calls_s: list[float], wrong: list) -> None:
    """Send every note of one device once all are ready; add how long each call took."""
    start.wait()
    try:
        for _ in range(NOTES // IN_A_BATCH):
            phone.unanswered = [phone.note() for _ in range(IN_A_BATCH)]
            began_s = time.perf_counter()
            phone.push_one_batch()
            calls_s.append(time.perf_counter() - began_s)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is counted
        wrong.append(error)


def main() -> None:
    """Pair all devices, let them send at once, and report."""
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        served(folder) as address,
    ):
        port = int(address.rpartition(":")[2])
        phones = [Phone(number, random.Random(number)) for number in range(DEVICES)]
        salon = Salon(Path(folder) / DATABASE_FILE)
        for phone in phones:
            phone.connect(port)
            phone.pair(new_code(salon, now_ms()))
        salon.close()
        start, calls_s, wrong = threading.Barrier(DEVICES + 1), [], []
        threads = [
            threading.Thread(target=send_all, args=(phone, start, calls_s, wrong))
            for phone in phones
        ]
        for thread in threads:
            thread.start()
        start.wait()
        began_s = time.perf_counter()
        for thread in threads:
            thread.join()
        took_s = time.perf_counter() - began_s
        for phone in phones:
            phone.connection.close()
        stored_as_told(Path(folder), phones)
    told = sum(len(phone.acknowledged) for phone in phones)
    calls_s.sort()
    median_s, p99_s = calls_s[len(calls_s) // 2], calls_s[int(len(calls_s) * 0.99)]
    print(
        f"{DEVICES} devices at once: {told:,} of {DEVICES * NOTES:,} notes told as kept in"
        f" {took_s:.1f} s, 0 of them lost or double, {len(wrong)} devices met anything but 200"
    )
    print(f"one call: median {median_s:.2f} s, p99 {p99_s:.2f} s, most {calls_s[-1]:.2f} s")


if __name__ == "__main__":
    main()
