"""How fast the page opens on a phone, as Lighthouse scores it: the median of five runs.

Source: Lighthouse 12's mobile preset (a mid-range phone on slow 4G, simulated) on the built
page from the real server. The aim is 95 for performance and 100 for the rest; a slow machine
is reported, never failed.
"""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

from _page import CHROMIUM, missing, served

HERE = Path(__file__).resolve().parent
LIGHTHOUSE = HERE / "node_modules" / "lighthouse" / "cli" / "index.js"
RUNS = 5
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
TIMES_MS = {
    "first-contentful-paint": "first paint",
    "largest-contentful-paint": "largest paint",
    "total-blocking-time": "blocked",
}
CHROMIUM_FLAGS = "--headless=new --no-sandbox --disable-gpu --disable-quic --no-first-run"


def lighthouse(address: str, folder: Path) -> dict:
    """Return one report of the page at `address`, as Lighthouse writes it."""
    report = folder / "report.json"
    ended = subprocess.run(
        [
            *("node", LIGHTHOUSE, address, "--quiet", "--output=json", f"--output-path={report}"),
            *(f"--only-categories={','.join(CATEGORIES)}", f"--chrome-flags={CHROMIUM_FLAGS}"),
        ],
        env=os.environ | {"CHROME_PATH": str(CHROMIUM), "TMPDIR": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )
    if ended.returncode != 0:
        sys.exit(f"Lighthouse could not finish:\n{ended.stderr.strip()[-2000:]}")
    return json.loads(report.read_text())


def print_median(reports: list[dict]) -> None:
    """Print the median score of each category, 0-100, and what was not perfect in it."""
    for name in CATEGORIES:
        scores = sorted(round(100 * report["categories"][name]["score"]) for report in reports)
        print(f"{name:<16} {median(scores):>4.0f}   (of {scores})")
    for audit, words in TIMES_MS.items():
        times = [report["audits"][audit]["numericValue"] for report in reports]
        print(f"{words:<16} {median(times):>4.0f} ms")
    last = reports[-1]
    for name in CATEGORIES[1:]:
        for reference in last["categories"][name]["auditRefs"]:
            audit = last["audits"][reference["id"]]
            if reference["weight"] and audit["score"] is not None and audit["score"] < 1:
                print(f"  {name}: {audit['title']}")


def main() -> None:
    """Serve the page, score it five times and print the medians."""
    sentence = missing()
    if not LIGHTHOUSE.exists():
        sentence = "Lighthouse is not here: run `npm --prefix benchmarks ci` once, then this again."
    if sentence:
        print(sentence)
        return
    with served() as address, tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder:
        print_median([lighthouse(f"{address}/", Path(folder)) for _ in range(RUNS)])


if __name__ == "__main__":
    main()
