"""A salon under every fault at once: two people write notes, and nothing may be lost or doubled.

Two Chromiums, each with a profile of its own, write notes on one real server for five minutes. The
server has 256 files to open. Meanwhile a neighbour does all of this, again and again:

- forty large questions whose caller hangs up;
- 400 connections that say nothing, and 64 that send a byte a second;
- six bodies at once that unpack to a thousand times their size;
- a thousand wrongly typed operations, pushed with a good token; reads with a cursor nobody gave.

The server is killed every 40 s and started again; each browser loses its network in turn, and the
phone's browser is killed. At the end both browsers must hold every note once, and each place must
open with words. Reported beside it: the health call while the server is up, its memory, its log.
The aims are p99 200 ms, 300 MB and 1 MB. `MINUTES=1` is shorter.
"""

import asyncio
import contextlib
import gzip
import http.client
import json
import math
import multiprocessing
import os
import random
import re
import sys
import tempfile
import threading
import time
from collections import Counter
from multiprocessing.synchronize import Event
from pathlib import Path
from statistics import median

from _page import ROOT, missing

sys.path[:0] = [str(ROOT / "tests" / name) for name in ("common", "two_phones", "faults")]

import msgspec  # noqa: E402
from browser import DESK, PATIENCE_MS, PHONE  # noqa: E402
from browsers import (  # noqa: E402
    HELD,
    Window,
    assert_both_hold_the_same,
    new_service,
    to_the_notes,
    write_notes,
)
from killed_server import Phone, now_ms  # noqa: E402
from playwright.sync_api import expect, sync_playwright  # noqa: E402
from running import Server  # noqa: E402
from wrong_values import drawn_faults  # noqa: E402

from basinside.service.records.instants import instant_text  # noqa: E402
from basinside.service.store.shelf import SEED_FOLDER, read_shelf  # noqa: E402

MINUTES = float(os.environ.get("MINUTES", "5"))
FILES, SILENT, DRIPPING, ABANDONED, BOMBS, WRONG = 256, 400, 64, 40, 6, 1000
ALONE = 100
KILLED_EVERY_S, PHONE_KILLED_EVERY_S = 40, 60
# The neighbour has an address of its own: Linux gives all of 127.0.0.0/8 to the loopback.
NEIGHBOUR = ("127.0.0.2", 0)
PLACES = ("today", "clients", "formulas", "shelf", "settings", "look", "desk", "tests")
NO_WORDS = re.compile(r"\bNaN\b|\bundefined\b|Invalid Date|\[object Object\]")
GONE = (OSError, http.client.HTTPException, AssertionError)


class SmallServer(Server):
    """The server with few files to open, and its log in a file."""

    def __init__(self, folder: Path, log: Path) -> None:
        super().__init__(folder)
        self.most_mib, self._log = 0.0, log
        bounded = f'ulimit -n {FILES}; exec "$@" 2>>"{log}"'
        self._command = ["sh", "-c", bounded, "sh", *self._command]

    def look(self) -> None:
        """Keep the most memory that it ever had."""
        with contextlib.suppress(OSError, AttributeError):
            status = Path(f"/proc/{self.process.pid}/status").read_text()
            if most := re.search(r"VmHWM:\s+(\d+)", status):
                self.most_mib = max(self.most_mib, int(most[1]) / 1024)


def attack(port: int, phone: Phone, ends: Event, refused: "multiprocessing.Queue[int]") -> None:
    """Do all that a bad neighbour does until it ends; tell how many operations were refused."""
    products = msgspec.to_builtins(read_shelf(SEED_FOLDER).products)
    asked = {"hair": {"level": 8}, "wish": {"level": 9, "tone": ["pearl"]}, "products": products}
    question = json.dumps(asked).encode()
    bomb = gzip.compress(bytes(64 << 20))
    threads = [
        threading.Thread(target=hold_run, args=(port, ends)),
        *(
            threading.Thread(target=send_bombs, args=(port, phone, bomb, ends))
            for _ in range(BOMBS)
        ),
        threading.Thread(target=hang_up, args=(port, question, ends)),
    ]
    for thread in threads:
        thread.start()
    refused.put(push_wrong(port, phone, ends))
    for thread in threads:
        thread.join()


def hold_run(port: int, ends: Event) -> None:
    """Hold the connections until it ends."""
    asyncio.run(hold_connections(port, ends))


