"""Ten thousand seeded histories of a salon with faults, as the tests run three hundred.

`SEEDS=1000` runs fewer. It says how many held and prints every seed that did not.
"""

import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "sync"))

from salon_world import made_once  # noqa: E402
from test_simulation import history  # noqa: E402

SEEDS = int(os.environ.get("SEEDS", "10000"))


def main() -> None:
    """Run every seed and report."""
    started_s, failed = time.perf_counter(), []
    with tempfile.TemporaryDirectory() as folder:
        template = made_once(Path(folder) / "template")
        for seed in range(SEEDS):
            with tempfile.TemporaryDirectory(dir=folder) as own:
                try:
                    history(seed, template, Path(own))
                except Exception as error:  # noqa: BLE001 - every seed is reported
                    failed.append(seed)
                    print(f"seed {seed}: {error!r}")
    took_s = time.perf_counter() - started_s
    print(f"{SEEDS - len(failed)} of {SEEDS} histories held, {took_s / SEEDS * 1000:.0f} ms each")


if __name__ == "__main__":
    main()
