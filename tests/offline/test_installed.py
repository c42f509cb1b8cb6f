"""The page as an app: the browser finds nothing missing, and it says when it was emptied."""

import json
import re
from pathlib import Path

from browser import BUILT
from PIL import Image
from playwright.sync_api import expect

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "web" / "node_modules" / "axe-core" / "axe.min.js"
PUBLIC = ROOT / "web" / "public"
RUN_AXE = """async () => (await axe.run()).violations.flatMap(({ id, help, nodes }) =>
  nodes.map(({ target, failureSummary }) => `${id}: ${help}: ${target}: ${failureSummary}`))"""
DROP_DATABASE = """() => new Promise((done) => {
  indexedDB.deleteDatabase('basinside-mark').onsuccess = done })"""


def notice(page):
    return page.locator(".page-notice")


def opened(page, server, place="settings"):
    page.goto(f"{server.address}/#/{place}")
    page.evaluate("navigator.serviceWorker.ready.then(() => {})")
    expect(page.locator("#kept").get_by_role("status")).to_be_visible()


def test_the_browser_finds_nothing_missing_for_an_install(phone, server):
    page = phone.on()
    opened(page, server)
    asked = page.context.new_cdp_session(page)
    assert asked.send("Page.getInstallabilityErrors") == {"installabilityErrors": []}
    found = asked.send("Page.getAppManifest")
    assert found["errors"] == []


def test_each_picture_is_there_and_as_large_as_the_manifest_says():
    manifest = json.loads((PUBLIC / "manifest.webmanifest").read_text())
    icons = [*manifest["icons"], *(icon for way in manifest["shortcuts"] for icon in way["icons"])]
    assert {icon.get("purpose") for icon in icons if icon["type"] == "image/png"} >= {
        *("any", "maskable")
    }
    for shown in [*icons, *manifest["screenshots"]]:
        file = PUBLIC / shown["src"][1:]
        if shown["sizes"] == "any":
            assert file.suffix == ".svg"
            continue
        with Image.open(file) as drawn:
            assert "{}x{}".format(*drawn.size) == shown["sizes"]
            assert Image.MIME[drawn.format] == shown["type"]


def test_the_pictures_of_the_app_meet_what_browsers_ask_and_no_first_visit_fetches_them():
    # Chromium, "Richer install UI": sides of 320 to 3840 pixels, the longer at most 2.3 times the
    # other, and one size for each form factor (from memory).
    manifest = json.loads((PUBLIC / "manifest.webmanifest").read_text())
    sizes = {}
    for shown in manifest["screenshots"]:
        sides = sorted(int(side) for side in shown["sizes"].split("x"))
        assert sides[0] >= 320
        assert sides[1] <= min(3840, 2.3 * sides[0])
        assert shown["label"]
        sizes.setdefault(shown["form_factor"], set()).add(shown["sizes"])
    assert {kind: len(those) for kind, those in sizes.items()} == {"narrow": 1, "wide": 1}
    assert "screenshots/" not in (BUILT / "sw.js").read_text()


def test_each_way_into_the_app_is_an_address_of_its_own():
    manifest = json.loads((PUBLIC / "manifest.webmanifest").read_text())
    places = (ROOT / "web" / "src" / "place.ts").read_text()
    for way in manifest["shortcuts"]:
        place = re.fullmatch(r"/#/(\w+)(/\w+)?", way["url"])[1]
        assert f'"{place}",' in places
    # Manifest, "file_handlers": its action is within the scope; each ending begins with a dot.
    for handler in manifest["file_handlers"]:
        assert handler["action"].startswith(manifest["scope"])
        assert all(end[0] == "." for ends in handler["accept"].values() for end in ends)
    assert manifest["share_target"]["method"] == "POST"  # a GET carries no file


def test_an_emptied_phone_is_noticed_and_axe_finds_nothing_in_what_is_said(phone, server):
    page = phone.on(bypass_csp=True)
    opened(page, server)
    expect(notice(page)).to_have_count(0)

    page.evaluate(DROP_DATABASE)
    page.reload()
    expect(notice(page)).to_contain_text("This device’s records were emptied")
    page.add_script_tag(path=AXE)
    assert page.evaluate(RUN_AXE) == []
    page.get_by_role("button", name="I have read this").click()
    expect(notice(page)).to_have_count(0)

    page.evaluate("localStorage.clear()")
    page.reload()
    expect(notice(page)).to_contain_text("This device’s settings were emptied")
    page.get_by_role("button", name="I have read this").click()
    expect(notice(page)).to_have_count(0)
    page.reload()
    expect(page.locator("#kept")).to_contain_text(re.compile(r"used of .+ this browser allows"))
    expect(notice(page)).to_have_count(0)


def test_a_window_that_keeps_nothing_says_that_it_forgets(phone, server):
    page = phone.on()
    page.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('', 'Denied') }"
    )
    opened(page, server)
    expect(page.locator("#kept").get_by_role("status")).to_contain_text("This window forgets")
