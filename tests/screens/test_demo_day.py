"""The demo day comes and goes, and a phone's own records stay as they were, byte for byte."""

import json
import re
from urllib.parse import urlsplit

from browser import PATIENCE_MS, ROOT
from playwright.sync_api import expect
from test_service import Service
from waiting import once

LINE = "Demo day: invented people"
NAMES = {
    record["fields"]["name"]
    for act in json.loads((ROOT / "seed_demo" / "day.json").read_text())["acts"]
    for record in act["records"]
    if record["kind"] in ("client", "person")
}
# What a calculation may ask the server for, and the demo shelf, which anyone may read.
CALCULATIONS = re.compile(
    r"/api/(products|formulations|predictions|reaches|judgements|mixes|schedules|mends|lightenings"
    r"|labels|safety/(services|rules))"
)
# Everything of the salon's own that a browser keeps here, in an order of its own.
KEPT = """async () => {
    const text = (value) => JSON.stringify(value, (_, v) =>
        v instanceof ArrayBuffer ? [...new Uint8Array(v)] : v);
    const kept = {};
    for (const { name } of await indexedDB.databases()) {
        kept[name] = await new Promise((resolve, reject) => {
            const opening = indexedDB.open(name);
            opening.onerror = () => reject(opening.error);
            opening.onsuccess = () => {
                const [opened, stores] = [opening.result, {}];
                const reading = opened.transaction([...opened.objectStoreNames]);
                for (const store of opened.objectStoreNames) {
                    const rows = reading.objectStore(store);
                    rows.getAllKeys().onsuccess = ({ target }) => {
                        stores[store] = { keys: target.result };
                    };
                    rows.getAll().onsuccess = ({ target }) => {
                        stores[store].rows = target.result;
                    };
                }
                reading.oncomplete = () => { opened.close(); resolve(stores); };
            };
        });
    }
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        kept[`cache ${name}`] = await Promise.all((await cache.keys()).map(async (request) =>
            [request.url, await (await cache.match(request)).text()]));
    }
    kept.localStorage = Object.entries(localStorage).sort();
    return text(kept);
}"""

# Whether all of the demo is gone, at once or in a while.
NOTHING_LEFT = """async (patience_ms) => {
    const until_ms = Date.now() + patience_ms;
    const left = async () => [
        ...(await indexedDB.databases()).map(({ name }) => name),
        ...(await caches.keys()),
        ...Object.keys(localStorage),
        ...Object.keys(sessionStorage),
    ].filter((name) => /\\bdemo\\b/.test(name));
    while ((await left()).length > 0) {
        if (Date.now() > until_ms) return false;
        await new Promise((soon) => setTimeout(soon, 20));
    }
    return true;
}"""


def open_demo(service):
    service.open("settings").button("Open the demo day")
    expect(service.page.get_by_text(LINE)).to_be_visible()
    expect(service.page.locator(".day-row").first).to_be_visible()


def test_in_and_out_leaves_the_records_byte_for_byte_and_sends_no_name(visit):
    service = Service(visit()).open().of_a_new_client("Ida Quell")
    page = service.page
    expect(page.locator("html[data-open]")).to_be_attached()
    page.wait_for_load_state("networkidle")
    service.open("settings")
    page.wait_for_load_state("networkidle")
    before = json.loads(page.evaluate(KEPT))
    assert "Ida Quell" in json.dumps(before["basinside"])

    asked = []
    page.on("request", lambda request: asked.append((request.url, request.post_data or "")))
    open_demo(service)
    for place in ("clients", "formulas", "shelf", "tests", "try", "settings", "pair/1234"):
        service.open(place)
        expect(page.get_by_text(LINE)).to_be_visible()
    service.button("Help")
    expect(page.get_by_role("dialog").get_by_text("Demo day.")).to_be_visible()
    service.button("Close")
    # A calculation for nobody, and one for a planned visit with its safety rules.
    service.open("try").button("Next: the wish").radio("pearl").button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.open("clients").tap(page.get_by_role("link", name="Iva Senn"))
    expect(page.get_by_text("Ida Quell")).to_have_count(0)
    service.tap(page.locator(".visit").first)
    service.tap(page.get_by_role("link", name="Go to the visit"))
    expect(page.get_by_role("heading", name="Safety")).to_be_visible()
    expect(page.get_by_text(LINE)).to_be_visible()
    service.open("today").of_a_new_client("Nobody At All")
    page.wait_for_load_state("networkidle")

    service.open("today")
    in_demo = list(asked)
    service.button("Remove the demo day")
    expect(page.get_by_text(LINE)).to_have_count(0)
    expect(page.locator(".day-name")).to_have_text(["Ida Quell"])
    assert page.evaluate(NOTHING_LEFT, PATIENCE_MS)
    service.open("settings")
    page.wait_for_load_state("networkidle")
    once(lambda: json.loads(page.evaluate(KEPT)), lambda kept: kept == before)

    calls = [urlsplit(url).path for url, _ in in_demo]
    calls = [path for path in calls if path.startswith("/api/")]
    assert {"/api/formulations", "/api/safety/services"} <= set(calls)
    assert [path for path in calls if not CALCULATIONS.fullmatch(path)] == []
    told = " ".join(f"{url} {body}" for url, body in in_demo)
    assert [name for name in NAMES | {"Nobody At All"} if name in told] == []


def test_it_does_not_open_while_a_clock_runs_and_is_never_paired(begun, visit):
    service = begun()
    service.open("settings").button("Open the demo day")
    expect(service.page.get_by_role("alert")).to_contain_text("A clock is running.")
    expect(service.page.get_by_text(LINE)).to_have_count(0)

    other = Service(visit())
    open_demo(other)
    other.open("pair/12345678")
    other.page.get_by_label("Name of this phone").fill("Mo’s phone")
    other.button("Pair this phone")
    expect(other.page.get_by_text("Invented people never go to a desk.")).to_be_visible()
    # It is of its window alone, and a new window has none of it.
    beside = other.page.context.new_page()
    beside.goto(f"{other.visit.address}/#/today")
    expect(beside.get_by_text("No visits yet.")).to_be_visible()
    expect(beside.get_by_text(LINE)).to_have_count(0)
    expect(other.page.get_by_text(LINE)).to_be_visible()
    other.open("today")
    expect(other.page.locator(".day-row").first).to_be_visible()
