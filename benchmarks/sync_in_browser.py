"""Ten thousand notes queued in a browser until a second one has them: ours, and PouchDB.

Both in one headless Chromium with a context for each device, over HTTP on the loopback address, in
one run, turn by turn, the median of `RUNS` (3). Ours is the page itself: the notes come in from a
file of records, then the phone is paired; the clock runs from its first push until they lie in the
store of the other. PouchDB replicates the same operations from its first context to its server
(LevelDB, made to force its writes) while the second follows live, with the better of its two
adapters and the best of its batch sizes. Ours asks the browser for strict durability at every
write, PouchDB takes the browser's default. The engine is left out of the page: it is not what is
measured. `NOTES=1000` sends fewer.
"""

import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from _page import CHROMIUM, COUNTRY_SAID, FLAGS, PHONE, missing, served
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.pairing import new_code
from screens import Filled, bring_in
from sync import pouch_server

HERE = Path(__file__).resolve().parent
NOTES = int(os.environ.get("NOTES", "10000"))
RUNS = int(os.environ.get("RUNS", "3"))
AIM = 3
PATIENCE_MS = 300_000
WAYS = [(adapter, size) for adapter in ("idb", "indexeddb") for size in (500, 2000)]

# Answers with the clock's time once so many notes lie in the page's own store.
ARE_THERE = """count => new Promise((told, fail) => {
  const opening = indexedDB.open("basinside");
  opening.onerror = fail;
  opening.onsuccess = () => {
    const look = () => {
      const base = opening.result.transaction("base").objectStore("base");
      base.count().onsuccess = ({ target }) =>
        target.result >= count ? told(Date.now()) : setTimeout(look, 50);
    };
    look();
  };
})"""

WRITE = """async ([documents, adapter]) => {
  window.mine = new PouchDB("mine", { adapter });
  await mine.bulkDocs(documents);
}"""
FOLLOW = """([remote, adapter, batch_size]) => {
  window.mine = new PouchDB("mine", { adapter });
  mine.replicate.from(remote, { live: true, batch_size, batches_limit: 10 });
}"""
SEND = """async ([remote, batch_size]) => {
  const begun = Date.now();
  await mine.replicate.to(remote, { batch_size, batches_limit: 10 });
  return begun;
}"""
ARRIVED = """count => new Promise((told) => {
  const look = async () => ((await mine.info()).doc_count >= count
    ? told(Date.now()) : setTimeout(look, 50));
  look();
})"""


def filled() -> Filled:
    """Return a phone with nothing on it but notes of nine words."""
    phone = Filled()
    syllables = ("ba", "ko", "li", "mer", "no", "sa", "ti", "vel", "ur", "wen")
    for _ in range(NOTES):
        words = ("".join(phone.rng.choices(syllables, k=3)) for _ in range(9))
        phone.add("note", text=" ".join(words))
    return phone


def opened(browser: Browser) -> BrowserContext:
    """Return a device of its own, whose page has no engine."""
    context = browser.new_context(viewport=PHONE)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE_MS)
    context.add_init_script(COUNTRY_SAID)
    context.route("**/engine.json", lambda route: route.fulfill(status=404))
    return context


def pair(page: Page, address: str, code: str, name: str) -> None:
    """Pair a page, as a person does."""
    page.goto(f"{address}/#/pair/{code}")
    page.get_by_label("Name of this phone").fill(name)
    page.get_by_role("button", name="Pair this phone").click()
    page.get_by_role("heading", name="This phone is paired").wait_for()


def ours(browser: Browser) -> float:
    """Return the ms of one run of ours."""
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        served(folder) as address,
    ):
        salon = Salon(Path(folder) / DATABASE_FILE)
        codes = [new_code(salon, time.time_ns() // 1_000_000) for _ in range(2)]
        salon.close()
        first, second = opened(browser), opened(browser)
        sender, other = first.new_page(), second.new_page()
        pair(other, address, codes[0], "the other")
        bring_in(sender, address, filled().as_file(Path(folder)))
        begun: list[float] = []
        sender.on(
            "request",
            lambda asked: begun.append(time.time() * 1000) if "sync/push" in asked.url else None,
        )
        pair(sender, address, codes[1], "the sender")
        arrived_ms = other.evaluate(ARE_THERE, NOTES)
        for context in (first, second):
            context.close()
    return arrived_ms - begun[0]


def pouch(browser: Browser, adapter: str, batch_size: int) -> float:
    """Return the ms of one run of PouchDB."""
    with (
        tempfile.TemporaryDirectory(prefix="basinside-bench-") as folder,
        pouch_server(Path(folder)) as address,
    ):
        first, second = browser.new_context(), browser.new_context()
        sender, other = first.new_page(), second.new_page()
        for page in (sender, other):
            page.set_default_timeout(PATIENCE_MS)
            page.goto(address)
            for script in ("pouchdb.min.js", "pouchdb.indexeddb.min.js"):
                page.add_script_tag(path=HERE / "node_modules" / "pouchdb" / "dist" / script)
        documents = [op | {"_id": op["entity_id"]} for op in filled().operations]
        sender.evaluate(WRITE, [documents, adapter])
        remote = f"{address}/salon"
        other.evaluate(FOLLOW, [remote, adapter, batch_size])
        begun_ms = sender.evaluate(SEND, [remote, batch_size])
        arrived_ms = other.evaluate(ARRIVED, NOTES)
        for context in (first, second):
            context.close()
    return arrived_ms - begun_ms


def in_a_new_browser(work: Callable[..., float], *inputs: object) -> float:
    """Return what some work takes in a Chromium that has done nothing yet."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        took_ms = work(browser, *inputs)
        browser.close()
    return took_ms


def main() -> None:
    """Find PouchDB's best way, run both in turn, and report."""
    if sentence := missing():
        print(sentence)
        return
    if not (HERE / "node_modules" / "pouchdb").exists():
        print("PouchDB is not here: run `npm --prefix benchmarks ci` once, then this again.")
        return
    tried = {way: in_a_new_browser(pouch, *way) for way in WAYS}
    best = min(tried, key=tried.__getitem__)
    ways = ", ".join(f"{adapter} {size}: {ms:.0f} ms" for (adapter, size), ms in tried.items())
    print(f"{NOTES:,} notes; PouchDB by adapter and batch size: {ways}")
    turns = [(in_a_new_browser(ours), in_a_new_browser(pouch, *best)) for _ in range(RUNS)]
    mine, theirs = (median(side) for side in zip(*turns, strict=True))
    each = sorted(other / own for own, other in turns)
    print(
        f"ours {mine:.0f} ms, PouchDB {theirs:.0f} ms: {theirs / mine:.1f} times as long"
        f" ({each[0]:.1f} to {each[-1]:.1f} in one turn); the aim is {AIM}"
    )


if __name__ == "__main__":
    main()
