"""The engine on the phone: how it starts warm, how fast it is, and what it costs the page.

Ratios within one run, in one Chromium; the absolute times are this machine's, now.

- Warm start: from making the worker until it says "ready" (pack in the phone's store, self-test's
  first question answered), against a worker that only calls `loadPyodide` of the same release as
  it is published, from a warm HTTP cache. The aim is at most 1.3.
- A formula for 300 products in that worker against the same door in CPython. At most 3.
- Tasks of the page's own thread over 50 ms while the engine starts and works a formula out: none.
- What the page's process holds before and with the engine, in MB.
"""

import functools
import json
import random
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median

import msgspec
from _page import CHROMIUM, COUNTRY_SAID, FLAGS, PHONE, ROOT, missing, served
from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(ROOT / "tests" / "engine"))

from shelves import shelf

from basinside.contract.formulations import FormulationRequest, Limits
from basinside.contract.hair import Hair
from basinside.contract.wishes import Wish
from basinside.engine import door

STARTS = 9
FORMULAS = 5
PRODUCTS = 300
PUBLISHED = ROOT / "web" / "node_modules" / "pyodide"

BARE_PAGE = b"<!doctype html><title>bare</title>"
BARE_WORKER = b"""
import { loadPyodide } from "/pyodide.mjs";
await loadPyodide({ indexURL: "/" });
postMessage({ state: "ready" });
"""

# Returns the ms from making a worker until it is ready; the worker is left in `window.kept`.
START = """([script, keep]) => new Promise(async (told, refused) => {
  const pack = script.startsWith("/assets/") && await (await fetch("/engine.json")).json();
  const began = performance.now();
  const worker = new Worker(script, { type: "module" });
  worker.onerror = () => refused(new Error("the worker broke"));
  worker.onmessage = ({ data }) => {
    if (data.state === "failed") refused(new Error(data.why));
    if (data.state !== "ready") return;
    told(performance.now() - began);
    if (keep) window.kept = worker; else worker.terminate();
  };
  if (pack) worker.postMessage({ pack });
})"""
ASK = """(body) => new Promise((told) => {
  const began = performance.now();
  window.kept.onmessage = ({ data }) => told([performance.now() - began, data.status]);
  window.kept.postMessage({ id: 1, question: "formulations", body });
})"""
LONG_TASKS = """() => {
  window.long_tasks = [];
  new PerformanceObserver((seen) => {
    for (const { startTime, duration } of seen.getEntries()) {
      window.long_tasks.push([Math.round(startTime), Math.round(duration)]);
    }
  }).observe({ type: "longtask", buffered: true });
}"""


class Published(SimpleHTTPRequestHandler):
    """The runtime as it is published, kept by the browser for ever; and a worker that loads it."""

    protocol_version = "HTTP/1.1"
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".wasm": "application/wasm",
        ".mjs": "text/javascript",
    }

    def do_GET(self) -> None:
        """Answer with a file, or with one of the two that are only here."""
        made = {"/": (BARE_PAGE, "text/html"), "/bare.mjs": (BARE_WORKER, "text/javascript")}
        if self.path not in made:
            super().do_GET()
            return
        body, kind = made[self.path]
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self) -> None:
        """Let the browser keep what it was given."""
        self.send_header("Cache-Control", "public, max-age=31536000, immutable")
        super().end_headers()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def published() -> Iterator[str]:
    """Serve the published runtime; give its address."""
    handler = functools.partial(Published, directory=PUBLISHED)
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


def question() -> str:
    """Return the request for a formula from 300 products, as JSON."""
    request = FormulationRequest(
        Hair(level=9.6, porosity=0.6),
        Wish(level=9.5, tone=["beige"]),
        shelf(random.Random(3), PRODUCTS),
        Limits(),
    )
    return msgspec.json.encode(request).decode()


