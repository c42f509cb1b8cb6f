"""The browser is killed while it writes, fifty times: each write is there whole or not at all.

And what was said to be kept is there: the page says so to this test, which kills it at once.
"""

import contextlib
import json
import os
import queue
import random
import signal
import subprocess
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from browser import CHROMIUM, FLAGS, UNSHIFTED
from drawing import LONG, seed_of_the_day, tenth

ROOT = Path(__file__).resolve().parents[2]
# What the driver of the other tests says to its browsers by itself.
ALONE = ("--disable-dev-shm-usage", "--disable-extensions", "--disable-default-apps")
KILLS = tenth(50)
PATIENCE_S = 300  # for a busy machine; nothing here depends on how long anything takes

# Each act writes a service with two zones, in one; the page says when it begins one and when it
# was told that one is kept.
PAGE = b"""<!doctype html><title>records</title><script type="module">
import { all, open_records, operations_put_back } from "/read.js";
import { kept_state, together } from "/write.js";
const say = (what) => fetch("/said", { method: "POST", body: JSON.stringify(what) });
await open_records();
const opened = await new Promise((resolve, reject) => {
  const asked = indexedDB.open("basinside");
  asked.onsuccess = () => resolve(asked.result);
  asked.onerror = () => reject(asked.error);
});
const read = (store, key) => new Promise((resolve, reject) => {
  const objects = opened.transaction(store).objectStore(store);
  const asked = key ? objects.get(key) : objects.getAll();
  asked.onsuccess = () => resolve(asked.result);
  asked.onerror = () => reject(asked.error);
});
const outbox = await read("outbox");
const device = await read("meta", "device");
opened.close();
await say({
  found: all("service").value.map(({ id }) => id),
  zones: all("zone").value.map(({ service, name }) => [service, name]),
  put_back: operations_put_back.value,
  numbers: outbox.map(({ device_seq }) => device_seq),
  whole: outbox.every(({ op_id, hlc, fields }) => op_id && hlc && fields),
  last_number: device?.device_seq ?? 0,
});
for (;;) {
  const id = crypto.randomUUID();
  const zone = (name) => ({ do: "create", kind: "zone", id: crypto.randomUUID(),
    fields: { service: id, name } });
  await say({ begun: id });
  await together([
    { do: "create", kind: "service", id, fields: { wish: { tone: ["x".repeat(2000)] } } },
    zone("roots"),
    zone("ends"),
  ]);
  if (kept_state.value !== "kept") throw new Error("told before it was kept");
  say({ kept: id });
}
</script>"""


class Listener(ThreadingHTTPServer):
    """Serves the page and its records, and queues what the page says."""

    daemon_threads = True

    def __init__(self, records):
        super().__init__(("127.0.0.1", 0), Handler)
        self.records = records
        self.said = queue.SimpleQueue()


class Handler(BaseHTTPRequestHandler):
    def do_GET(self):
        script = self.server.records.get(self.path.removeprefix("/"))
        body, kind = (PAGE, "text/html") if self.path == "/" else (script or b"", "text/javascript")
        self.send_response(200 if body else 404)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def do_POST(self):
        self.server.said.put(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
        self.send_response(204)
        self.end_headers()

    def log_message(self, *_):
        pass


@pytest.fixture(scope="module")
def listener(tmp_path_factory):
    folder = tmp_path_factory.mktemp("records")
    subprocess.run(["node", "scripts/records_bundle.mjs", folder], cwd=ROOT / "web", check=True)
    records = {path.name: path.read_bytes() for path in folder.glob("*.js")}
    with Listener(records) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()


class Browser:
    """A browser on one profile with the page open, killed with all its processes at the end."""

    def __init__(self, listener, profile):
        self._listener = listener
        self._command = [
            *(CHROMIUM, *FLAGS, *ALONE, f"--user-data-dir={profile}"),
            f"http://127.0.0.1:{listener.server_port}/",
        ]

    def __enter__(self):
        self._process = subprocess.Popen(
            self._command,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            env=UNSHIFTED,
        )
        return self

    def __exit__(self, *_):
        os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        # Its other processes hold the database a moment longer than the first.
        with contextlib.suppress(ProcessLookupError):
            while True:
                os.killpg(self._process.pid, 0)
                time.sleep(0.01)

    def found(self):
        """What the page found when it opened."""
        while True:
            said = self._listener.said.get(timeout=PATIENCE_S)
            if "found" in said:
                return said

    def until(self, wanted, begun, kept):
        """Waits until the page has said that a write is `begun`, or `kept`."""
        said = {}
        while wanted not in said:
            said = self._listener.said.get(timeout=PATIENCE_S)
            note(said, begun, kept)


def test_kills_leave_every_write_whole_or_absent_and_all_that_was_said_kept(listener, tmp_path):
    rng = random.Random(seed_of_the_day())
    begun, kept = set(), set()
    for _ in range(KILLS):
        with Browser(listener, tmp_path) as browser:
            found = browser.found()
            check(found, begun, kept)
            # One in two is killed the moment it says kept, the others while an act is under way.
            stop_at = rng.choice(("kept", "begun"))
            for _ in range(rng.randint(1, 6)):
                browser.until(stop_at, begun, kept)
            if stop_at == "begun":
                time.sleep(rng.uniform(0, 0.02))  # somewhere inside the write, if it is quick
        drain(listener, begun, kept)
    with Browser(listener, tmp_path) as browser:
        found = browser.found()
        check(found, begun, kept)
    assert len(kept) >= KILLS
    if LONG:
        assert len(begun) > len(found["found"]), "no kill ever hit a write under way"


@pytest.mark.parametrize("cut_bytes", [3, 500, 9000])
def test_a_write_cut_off_by_the_kill_costs_nothing_that_was_kept(listener, tmp_path, cut_bytes):
    """Chromium goes on writing behind the half of a write, and empties the database after that.

    So it takes two starts to see: without the second copy the last one finds nothing at all.
    """
    begun, kept = set(), set()
    with Browser(listener, tmp_path) as browser:
        check(browser.found(), begun, kept)
        for _ in range(5):
            browser.until("kept", begun, kept)
    drain(listener, begun, kept)
    (log,) = tmp_path.glob("Default/IndexedDB/*/*.log")
    os.truncate(log, log.stat().st_size - cut_bytes)
    for _ in range(2):
        with Browser(listener, tmp_path) as browser:
            check(browser.found(), begun, kept)
            browser.until("kept", begun, kept)
        drain(listener, begun, kept)
    with Browser(listener, tmp_path) as browser:
        check(browser.found(), begun, kept)
    assert len(kept) >= 7


def check(found, begun, kept):
    services = set(found["found"])
    assert kept <= services, "something was said to be kept and is gone"
    assert services <= begun
    assert sorted(map(tuple, found["zones"])) == sorted(
        (service, name) for service in services for name in ("ends", "roots")
    )
    assert found["whole"]
    assert found["numbers"] == list(range(1, 3 * len(services) + 1))
    assert found["last_number"] == len(found["numbers"])


def note(said, begun, kept):
    begun |= {said["begun"]} if "begun" in said else set()
    kept |= {said["kept"]} if "kept" in said else set()


def drain(listener, begun, kept):
    while not listener.said.empty():
        note(listener.said.get(), begun, kept)
