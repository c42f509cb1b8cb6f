"""How long a note takes from the tap on a phone to the screen of the salon's desk.

Two Chromiums on this machine, each with a profile of its own and paired with one real server; the
desk shows what arrives. From the tap's own time on the phone's page to the moment the note's text
is in the desk's page, both by the machine's clock. The aim is 1 s for 95 notes in 100. `NOTES=20`
writes fewer.
"""

import os
import sys
import tempfile
from pathlib import Path
from statistics import median

from _page import ROOT, missing
from playwright.sync_api import sync_playwright

sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "two_phones")]

from browser import DESK, PHONE  # noqa: E402
from browsers import Window, new_service, to_the_notes  # noqa: E402
from running import Server  # noqa: E402

NOTES = int(os.environ.get("NOTES", "100"))
AIM_MS = 1000
CLIENT = "Wren Aldous"

# Keeps for each note when its text came into the page.
ARRIVALS = """() => {
  window.arrived = {};
  const look = () => {
    for (const [name] of document.body.innerText.matchAll(/note \\d+ of the round/g))
      window.arrived[name] ??= Date.now();
  };
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true,
    characterData: true });
}"""
TAPPED = """() => {
  window.tapped = [];
  addEventListener("click", (tap) => {
    if (tap.target.closest("button")?.textContent === "Keep the note")
      window.tapped.push(performance.timeOrigin + tap.timeStamp);
  }, true);
}"""


def main() -> None:
    """Pair both, write the notes one after the other, and report."""
    if sentence := missing():
        print(sentence)
        return
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        sync_playwright() as playwright,
    ):
        server = Server(Path(folder) / "salon")
        server.start()
        phone, desk = (
            Window(playwright, Path(folder) / name, server.address, size)
            for name, size in (("phone", PHONE), ("desk", DESK))
        )
        for window, name in ((phone, "Ana’s phone"), (desk, "The desk")):
            window.open()
            window.pair(server.code(), name)
            window.when_kept_for_offline()
        new_service(phone, CLIENT)
        to_the_notes(phone, CLIENT)
        desk.go("desk")
        desk.page.get_by_role("heading", name="Notes").wait_for()
        desk.page.evaluate(ARRIVALS)
        phone.page.evaluate(TAPPED)
        for number in range(1, NOTES + 1):
            text = f"note {number} of the round"
            phone.page.get_by_label("Note", exact=True).fill(text)
            phone.page.get_by_role("button", name="Keep the note").tap()
            desk.page.get_by_text(text, exact=True).wait_for()
        arrived = desk.page.evaluate("window.arrived")
        tapped = phone.page.evaluate("window.tapped")
        phone.close()
        desk.close()
        server.kill()
    took_ms = sorted(
        arrived[f"note {number} of the round"] - at_ms for number, at_ms in enumerate(tapped, 1)
    )
    p95_ms = took_ms[int(len(took_ms) * 0.95)]
    print(
        f"{len(took_ms)} notes from the tap to the desk's screen: median {median(took_ms):.0f} ms,"
        f" p95 {p95_ms:.0f} ms, most {took_ms[-1]:.0f} ms (aim: p95 {AIM_MS} ms)"
    )


if __name__ == "__main__":
    main()
