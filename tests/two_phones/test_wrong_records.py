"""A salon with wrongly typed records from an older desk: every place opens, and lists them."""

import re
from contextlib import closing

import pytest
from drawing import seeds
from laid_in import laid_in
from playwright.sync_api import expect
from wrong_values import ID, drawn_faults

from basinside.service.records.fields import KINDS
from basinside.service.store.salon import DATABASE_FILE, Salon

CLIENT, SERVICE, ZONE, LINE, PRODUCT = (ID.format(0xC000 + n) for n in range(5))
BY = ID.format(0xB000)
WHOSE = {"client": CLIENT, "service": SERVICE, "zone": ZONE, "line": LINE, "product": PRODUCT}
AT = "2026-11-25T10:15:00Z"
SOUND = {
    CLIENT: ("client", {"name": "Wren Aldous"}),
    SERVICE: ("service", {"client": CLIENT, "purpose": "client", "state": "planned"}),
    ZONE: ("zone", {"service": SERVICE, "name": "Lengths"}),
    LINE: ("line", {"name": "Still", "class": "neutral_demi"}),
    PRODUCT: ("product", {"line": LINE, "name": "Nine pearl", "code": "9P"}),
}
NAMED = ("today", "clients", "formulas", "shelf", "settings", "look", "desk", "tests")
OF_ONE = (f"client/{CLIENT}", f"service/{SERVICE}", f"line/{LINE}", f"record/{SERVICE}")
# As in a browser that lacks the words for a date, which a client's page says.
NO_DATES = "() => { Date.prototype.toLocaleDateString = () => { throw new Error('none'); }; }"
NO_WORDS = re.compile(r"\bNaN\b|\bundefined\b|Invalid Date|\[object Object\]")


def operation(number, kind, entity_id, fields):
    stamp = f"2026-11-25T12:{number // 600:02}:{number // 10 % 60:02}.{number % 10:03}Z"
    return {
        "op_id": ID.format(0x1000 + number),
        "device_seq": number,
        "hlc": f"{stamp}-0000-{BY}",
        "schema": 2,
        "kind": f"{kind}.create",
        "entity_id": entity_id,
        "by": BY,
        "fields": fields,
    }


def wrong_records():
    """Records of one client's visit, each with one field that is not of its type."""
    for number, seed in enumerate(seeds(1000), 100):
        kind, field, value = drawn_faults(seed)
        whose = {name: WHOSE[name] for name in KINDS[kind].fields if name in WHOSE}
        at = {name: AT for name in ("at", "planned_at", "applied_at") if name in KINDS[kind].fields}
        fields = whose | at | {field: value}
        yield operation(number, kind, ID.format(0x4000 + number), fields)


@pytest.fixture(scope="module")
def old_salon(server):
    """The running salon with those records, put into its folder while it was stopped."""
    server.stop()
    sound = [operation(n, kind, id_, f) for n, (id_, (kind, f)) in enumerate(SOUND.items(), 1)]
    with closing(Salon(server.folder / DATABASE_FILE)) as salon:
        laid_in(salon, *sound, *wrong_records())
    server.start()


@pytest.mark.usefixtures("old_salon")
def test_every_place_opens_and_each_is_listed_and_can_be_taken_away(windows):
    _, desk = windows
    page, failures = desk.page, []
    page.on("pageerror", lambda error: failures.append(str(error)))
    desk.go("look")
    wrong = page.locator("article.look", has_text="cannot be read")
    expect(wrong).to_have_count(len(seeds(1000)))
    for place in (*NAMED, *OF_ONE):
        desk.go(place)
        shown = page.locator("main")
        expect(shown.get_by_role("heading", level=2).first).to_be_visible()
        expect(shown).not_to_have_text(re.compile("Opening…"))
        expect(page.locator("body")).not_to_have_text(NO_WORDS)
    assert failures == []
    desk.go("look")
    first = wrong.filter(has=page.get_by_role("button", name=re.compile("^Take the "))).first
    first.get_by_role("button", name=re.compile("^Take the ")).first.click()
    expect(wrong).to_have_count(len(seeds(1000)) - 1)


@pytest.mark.usefixtures("old_salon")
def test_a_screen_that_cannot_be_drawn_says_whose_it_is_and_is_set_aside(windows):
    _, desk = windows
    page = desk.page
    desk.go("clients")
    expect(page.get_by_role("heading", name="Clients")).to_be_visible()
    page.evaluate(NO_DATES)
    desk.go(f"client/{CLIENT}")
    expect(page.get_by_role("heading", name="This screen does not open")).to_be_visible()
    expect(page.locator("main")).to_contain_text("client: Wren Aldous")
    page.get_by_role("button", name="Help", exact=True).click()
    expect(page.locator("dialog#help")).to_be_visible()
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Set aside").click()
    plain = page.get_by_role("heading", name="Set aside: client: Wren Aldous")
    expect(plain).to_be_visible()
    page.reload()
    expect(plain).to_be_visible()
    desk.go("look")
    page.get_by_role("link", name="Set aside on this phone: client: Wren Aldous").click()
    expect(plain).to_be_visible()
    page.get_by_role("button", name="Open it again").click()
    expect(plain).to_have_count(0)
    expect(page.get_by_role("heading", name="Wren Aldous").first).to_be_visible()
