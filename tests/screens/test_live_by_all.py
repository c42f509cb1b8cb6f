"""The live screens in the states they come to: for a gloved thumb, and for everybody.

Sources: axe-core, which checks WCAG 2.2 levels A and AA and its own best practices, in both
themes; WCAG 2.2, 1.4.10 for the width. That a wet glove needs 56 px, and that 64 px are read at
arm's length, is common practice, no published source.
"""

import os
import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_live_service import LARGE_PX, lightener_on
from test_read_by_all import found_by_axe
from test_room_for_a_thumb import TARGET_PX, TOO_SMALL, TOO_WIDE
from test_service import Service

MAIN_PX = 64
# A folder for a picture of each screen in each theme, to be looked at.
PICTURES = os.environ.get("PICTURES")
# Nothing is counted or weighed on these.
AFTER_THE_RINSE = ("result", "ways on", "rinsed of a lightener")

# The largest figure or order of work on the page, in pixels.
LARGEST = """() => Math.max(0, ...[...document.querySelectorAll(
    ".order-figure, .ladder-figure, .order-due strong, .lighten-scale strong, .basin-order")]
  .filter((one) => one.checkVisibility())
  .map((one) => parseFloat(getComputedStyle(one).fontSize)))"""


def unfold(page):
    """Opens all that is one tap away, as somebody does who reads everything."""
    page.evaluate("document.querySelectorAll('main details').forEach(it => it.open = true)")


def faults_of(page, screen):
    """What is wrong with the screen as it stands, in words."""
    targets = page.evaluate(TOO_SMALL, TARGET_PX)
    assert targets["measured"] > 3
    faults = [*targets["small"], *page.evaluate(TOO_WIDE)]
    # Before the window nothing leads at the basin.
    for main in page.locator(".step-main").all():
        height = main.bounding_box()["height"]
        if height < MAIN_PX:
            faults.append(f"the main step is {height} px high")
    largest = page.evaluate(LARGEST)
    if screen not in AFTER_THE_RINSE and largest < LARGE_PX:
        faults.append(f"what is read at arm's length is {largest} px")
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        if PICTURES:
            page.screenshot(path=f"{PICTURES}/{screen.replace(' ', '-')}-{theme}.png")
        faults += [f"{theme}: {fault}" for fault in found_by_axe(page)]
    return faults


def two_zones(service):
    """Walks over the screens of a colour on two zones; yields the name of each."""
    page = service.of_a_new_client().to_the_mix().cleared().page
    expect(page.locator(".ladder")).to_be_visible()
    yield "weigh"
    service.button("First section on").button("Last section on").whole()
    service.visit.unfold("Another zone")
    service.radio("roots")
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.button("Mix this").cleared().button("First section on").button("Last section on")
    expect(page.locator(".basin-three")).to_be_visible()
    yield "two zones running"
    service.tap(page.get_by_role("button", name=re.compile("looks different$"))).button("yellower")
    expect(page.get_by_role("button", name="Undo: yellower", exact=True)).to_be_visible()
    yield "judged"
    service.whole()
    expect(page.locator("[data-strip]")).to_be_visible()
    page.locator("summary", has_text="Looks different").tap()
    page.locator("summary", has_text="Measured, as").tap()
    page.get_by_label("L*").tap()
    yield "whole strip, a reading typed"
    service.button("Back to the basin").rinsed().rinsed().button("yellower")
    pressed = page.get_by_role("button", name="yellower", exact=True)
    expect(pressed).to_have_attribute("aria-pressed", "true")
    yield "result"
    service.button("It missed: what now?")
    expect(page.get_by_role("region", name="Ways on")).to_be_visible()
    yield "ways on"


def a_lightener(service):
    """Walks over the screens of a lightener; yields the name of each."""
    page = lightener_on(service.of_a_new_client()).page
    expect(page.locator(".order-figure")).to_be_visible()
    yield "under a lightener"
    page.clock.fast_forward("05:12")  # and on from there: axe waits by the page's own clock
    expect(page.locator(".order-words")).to_have_text("Look now")
    yield "look now"
    service.button("Heard").tap(page.get_by_role("radio", name="level 7").first)
    expect(page.get_by_role("region", name="Light enough")).to_contain_text("More time")
    yield "looked at"
    service.button("Last section on").rinsed()
    expect(page.get_by_role("button", name="Tone this hair")).to_be_visible()
    yield "rinsed of a lightener"


@pytest.mark.parametrize(("walk", "screens"), in_turn([(two_zones, 6), (a_lightener, 4)]))
def test_a_live_screen_is_for_a_glove_and_for_everybody(visit, walk, screens):
    # The page's policy lets no foreign script in, axe included; this context is for it alone.
    shown = visit(bypass_csp=True)
    shown.page.clock.install(time="2026-11-25T10:00:00Z")
    service = Service(shown).open()
    found = {}
    for screen in walk(service):
        unfold(shown.page)
        found[screen] = faults_of(shown.page, screen)
    assert len(found) == screens
    assert {screen: faults for screen, faults in found.items() if faults} == {}