async def hold_connections(port: int, ends: Event) -> None:
    """Keep so many connections open that say nothing, or hardly anything."""

    async def hold(drips: bool) -> None:
        while not ends.is_set():
            with contextlib.suppress(OSError):
                _, writing = await asyncio.open_connection("127.0.0.1", port, local_addr=NEIGHBOUR)
                for letter in b"POST /api/mixes HTTP/1.1\r\nHost: " + b"x" * 60:
                    if drips:
                        writing.write(bytes([letter]))
                        await writing.drain()
                    await asyncio.sleep(1)
                    if ends.is_set():
                        break
                writing.close()
            await asyncio.sleep(1)

    await asyncio.gather(*(hold(n < DRIPPING) for n in range(SILENT + DRIPPING)))


def call(port: int, phone: Phone, path: str, body: bytes, **headers: str) -> int:
    """Return the status of one call with the neighbour's good token."""
    connection = http.client.HTTPConnection("127.0.0.1", port, 60, source_address=NEIGHBOUR)
    with contextlib.closing(connection):
        sent = {"authorization": f"Bearer {phone.token}", **headers}
        connection.request("POST" if body else "GET", path, body or None, sent)
        reply = connection.getresponse()
        reply.read()
        return reply.status


def send_bombs(port: int, phone: Phone, bomb: bytes, ends: Event) -> None:
    """Send a packed body that unpacks to far too much, to both calls that take one."""
    while not ends.wait(0.2):
        with contextlib.suppress(*GONE):
            as_json = {"content-type": "application/json", "content-encoding": "gzip"}
            assert call(port, phone, "/api/sync/push", bomb, **as_json) >= 400
            as_file = {"content-type": "application/gzip"}
            assert call(port, phone, "/api/sync/import", bomb, **as_file) >= 400


def hang_up(port: int, question: bytes, ends: Event) -> None:
    """Ask large questions and wait for none of the answers."""
    while not ends.wait(1):
        asking = []
        for _ in range(ABANDONED):
            with contextlib.suppress(*GONE):
                one = http.client.HTTPConnection("127.0.0.1", port, 10, source_address=NEIGHBOUR)
                asking.append(one)
                one.request("POST", "/api/formulations", question)
        ends.wait(0.5)
        for one in asking:
            one.close()


def push_wrong(port: int, phone: Phone, ends: Event) -> int:
    """Push wrongly typed operations, and read from places nobody gave; return how many."""
    done = 0
    while not ends.wait(0.5):
        with contextlib.suppress(*GONE):
            assert call(port, phone, f"/api/sync/pull?cursor=made-up-{done}", b"") == 400
            if done >= WRONG:
                continue
            if not phone.unanswered:
                phone.unanswered = [wrong_operation(phone, done + n) for n in range(50)]
            phone.connect(port)
            told = phone.push()
            assert len(told["refused"]) + len(told["duplicate"]) == len(phone.unanswered)
            assert not told["accepted"]
            done, phone.unanswered = done + len(phone.unanswered), []
    return done


class Neighbour(Phone):
    """A phone with a good token that sends what is wrong."""

    def push(self) -> dict[str, list[object]]:
        """Send what was not answered; return the answer."""
        body = {"v": 1, "device_id": self.device_id, "epoch": self.epoch, "queued": 0}
        more = {"sent_at": instant_text(now_ms()), "ops": self.unanswered}
        return self.ask("POST", "/api/sync/push", body | more)


def wrong_operation(phone: Phone, seed: int) -> dict[str, object]:
    """Return an operation with one field that is not of its type."""
    kind, field, value = drawn_faults(seed)
    return phone.note() | {"kind": f"{kind}.create", "fields": {field: value}}


def health_ms(port: int) -> float:
    """Return how long one health call took, on a connection of its own."""
    began_s = time.perf_counter()
    with contextlib.closing(http.client.HTTPConnection("127.0.0.1", port, timeout=30)) as asking:
        asking.request("GET", "/api/health")
        asking.getresponse().read()
    return (time.perf_counter() - began_s) * 1000


def probe(port: int, up: Event, ends: Event, told: "multiprocessing.Queue[list[float]]") -> None:
    """Ask for health ten times a second while the server is up; tell the times in ms."""
    taken_ms: list[float] = []
    while not ends.wait(0.1):
        if not up.is_set():
            continue
        try:
            taken_ms.append(health_ms(port))
        except GONE:
            if up.is_set():  # nothing excuses it
                taken_ms.append(math.inf)
    told.put(taken_ms)


