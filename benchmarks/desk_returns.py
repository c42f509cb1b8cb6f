"""How soon two browsers hold the same after the salon's server was away, and is back.

Two Chromiums on this machine, each with a profile of its own and paired with one real server. In
each round the server is killed, a note is written on each side, and after a drawn time of 3 to 60 s
the server starts again on its address. Measured from its word that it is ready to the moment both
browsers hold both notes and none waits. Nobody taps meanwhile. The aim is 5 s, in every round.
`ROUNDS=4` makes fewer, `AWAY=15` keeps the server away for 15 s at most.
"""

import json
import os
import random
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from _page import ROOT, missing
from playwright.sync_api import Playwright, expect, sync_playwright

sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "two_phones")]

from browser import DESK, PATIENCE_MS, PHONE  # noqa: E402
from browsers import HELD, Window, new_service, to_the_notes, write_notes  # noqa: E402
from running import Server  # noqa: E402

ROUNDS = int(os.environ.get("ROUNDS", "20"))
AIM_S = 5
AWAY_S = (3, 60) if not os.environ.get("AWAY") else (3, float(os.environ["AWAY"]))
EVERY_S = 0.05


def equal_after_s(windows: list[Window], notes: int, began_s: float) -> float:
    """Return how long after `began_s` both hold so many notes alike, and nothing waits."""
    while True:
        held = [window.page.evaluate(HELD) for window in windows]
        records = [
            {state["id"]: json.dumps(state, sort_keys=True) for state in one["base"]}
            for one in held
        ]
        written = sum(state["kind"] == "note" for state in held[0]["base"])
        alike = records[0] == records[1] and written == notes
        if alike and not any(one["waiting"] for one in held):
            return time.monotonic() - began_s
        time.sleep(EVERY_S)


def paired(playwright: Playwright, folder: Path, server: Server) -> list[Window]:
    """Return two browsers, each at the notes of a service of its own."""
    windows = []
    for name, size in (("Ana’s phone", PHONE), ("The desk", DESK)):
        window = Window(playwright, folder / name, server.address, size)
        window.open()
        window.pair(server.code(), name)
        window.when_kept_for_offline()
        window.when_ready_offline()
        new_service(window, f"Client of {name}")
        to_the_notes(window, f"Client of {name}")
        windows.append(window)
    return windows


def main() -> None:
    """Kill, write, start again, wait until both are equal; report."""
    if sentence := missing():
        print(sentence)
        return
    expect.set_options(timeout=PATIENCE_MS)
    drawn = random.Random(5)
    took_s = []
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        sync_playwright() as playwright,
    ):
        server = Server(Path(folder) / "salon").start()
        try:
            windows = paired(playwright, Path(folder), server)
            for done in range(ROUNDS):
                server.kill()
                lost_s = time.monotonic()
                for number, window in enumerate(windows):
                    write_notes(window, [f"round {done}, side {number}"])
                time.sleep(max(0, lost_s + drawn.uniform(*AWAY_S) - time.monotonic()))
                server.start()
                took_s.append(equal_after_s(windows, 2 * (done + 1), time.monotonic()))
            for window in windows:
                window.close()
        finally:
            server.kill()
    within = sum(one <= AIM_S for one in took_s)
    print(
        f"equal again after {median(took_s):.1f} s (median), {max(took_s):.1f} s (most),"
        f" {min(took_s):.1f} s (least); {within} of {len(took_s)} within {AIM_S} s"
    )


if __name__ == "__main__":
    main()
