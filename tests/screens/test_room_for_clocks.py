"""Five chairs run: no place but a running service gives more than one line to clocks.

The most is the project’s own: 64 px of the page, however many run.
"""

import pytest
from playwright.sync_api import expect
from test_every_place import LISTED
from test_service import Service
from visit import PHONE, Visit

from conftest import new_context

MOST_PX = 64
RUNNING = ("Wren Aldous", "Oona Pell", "Tam Ferris", "Ona Fictive", "Ruth Ember")
PLANNED = "Ida Hollow"
SIZES = {"phone": PHONE, "small": (320, 640), "on its side": (844, 390)}


@pytest.fixture(scope="module")
def five_chairs(browser, served):
    """What a phone holds while five clocks run, and the places of a sixth who waits."""
    context = new_context(browser, PHONE, has_touch=True)
    service = Service(Visit(context.new_page(), served)).open()
    for name in RUNNING:
        service.of_a_new_client(name).to_the_clock().open()
    service.of_a_new_client(PLANNED)
    page = service.page
    waiting = page.evaluate("location.hash").removeprefix("#/service/")
    client = page.get_by_role("link", name=PLANNED).get_attribute("href").removeprefix("#/")
    memory = context.storage_state(indexed_db=True)
    context.close()
    of_client = client.removeprefix("client/")
    places = [*(place for place in LISTED), client, f"service/{waiting}", f"record/{waiting}"]
    return memory, [*places, f"reaction/{waiting}", f"new_test/{of_client}", "tests"]


@pytest.mark.parametrize("size", SIZES)
def test_clocks_take_one_line_of_every_other_place(visit, five_chairs, size):
    memory, places = five_chairs
    shown = visit(SIZES[size], memory)
    page = shown.page
    found = {}
    for place in places:
        page.goto(f"{shown.address}/#/{place}")
        expect(page.locator("main h2, main h3").first).to_be_visible()
        expect(page.get_by_text("Opening")).to_have_count(0)
        line, heard = page.locator(".bar-clocks"), page.locator(".bar .ringing")
        expect(line.or_(heard).first).to_be_visible()
        one = heard if heard.count() > 0 else line
        found[place.split("/")[0]] = one.bounding_box()["height"]
    assert len(found) > 10
    assert {place: px for place, px in found.items() if px > MOST_PX} == {}
