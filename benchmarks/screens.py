"""How soon each screen of a full phone says something, and how long a search takes on it.

2,000 notes, 500 clients, 300 shades, 1,000 formulas and 500 services are put on the phone as a
file of records, through the page. Then, at 390 x 844 with the processor slowed 4 times: the time
from opening an address anew to the first frame that holds a row of the screen's own (the page's
JavaScript from its server on this machine, warm), the same for going there within the open page,
and the time from a letter typed into a search to the frame with what it found; this also at full
speed, where the aim is under 100 ms. Reported, never failed.
"""

import gzip
import hashlib
import json
import random
import tempfile
import time
from pathlib import Path
from statistics import median

from _page import CHROMIUM, COUNTRY_SAID, FLAGS, PHONE, missing, served
from playwright.sync_api import Page, sync_playwright

SLOWED = 4
RUNS = 5
AIM_MS = 100
CLIENTS, NOTES, FORMULAS, SHADES, SERVICES = 500, 2000, 1000, 300, 500
# What stands on a screen once it shows what it is for.
ROWS = {
    "today": ".day-row",
    "clients": "a[href^='#/client/']",
    "formulas": "a[href^='#/formula/']",
    "shelf": "a[href^='#/line/']",
    "client": "a[href^='#/service/']",
    "formula": "h2",
    "line": ".shade",
    "service": ".fold",
}
FIRST = ("Ana", "Bruno", "Cleo", "Dora", "Emil", "Fina", "Goran", "Hedda", "Ivo", "Jana")
LAST = ("Alder", "Birch", "Cedar", "Dogwood", "Elm", "Fir", "Gorse", "Hazel", "Iris", "Juniper")
TONES = ("ash", "violet", "pearl", "gold", "beige", "copper", "natural", "blue")
"""Invented, and seen to be."""


class Filled:
    """The operations of a phone in use, as the phone itself would have written them."""

    def __init__(self) -> None:
        self.rng = random.Random(6)
        self.device = self.new_id()
        self.operations: list[dict[str, object]] = []
        self.ids: dict[str, list[str]] = {}
        self.at_ms = int(time.time() * 1000) - 3_600_000

    def new_id(self) -> str:
        """Return a UUIDv7-shaped id (RFC 9562) of random bits."""
        bits = f"{self.rng.getrandbits(128):032x}"
        return f"{bits[:8]}-{bits[8:12]}-7{bits[13:16]}-8{bits[17:20]}-{bits[20:]}"

    def add(self, kind: str, **fields: object) -> str:
        """Write down that a record was made; return its id."""
        self.at_ms += 1
        stamp = time.strftime("%Y-%m-%dT%H:%M:%S", time.gmtime(self.at_ms / 1000))
        entity_id = self.new_id()
        self.operations.append(
            {
                "op_id": self.new_id(),
                "device_seq": len(self.operations) + 1,
                "hlc": f"{stamp}.{self.at_ms % 1000:03d}Z-0000-{self.device}",
                "schema": 2,
                "kind": f"{kind}.create",
                "entity_id": entity_id,
                "by": self.device,
                "fields": fields,
            }
        )
        self.ids.setdefault(kind, []).append(entity_id)
        return entity_id

    def pick(self, kind: str) -> str:
        """Return the id of some record of a kind."""
        return self.rng.choice(self.ids[kind])

    def fill(self) -> None:
        """Make the records of a salon's year."""
        rng = self.rng
        window = {"earliest": 7, "best": 10, "latest": 12}
        line_fields = {
            "name": "Demo Quill",
            "class": "neutral_demi",
            "mix_ratio": 1,
            "developer_percent": [1.9],
            "window": {"min": 5, "max": 20},
        }
        line = self.add("line", **line_fields)
        for at in range(SHADES):
            tone = [TONES[at % len(TONES)]]
            self.add("product", line=line, code=f"{1 + at % 10}/{at}", level=1 + at % 10, tone=tone)
        for at in range(CLIENTS):
            self.add("client", name=f"{FIRST[at % 10]} {LAST[at // 10 % 10]} {at}")
        for at in range(FORMULAS):
            mix = {
                "parts": [{"product": self.pick("product"), "grams": 60}],
                "developer": {"percent": 1.9, "grams": 60},
                "minutes": 10,
            }
            lab = [rng.uniform(20, 90), rng.uniform(-5, 15), rng.uniform(0, 30)]
            predicted = {"lab": lab, "hex": "#b0a080", "words": "level 9, beige", "range": None}
            name = f"{rng.choice(TONES)} {rng.choice(TONES)} {at}"
            self.add(
                "formula",
                name=name,
                client=self.pick("client"),
                mix=mix,
                window=window,
                predicted=predicted,
                chance=0.6,
            )
        for at in range(SERVICES):
            today = at < 12
            day = time.time() - (0 if today else rng.uniform(1, 300) * 86_400)
            service = self.add(
                "service",
                client=self.pick("client"),
                purpose="client",
                state="planned" if today else "ended",
                planned_at=time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(day)),
            )
            self.add("zone", service=service, name="all over", order=0, work="toner")
        for at in range(NOTES):
            self.add("note", service=self.pick("service"), text=f"Took as expected, number {at}.")

    def as_file(self, folder: Path) -> Path:
        """Write it all as one file of records; return where."""
        operations = len(self.operations)
        counts = {"base": 0, "operations": operations, "tray": 0, "photos": 0}
        written_at = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime())
        header = {"format": "basinside records", "version": 1, "device_id": self.device}
        lines = [header | {"written_at": written_at, "counts": counts}]
        lines += [{"op": op} for op in self.operations]
        body = "".join(json.dumps(line) + "\n" for line in lines).encode()
        trailer = {"sha256": hashlib.sha256(body).hexdigest(), "lines": len(lines)}
        path = folder / "year.records"
        path.write_bytes(gzip.compress(body + json.dumps(trailer).encode() + b"\n"))
        return path


