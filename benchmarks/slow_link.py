"""How a first visit goes over a slow link.

A proxy of our own stands before the real server: one link that all connections share, with a rate
and a delay. Slow 4G is Lighthouse's (1.6 Mbit/s, 150 ms); 64 kbit/s with 400 ms is the slowest that
is still expected to do. The page's processor is slowed to a quarter. Measured from the address to
*Ready offline* in Settings. The aims are 26 s, and that it arrives at all.

`LINKS="slow 4G"` names the links, `SLOWER=1` leaves the processor as it is.
"""

import asyncio
import os
import sys
import tempfile
import threading
import time
from contextlib import suppress
from pathlib import Path

from _page import ROOT, missing, served

sys.path.insert(0, str(ROOT / "tests" / "common"))

from browser import PATIENCE_MS, PHONE, open_profile
from playwright.sync_api import Page, expect, sync_playwright

LINKS = {"slow 4G": (1_638_400, 0.150), "64 kbit/s": (64_000, 0.400)}
AIMS = {"slow 4G": "aim: 26 s", "64 kbit/s": "aim: it arrives"}
SLOWER = float(os.environ.get("SLOWER", "4"))
PART = 2048
MADE_UP_S = 0.1
LONGEST_MS = 30 * 60_000


class Link:
    """A proxy to one port whose connections share a rate, both ways, and have a delay."""

    def __init__(self, port: int) -> None:
        self._port, self._free_at_s = port, {"up": 0.0, "down": 0.0}
        self.bits_s, self.delay_s = 0, 0.0
        self._open: set[asyncio.StreamWriter] = set()
        self._loop = asyncio.new_event_loop()
        threading.Thread(target=self._loop.run_forever, daemon=True).start()
        begun = asyncio.run_coroutine_threadsafe(
            asyncio.start_server(self._taken, "127.0.0.1", 0), self._loop
        )
        self._server = begun.result()
        self.port = self._server.sockets[0].getsockname()[1]

    def cut(self) -> None:
        """End every connection that is open."""

        def all_of_them() -> None:
            for writing in self._open:
                writing.transport.abort()

        self._loop.call_soon_threadsafe(all_of_them)

    async def _taken(self, reading: asyncio.StreamReader, writing: asyncio.StreamWriter) -> None:
        self._open.add(writing)
        with suppress(OSError):
            await asyncio.sleep(self.delay_s)
            from_server, to_server = await asyncio.open_connection("127.0.0.1", self._port)
            self._open.add(to_server)
            await asyncio.gather(
                self._pass_on("up", reading, to_server),
                self._pass_on("down", from_server, writing),
            )
        self._open.discard(writing)
        writing.close()

    async def _pass_on(
        self, way: str, reading: asyncio.StreamReader, writing: asyncio.StreamWriter
    ) -> None:
        loop = asyncio.get_running_loop()
        while part := await reading.read(PART):
            if self.bits_s:
                # A busy machine wakes it late, which is no fault of the link.
                begins_s = max(loop.time() - MADE_UP_S, self._free_at_s[way])
                self._free_at_s[way] = begins_s + len(part) * 8 / self.bits_s
                await asyncio.sleep(max(0, self._free_at_s[way] - loop.time()))
            # In order, since all wait equally long.
            loop.call_later(self.delay_s / 2, self._send, writing, part)
        loop.call_later(self.delay_s / 2, writing.close)

    def _send(self, writing: asyncio.StreamWriter, part: bytes) -> None:
        if not writing.is_closing():
            writing.write(part)


def first_visit(page: Page, address: str) -> tuple[float, float]:
    """Return after how many seconds something was painted, and the page ready offline."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    began_s = time.monotonic()
    page.goto(f"{address}/#/settings", timeout=LONGEST_MS, wait_until="commit")
    ready = page.locator("#offline [role=status]", has_text="Ready offline: ")
    expect(ready).to_be_visible(timeout=LONGEST_MS)
    took_s = time.monotonic() - began_s
    painted = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN"
    return page.evaluate(painted) / 1000, took_s


def main() -> None:
    """Report each link."""
    if sentence := missing():
        print(sentence)
        return
    expect.set_options(timeout=PATIENCE_MS)
    links = os.environ.get("LINKS", ",".join(LINKS)).split(",")
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        served() as address,
        sync_playwright() as playwright,
    ):
        link = Link(int(address.rpartition(":")[2]))
        here = f"http://127.0.0.1:{link.port}"
        for name in links:
            link.bits_s, link.delay_s = LINKS[name]
            context = open_profile(playwright, Path(folder) / name.replace("/", " "), PHONE)
            painted_s, ready_s = first_visit(context.pages[0], here)
            print(
                f"{name}: first paint {painted_s:.1f} s, ready offline after {ready_s:.1f} s"
                f" ({AIMS[name]})",
                flush=True,
            )
            context.close()
            link.cut()


if __name__ == "__main__":
    main()
