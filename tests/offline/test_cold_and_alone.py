"""A phone that was set up once goes on for good without its server."""

import json
import random
import re

import pytest
from browser import BUILT
from drawing import seeds
from playwright.sync_api import expect
from questions import product
from test_service import Service
from visit import Visit

from basinside.engine.door import answer

READY_OFFLINE = re.compile("^Ready offline: ")
TOLERANCE = 1e-9
PRODUCTS = 300


def settings(page):
    page.get_by_role("link", name="Settings").click()
    return page.locator("#offline").get_by_role("status")


def kept(page, name):
    """What the page has been answered, as it keeps it."""
    return json.loads(page.evaluate(f"localStorage.getItem('basinside.1.answer.{name}')"))


def leaves(value, place=""):
    """Every number, word and emptiness of a parsed answer, in order, with its place."""
    if isinstance(value, dict):
        return [leaf for name in value for leaf in leaves(value[name], f"{place}/{name}")]
    if isinstance(value, list):
        return [leaf for at, one in enumerate(value) for leaf in leaves(one, f"{place}/{at}")]
    return [(place, value)]


def is_number(value):
    return isinstance(value, int | float) and not isinstance(value, bool)


def assert_same(given, known):
    given, known = leaves(given), leaves(known)
    assert [place for place, _ in given] == [place for place, _ in known]
    astray = [
        (place, one, other)
        for (place, one), (_, other) in zip(given, known, strict=True)
        if (
            abs(one - other) > TOLERANCE * max(1, abs(other))
            if is_number(one) and is_number(other)
            else one != other
        )
    ]
    assert astray == []


@pytest.fixture
def salon(salon):
    """A salon with 300 products on its shelf."""
    rng = random.Random(5)
    products = [product(rng, place) for place in range(PRODUCTS)]
    salon.mkdir()
    (salon / "shelf.json").write_text(json.dumps({"products": products, "demo": True}))
    (salon / "salon.json").write_text("{}")
    return salon


def test_a_cold_phone_without_its_server_works_out_300_products(phone, server):
    page = phone.on()
    Visit(page, server.address).open()
    expect(settings(page)).to_have_text(READY_OFFLINE)
    phone.off()
    server.kill()

    page = phone.on()
    visit = Visit(page, server.address).open()
    expect(settings(page)).to_have_text(READY_OFFLINE)
    page.get_by_role("button", name="Done").click()
    visit.to_the_strip()
    for name, question in (("formulas", "formulations"), ("strip", "predictions")):
        asked = kept(page, name)
        assert asked["answer"]["worked_out"] == "device"
        by_cpython = answer(question, json.dumps(asked["request"]).encode())
        assert by_cpython.status == 200
        assert_same(asked["answer"]["reply"], json.loads(by_cpython.body))
        if name == "formulas":
            assert len(asked["request"]["products"]) == PRODUCTS


def test_an_engine_that_fails_its_self_test_is_not_called_ready_offline(phone, site):
    site.change("engine.json", lambda text: text.replace('"level 9', '"level 3'))
    page = phone.on()
    Visit(page, site.address).open()
    said = settings(page)
    expect(page.locator("#engine").get_by_role("status")).to_contain_text("failed its self-test")
    expect(said).to_have_text("This page opens offline but cannot calculate.")


def test_a_service_goes_from_the_scale_to_the_second_mix_without_a_server(cold_phone):
    phone = cold_phone
    page = phone.on()
    service = Service(Visit(page, phone.address)).open().of_a_new_client().to_the_mix().cleared()
    expect(page.locator(".ladder-figure").first).to_be_visible()
    service.button("First section on").button("Last section on")
    why = page.locator(".basin-why")
    expect(why).to_contain_text("best")
    before = why.inner_text()
    service.button("pinker")
    expect(why).not_to_have_text(before)
    expect(page.locator(".basin-order")).to_have_text(re.compile("Wait|Look again|Rinse now"))

    # What was said and what runs is on the phone, and there again once it is switched on.
    phone.off()
    page = phone.on()
    service = Service(Visit(page, phone.address)).open()
    service.tap(page.locator(".bar .clock-line"))
    expect(page.locator(".basin-order")).not_to_be_empty()
    service.rinsed().button("yellower").button("It missed: what now?")
    service.tap(page.get_by_role("button", name="Mix this second").first)
    service.cleared()  # it may be of another line, which has questions of its own
    expect(page.locator(".ladder-figure").first).to_be_visible()


# Of what is kept for the engine: its list with the page's own files, and its pieces.
SPOIL = """async ([name, start, end]) => {
    for (const cache_name of await caches.keys()) {
        const cache = await caches.open(cache_name);
        for (const key of await cache.keys()) {
            if (new URL(key.url).pathname.split("/").at(-1) !== name) continue;
            const kept = await cache.match(key);
            const bytes = new Uint8Array(await kept.arrayBuffer());
            const [from, to] = [start, end].map((share) => Math.floor(share * bytes.length));
            const left = to > from ? bytes.fill(0x20, from, to) : bytes.slice(0, from);
            await cache.put(key, new Response(left, { headers: kept.headers }));
            return bytes.length;
        }
    }
}"""


def test_whatever_is_damaged_of_the_kept_engine_is_whole_after_one_visit(phone, server):
    """Any piece, or its list, cut off or overwritten anywhere; drawn from the day's seed."""
    page = phone.on()
    ready = page.locator("#offline").get_by_role("status")
    page.goto(f"{server.address}/#/settings")
    expect(ready).to_have_text(READY_OFFLINE)
    pack = json.loads((BUILT / "engine.json").read_text())
    names = [piece["name"] for file in pack["files"] for piece in file["pieces"]]
    # Each takes two loads of the page: two a day, all 200 in the long tests.
    for seed in seeds(200, parts=100):
        rng = random.Random(seed)
        name = "engine.json" if seed % 4 == 0 else rng.choice(names)
        start, long = rng.random(), rng.choice([0, 0.001, 0.2])
        damaged = [name, start, min(1, start + long)]
        assert page.evaluate(SPOIL, damaged), damaged
        page.reload()
        expect(ready, str(damaged)).to_have_text(READY_OFFLINE)
        page.context.set_offline(True)
        page.reload()
        expect(ready, str(damaged)).to_have_text(READY_OFFLINE)
        page.context.set_offline(False)