def bring_in(page: Page, address: str, file: Path) -> None:
    """Put a file of records on the phone, as a person does."""
    page.goto(f"{address}/#/settings")
    with page.expect_file_chooser() as chosen:
        page.locator("#files label.button").click()
    chosen.value.set_files(file)
    page.get_by_text("imported").wait_for(timeout=300_000)


# The first frame after a row stands on the screen, counted from the document's own beginning, or
# from when the address was changed.
SHOWN = """([selector, from_here]) => new Promise((told) => {
  const begun = from_here ? performance.now() : 0;
  const look = (at) => {
    if (document.querySelector(`main ${selector}`)) requestAnimationFrame(() => told(
      performance.now() - begun));
    else requestAnimationFrame(look);
  };
  if (from_here) location.hash = from_here;
  requestAnimationFrame(look);
})"""

# From the letter's own event to the end of the frame that shows what it found.
FOUND = """([label, text]) => new Promise((told) => {
  const fields = [...document.querySelectorAll('label')];
  const field = fields.find((each) => each.innerText.includes(label)).querySelector('input');
  const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
  set.call(field, text);
  const begun = performance.now();
  field.dispatchEvent(new InputEvent('input', { bubbles: true }));
  requestAnimationFrame(() => requestAnimationFrame(() => told(performance.now() - begun)));
})"""

SEARCHES = {
    "clients": ("Find a name or a number", ("h", "hedda", "hedda el", "")),
    "formulas": ("Find a name, tone, client or product", ("v", "violet", "violet gold", "")),
}


def where(filled: Filled) -> dict[str, str]:
    """Return the address of each screen, a record's where it shows one."""
    own = {"client": "client", "formula": "formula", "line": "line", "service": "service"}
    return {name: f"#/{name}" + (f"/{filled.ids[own[name]][0]}" if name in own else "")
            for name in ROWS}  # fmt: skip


def cold_and_warm_ms(page: Page, address: str, hash_: str, row: str) -> tuple[float, float]:
    """Return how long a screen takes opened anew, and gone to from the settings, in ms."""
    cold, warm = [], []
    for _ in range(RUNS):
        page.goto("about:blank")
        page.goto(f"{address}/{hash_}", wait_until="commit")
        cold.append(page.evaluate(SHOWN, [row, None]))
        page.goto(f"{address}/#/settings")
        page.locator("#files").wait_for()
        warm.append(page.evaluate(SHOWN, [row, hash_]))
    return median(cold), median(warm)


def search_ms(page: Page, address: str, name: str) -> float:
    """Return the longest that a letter typed into a search takes to be answered, in ms."""
    label, texts = SEARCHES[name]
    page.goto(f"{address}/#/{name}")
    page.get_by_label(label).wait_for()
    return max(median(page.evaluate(FOUND, [label, text]) for _ in range(RUNS)) for text in texts)


def measure(address: str, folder: Path) -> None:
    """Fill a phone and print what each screen takes on it."""
    filled = Filled()
    filled.fill()
    file = filled.as_file(folder)
    print(f"{len(filled.operations)} operations, {file.stat().st_size // 1024} KB as a file")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport=PHONE, has_touch=True)
        page.add_init_script(COUNTRY_SAID)
        begun = time.perf_counter()
        bring_in(page, address, file)
        print(f"brought in within {time.perf_counter() - begun:.1f} s, at full speed")
        fast = {name: search_ms(page, address, name) for name in SEARCHES}
        slowly = page.context.new_cdp_session(page)
        slowly.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        print(f"ms, median of {RUNS}, {SLOWED} times slowed: opened anew / gone to")
        for name, hash_ in where(filled).items():
            cold, warm = cold_and_warm_ms(page, address, hash_, ROWS[name])
            print(f"  {name:10} {cold:6.0f} / {warm:5.0f}")
        for name, fast_ms in fast.items():
            slow = search_ms(page, address, name)
            print(
                f"  search in {name}: {fast_ms:.0f} ms at full speed (aim {AIM_MS}),"
                f" {slow:.0f} slowed"
            )
        browser.close()


def main() -> None:
    """Serve the page and measure its screens."""
    if sentence := missing():
        print(sentence)
        return
    with served() as address, tempfile.TemporaryDirectory() as folder:
        measure(address, Path(folder))


if __name__ == "__main__":
    main()
