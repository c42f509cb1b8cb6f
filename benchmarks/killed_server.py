"""The real server killed with SIGKILL 200 times while four phones push: nothing it told is lost.

After each kill the log is held to every receipt that a phone was given; at the end the doctor looks
through all of it. `KILLS=20` does fewer. A kill of the process is not a cut of the power: what the
kernel had taken survives it, so this holds the order of commit and answer, not the disk.
"""

import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "faults")]

from killed_server import kill_often  # noqa: E402

from basinside.cli.doctor import examine  # noqa: E402
from basinside.cli.serve import Settings  # noqa: E402

KILLS = int(os.environ.get("KILLS", "200"))


def main() -> None:
    """Kill, compare, have the doctor look, and report."""
    began_s = time.perf_counter()
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        acknowledged = kill_often(Path(folder), KILLS)
        took_s = time.perf_counter() - began_s
        print(
            f"{KILLS} kills in {took_s:.0f} s: {acknowledged:,} acknowledged, 0 missing or double"
        )
        examine(Settings("127.0.0.1", 0, Path(folder)))


if __name__ == "__main__":
    main()
