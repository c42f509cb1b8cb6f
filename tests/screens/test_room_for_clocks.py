"""Five chairs run: no place but a running service gives more than one line to clocks.

The most is the project’s own: 64 px of the page, however many run.
"""

import pytest
from playwright.sync_api import expect
from test_every_place import LISTED
from test_service import Service
from visit import PHONE

MOST_PX = 64
RUNNING = ("Wren Aldous", "Oona Pell", "Tam Ferris", "Ona Fictive", "Ruth Ember")
PLANNED = "Ida Hollow"
# How high the clocks are, or what rings in their place, read at one moment.
HIGH_PX = """() => (document.querySelector(".bar .ringing")
  ?? document.querySelector(".bar-clocks")).getBoundingClientRect().height"""
SIZES = {"phone": PHONE, "small": (320, 640), "on its side": (844, 390)}


def five_chairs(shown):
    """Lets five clocks run while a sixth client waits; returns the clock in ms, and the places."""
    service = Service(shown).open()
    for name in RUNNING:
        service.of_a_new_client(name).to_the_clock().open()
    service.of_a_new_client(PLANNED)
    page = service.page
    waiting = page.evaluate("location.hash").removeprefix("#/service/")
    client = page.get_by_role("link", name=PLANNED).get_attribute("href").removeprefix("#/")
    of_client = client.removeprefix("client/")
    places = [*(place for place in LISTED), client, f"service/{waiting}", f"record/{waiting}"]
    places += [f"reaction/{waiting}", f"new_test/{of_client}", "tests"]
    return page.evaluate("Date.now()"), places


@pytest.mark.parametrize("size", SIZES)
def test_clocks_take_one_line_of_every_other_place(visit, prepared, size):
    memory, (now_ms, places) = prepared("five chairs", five_chairs, "2026-11-25T10:00:00Z")
    shown = visit(SIZES[size], memory)
    page = shown.page
    page.clock.install(time=now_ms / 1000)
    found = {}
    for place in places:
        page.goto(f"{shown.address}/#/{place}")
        expect(page.locator("main h2, main h3").first).to_be_visible()
        expect(page.get_by_text("Opening")).to_have_count(0)
        expect(page.locator(".bar-clocks, .bar .ringing").first).to_be_visible()
        found[place.split("/")[0]] = page.evaluate(HIGH_PX)
    assert len(found) > 10
    assert {place: px for place, px in found.items() if px > MOST_PX} == {}
