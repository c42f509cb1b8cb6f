"""The page as an app: the browser finds nothing missing, and it says when it was emptied."""

import json
import re
import struct
from pathlib import Path

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


def test_each_icon_is_as_large_as_the_manifest_says():
    # PNG (Third Edition), §11.2.1: width and height are the first of IHDR, at bytes 16 to 24.
    icons = json.loads((PUBLIC / "manifest.webmanifest").read_text())["icons"]
    drawn = [icon for icon in icons if icon["type"] == "image/png"]
    assert {icon["purpose"] for icon in drawn} == {"any", "maskable"}
    for icon in drawn:
        width, height = struct.unpack(">II", (PUBLIC / icon["src"][1:]).read_bytes()[16:24])
        assert f"{width}x{height}" == icon["sizes"]


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
