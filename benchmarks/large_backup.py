"""A backup of a large salon by itself: its time and memory, and what pushes wait meanwhile.

`ENTRIES=1000000` fills a larger one. Filling is not measured: it is the same code as a push.
"""

import os
import resource
import statistics
import tempfile
import threading
import time
import uuid
from pathlib import Path

import msgspec

from basinside.contract.devices import Pairing
from basinside.contract.sync import Push
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.clock import Clock, stamp_text
from basinside.service.sync.pairing import Gate, new_code
from basinside.service.sync.push import push, read_operations
from basinside.service.whole.backups import back_up
from basinside.service.whole.tide import begin

ENTRIES = int(os.environ.get("ENTRIES", "100000"))
AT_ONCE = 500
BY = "0199c0de-0000-7000-8000-0000000000aa"
TEXT = "Beige at eight minutes, the ends a little longer; rinsed cool, and dried before the look."


class Phone:
    """One paired phone that writes notes."""

    def __init__(self, salon: Salon) -> None:
        self.salon, self.seq, self.id = salon, 0, str(uuid.uuid4())
        code = new_code(salon, _now_ms())
        paired = Gate().pair(salon, Pairing(1, code, self.id, "Till"), _now_ms())
        self.epoch = paired.epoch

    def push(self, count: int) -> float:
        """Push so many notes; return how long the desk took, ms."""
        ops = []
        for _ in range(count):
            self.seq += 1
            ops.append(
                {
                    "op_id": _id(self.seq, 1),
                    "device_seq": self.seq,
                    "hlc": stamp_text(Clock(_now_ms(), self.seq & 0xFFFF), self.id),
                    "schema": 1,
                    "kind": "note.create",
                    "entity_id": _id(self.seq, 2),
                    "by": BY,
                    "fields": {"text": TEXT, "client": _id(self.seq % 20_000, 3)},
                }
            )
        body = {
            "v": 1,
            "device_id": self.id,
            "epoch": self.epoch,
            "sent_at": "2026-11-25T10:15:04.000Z",
            "ops": ops,
        }
        sent = msgspec.json.decode(msgspec.json.encode(body), type=Push)
        began = time.perf_counter()
        pushed = push(self.salon, sent, read_operations(sent.ops), _now_ms())
        took = (time.perf_counter() - began) * 1000
        if len(pushed.accepted) != count:
            raise RuntimeError(f"{len(pushed.accepted)} of {count} were accepted: {pushed.refused}")
        return took


def _id(number: int, kind: int) -> str:
    return f"0199c0de-{kind:04x}-7000-8000-{number:012x}"


def _now_ms() -> int:
    return time.time_ns() // 1_000_000


def _most_memory_mib() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> None:
    """Fill, push alone, back up while pushing, and report."""
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        salon = Salon(Path(folder, DATABASE_FILE))
        begin(salon, _now_ms())
        phone = Phone(salon)
        began = time.perf_counter()
        while phone.seq < ENTRIES:
            phone.push(AT_ONCE)
            if phone.seq % 100_000 == 0:
                print(f"{phone.seq:,} after {time.perf_counter() - began:.0f} s", flush=True)
        size = salon.path.stat().st_size / 2**20
        filled = time.perf_counter() - began
        print(f"{phone.seq:,} entries, {size:.0f} MiB, filled in {filled:.0f} s")
        alone = [phone.push(10) for _ in range(100)]
        before = _most_memory_mib()

        told = []
        backing_up = threading.Thread(target=lambda: told.append(back_up(salon, _now_ms())))
        began = time.perf_counter()
        processor = time.process_time()
        backing_up.start()
        beside = []
        while backing_up.is_alive():
            beside.append(phone.push(10))
            time.sleep(0.1)
        took = time.perf_counter() - began
        print(
            f"A proven backup took {took:.0f} s ({time.process_time() - processor:.0f} s of"
            f" processor), and {_most_memory_mib() - before:.0f}"
            f" MiB more than the {before:.0f} MiB of before: {told[0]}"
        )
        for name, each in (("alone", alone), ("beside the backup", beside)):
            print(
                f"A push of 10 notes {name}: median {statistics.median(each):.1f} ms, longest"
                f" {max(each):.0f} ms, of {len(each)}"
            )
        began = time.perf_counter()
        salon.check_pages()
        print(f"The look at the pages as the server starts: {time.perf_counter() - began:.1f} s")
        salon.close()


if __name__ == "__main__":
    main()
