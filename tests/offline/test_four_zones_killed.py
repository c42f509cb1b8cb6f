"""Four zones run when the browser is killed, and the phone's clock is moved: nothing is lost."""

import re

from playwright.sync_api import expect
from test_moved_clock import HOUR_MS, JUMP
from test_service import Service
from visit import Visit

# However many run, they take one line of every other screen.
MOST_PX_FOR_CLOCKS = 64
OTHERS = ("roots", "lengths", "ends")


def running(service):
    """When each zone's first and last section went on, as the phone has written it down."""
    begun = {}
    for op in service.records("outbox"):
        for field in ("first_section_at", "last_section_at"):
            if op.get("fields", {}).get(field):
                begun[op["entity_id"], field] = op["fields"][field]
    return begun


def open_clocks(page):
    """Opens the one line that stands for all clocks; it says how many run."""
    line, heard = page.locator(".clock-bar"), page.locator(".bar .ringing button")
    # On a slow machine a window may have opened meanwhile; what rings takes the clocks' place.
    while expect(line.or_(heard)).to_be_visible() or not line.is_visible():
        heard.tap()
    expect(line).to_contain_text("4 clocks")
    assert page.locator(".bar-clocks").bounding_box()["height"] <= MOST_PX_FOR_CLOCKS
    if line.get_attribute("aria-expanded") == "false":
        line.tap()
    expect(page.locator(".bar .clock-line")).to_have_count(4)
    rows = page.locator(".clock-bar-rows").bounding_box()["height"]
    assert rows <= page.viewport_size["height"] / 4


def clocks(page):
    """The zones whose clocks stand in the bar, each with what is due and its time of day."""
    lines = page.locator(".bar .clock-line").all_inner_texts()
    return sorted(re.sub(r"\d+:\d\d\s*·", "", " ".join(line.split())) for line in lines)


def test_four_running_zones_outlive_a_kill_and_a_clock_set_back(cold_phone):
    phone = cold_phone
    service = Service(Visit(phone.on(), phone.address)).open().of_a_new_client()
    service.radio("pearl").button("Next: the hair")
    for zone in (None, *OTHERS):
        if zone:
            if service.page.locator(".basin").count() > 0:
                service.whole_of_the_first()
            service.tap(service.page.locator("summary", has_text="Another zone")).radio(zone)
        service.button("What to mix")
        expect(service.visit.mixes.first).to_be_attached()
        service.button("Mix this").cleared().button("First section on")
        service.tap(service.page.get_by_role("button", name=re.compile("^Last section on")))
        expect(service.page.get_by_role("button", name="Rinse early…")).to_be_visible()
    written = running(service)
    assert len(written) == 8
    service.open("today")
    open_clocks(service.page)
    before = clocks(service.page)
    phone.kill()

    service = Service(Visit(phone.on(), phone.address)).open()
    open_clocks(service.page)
    assert running(service) == written
    assert clocks(service.page) == before

    service.page.evaluate(JUMP, -HOUR_MS)
    # A killed browser may have lost what it had not put on the disk, which is said beside it.
    notices = service.page.locator(".page-notice")
    expect(notices.filter(has_text="was set back by 1 h")).to_have_count(1)
    open_clocks(service.page)
    assert running(service) == written
    countdowns = service.page.locator(".bar .clock-time strong").all_inner_texts()
    # An hour was not added to what is left of any: all are due within the maker's minutes.
    assert all(re.fullmatch(r"\d{1,2}:\d\d", text) for text in countdowns)