def spread(taken_ms: list[float]) -> str:
    """Return the median and the 99th percentile in words."""
    in_order = sorted(taken_ms)
    p99_ms = in_order[int(len(in_order) * 0.99)]
    return f"median {median(in_order):.0f} ms, p99 {p99_ms:.0f} ms"


def work(server: SmallServer, windows: list[Window], up: Event) -> list[str]:
    """Write notes on both sides through all of it; return the text of each that was kept."""
    chance, written = random.Random(7), []
    ends_s = time.monotonic() + MINUTES * 60
    kill_s, phone_s = (
        time.monotonic() + each / 2 for each in (KILLED_EVERY_S, PHONE_KILLED_EVERY_S)
    )
    while time.monotonic() < ends_s:
        for number, window in enumerate(windows):
            text = f"note {len(written)} of side {number}"
            write_notes(window, [text])
            written.append(text)
        server.look()
        if chance.random() < 0.2:
            lost = chance.choice(windows)
            lost.lose_the_network()
            write_notes(lost, [f"note {len(written)} without a network"])
            written.append(f"note {len(written)} without a network")
            lost.find_the_network()
        if time.monotonic() > phone_s:
            phone_s += PHONE_KILLED_EVERY_S
            windows[0].kill()
            windows[0].open()
            to_the_notes(windows[0], CLIENTS[0])
        if time.monotonic() > kill_s:
            kill_s += KILLED_EVERY_S
            up.clear()
            server.kill()
            time.sleep(chance.uniform(0, 5))
            server.start()
            up.set()
    return written


CLIENTS = ("Wren Aldous", "Tamsin Orrery")


def main() -> None:
    """Let it all happen, then count; report."""
    if sentence := missing():
        print(sentence)
        return
    expect.set_options(timeout=PATIENCE_MS)
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as name:
        folder = Path(name)
        server = SmallServer(folder / "salon", folder / "log").start()
        try:
            report(folder, server)
        finally:
            server.kill()


def report(folder: Path, server: SmallServer) -> None:
    """Run and report, with the server up."""
    several = multiprocessing.get_context("spawn")
    up, ends, refused, health = several.Event(), several.Event(), several.Queue(), several.Queue()
    up.set()
    phone = Neighbour(1, None)
    phone.connect(server.port)
    phone.pair(server.code())
    phone.connection = None
    beside = [
        several.Process(target=attack, args=(server.port, phone, ends, refused)),
        several.Process(target=probe, args=(server.port, up, ends, health)),
    ]
    with sync_playwright() as playwright:
        windows = []
        for client, name, size in zip(CLIENTS, ("phone", "desk"), (PHONE, DESK), strict=True):
            window = Window(playwright, folder / name, server.address, size)
            window.open()
            window.pair(server.code(), name)
            window.when_kept_for_offline()
            window.when_ready_offline()
            new_service(window, client)
            to_the_notes(window, client)
            windows.append(window)
        alone_ms = [health_ms(server.port) for _ in range(ALONE)]
        for process in beside:
            process.start()
        try:
            written = work(server, windows, up)
        finally:
            ends.set()
            taken_ms, wrong = health.get(), refused.get()
            for process in beside:
                process.join()
        server.look()
        assert_both_hold_the_same(*windows)
        states = windows[0].page.evaluate(HELD)["base"]
        faulty = [place for place in PLACES if not opens(windows[1], place)]
    kept = json.dumps(states, ensure_ascii=False)
    counted = Counter(re.findall("|".join(map(re.escape, sorted(written, key=len)[::-1])), kept))
    lost = [text for text in written if counted[text] == 0]
    doubled = [text for text in written if counted[text] > 1]
    log_mib = (folder / "log").stat().st_size / 2**20
    print(
        f"{len(written)} notes written through it: {len(lost)} lost, {len(doubled)} doubled;"
        f" {len(faulty)} of {len(PLACES)} places blank or without words {faulty or ''}"
    )
    print(f"wrongly typed operations refused with their place: {wrong} of {WRONG}")
    print(
        f"health before: {spread(alone_ms)}; while up under all of it: {spread(taken_ms)} (aim:"
        f" p99 200); memory {server.most_mib:.0f} MiB (aim: 300), log {log_mib:.2f} MiB (aim: 1)"
    )


def opens(window: Window, place: str) -> bool:
    """Return whether a place opens, and says nothing that is no word."""
    window.go(place)
    shown = window.page.locator("main")
    expect(shown.get_by_role("heading", level=2).first).to_be_visible()
    return not NO_WORDS.search(window.page.locator("body").inner_text())


if __name__ == "__main__":
    main()