def print_starts(ours: Page, bare: Page, script: str) -> None:
    """Start both by turns, warm, and print the ratio."""
    for _ in range(2):  # the first fills the stores, the second the browser's compiled code
        ours.evaluate(START, [script, False])
        bare.evaluate(START, ["/bare.mjs", False])
    times: dict[str, list[float]] = {"ours": [], "bare": []}
    for _ in range(STARTS):
        times["bare"].append(bare.evaluate(START, ["/bare.mjs", False]))
        times["ours"].append(ours.evaluate(START, [script, False]))
    with_engine, without = median(times["ours"]), median(times["bare"])
    ratio = median(a / b for a, b in zip(times["ours"], times["bare"], strict=True))
    print(
        f"warm start {with_engine:.0f} ms, bare loadPyodide {without:.0f} ms:"
        f" {with_engine / without:.2f} times (pair by pair {ratio:.2f}; aim 1.3)"
    )


def print_formulas(ours: Page, script: str) -> None:
    """Ask the worker and this Python the same, by turns, and print the ratio."""
    ours.evaluate(START, [script, True])
    body = question()
    times: dict[str, list[float]] = {"worker": [], "CPython": []}
    for _ in range(FORMULAS + 1):
        taken, status = ours.evaluate(ASK, body)
        if status != 200:
            sys.exit(f"The worker refused the question with {status}.")
        times["worker"].append(taken)
        began = time.perf_counter()
        door.answer("formulations", body.encode())
        times["CPython"].append(1e3 * (time.perf_counter() - began))
    first = {name: taken.pop(0) for name, taken in times.items()}
    worker, cpython = median(times["worker"]), median(times["CPython"])
    print(
        f"formula for {PRODUCTS} products: worker {worker:.0f} ms, CPython {cpython:.0f} ms:"
        f" {worker / cpython:.2f} times (aim 3); each one's first time"
        f" {first['worker']:.0f} and {first['CPython']:.0f} ms:"
        f" {first['worker'] / first['CPython']:.2f} times"
    )


def resident_mb(page: Page) -> float:
    """Return what the page's process holds in memory, its workers included."""
    session = page.context.browser.new_browser_cdp_session()
    held = []
    for process in session.send("SystemInfo.getProcessInfo")["processInfo"]:
        if process["type"] == "renderer":
            status = Path(f"/proc/{process['id']}/status").read_text()
            held += [int(line.split()[1]) / 1024 for line in status.splitlines() if "VmRSS" in line]
    session.detach()
    return max(held)


def print_page(browser: Browser, address: str) -> None:
    """Open the whole page, let its engine start and work out a formula; print what that cost."""
    page = browser.new_page(viewport=PHONE, has_touch=True)
    page.add_init_script(COUNTRY_SAID)
    page.add_init_script(f"({LONG_TASKS})()")
    page.goto(f"{address}/#/settings")
    before = resident_mb(page)
    ready = page.locator("#engine").get_by_role("status").filter(has_text="Ready on this device")
    ready.wait_for(timeout=120_000)
    starting = page.evaluate("long_tasks.splice(0)")
    page.goto(f"{address}/#/try")
    page.get_by_role("button", name="Next: the wish").click()
    page.get_by_role("radio", name="pearl", exact=True).click()
    page.get_by_role("button", name="What to mix").click()
    page.get_by_role("button", name="Mix this").wait_for()
    working = page.evaluate("long_tasks.splice(0)")
    print(
        "tasks of the page over 50 ms (begin, length):"
        f" {json.dumps(starting)} while the engine starts, {json.dumps(working)} while it works"
    )
    print(f"the page's process: {before:.0f} MB before, {resident_mb(page):.0f} MB with the engine")
    page.close()


def main() -> None:
    """Measure and print."""
    sentence = missing()
    if not PUBLISHED.exists():
        sentence = "The web packages are not here: run `make` once, it installs them."
    if sentence:
        print(sentence)
        return
    script = f"/assets/{next((ROOT / 'web' / 'dist' / 'assets').glob('worker-*.js')).name}"
    with served() as address, published() as bare_address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        context = browser.new_context()
        ours, bare = context.new_page(), context.new_page()
        ours.goto(f"{address}/manifest.webmanifest")
        bare.goto(bare_address)
        print_starts(ours, bare, script)
        print_formulas(ours, script)
        context.close()
        print_page(browser, address)
        browser.close()


if __name__ == "__main__":
    main()
