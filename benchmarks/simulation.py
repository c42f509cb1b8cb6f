"""Ten thousand seeded histories of a salon with faults, as the tests run three hundred.

What must hold in each is in tests/sync/holding.py. `SEEDS=1000` runs fewer, `FIRST=4000` begins
there, `MINUTES=5` stops after as long and says how to go on. A seed that fails is made shorter and
printed with the command that runs it again.
"""

import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "sync"))

from one_history import again, failure, shortened  # noqa: E402
from salon_world import made_once  # noqa: E402

FIRST = int(os.environ.get("FIRST", "0"))
SEEDS = int(os.environ.get("SEEDS", "10000"))
MINUTES = float(os.environ.get("MINUTES", "20"))


def main() -> None:
    """Run the seeds there is time for, and report."""
    began_s, ran, failed = time.perf_counter(), 0, 0
    with tempfile.TemporaryDirectory() as folder:
        template = made_once(Path(folder) / "template")
        for seed in range(FIRST, FIRST + SEEDS):
            if time.perf_counter() - began_s > MINUTES * 60:
                break
            ran += 1
            if why := failure(seed, template):
                failed += 1
                print(f"seed {seed}: {': '.join(why)}\n{again(seed, shortened(seed, template))}")
    ms_each = (time.perf_counter() - began_s) * 1000 / max(ran, 1)
    last = FIRST + ran - 1
    print(f"{ran - failed} of {ran} histories held, seeds {FIRST} to {last}, {ms_each:.0f} ms each")
    if ran < SEEDS:
        print(f"{SEEDS - ran} were not run; go on with FIRST={last + 1} SEEDS={SEEDS - ran}")


if __name__ == "__main__":
    main()
