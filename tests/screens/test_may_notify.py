"""Notifications are asked for on *Today* once a service is planned, while hands are bare.

A phone without them says once, before its first clock, what it needs. What the browser itself
answers is set through its own debugging door.
"""

import pytest
from browser import NOTIFYING, open_browser
from drawing import in_turn
from playwright.sync_api import expect
from test_service import Service

OFF = "Notifications are off on this phone."


@pytest.fixture(scope="module")
def browser(playwright):
    """A browser that may notify: the one of the other tests denies it, whatever it is told."""
    with open_browser(playwright, NOTIFYING) as browser:
        yield browser


def answers(page, setting):
    """Lets the browser say this when it is asked about notifications; the page is opened again."""
    browser = page.context.new_cdp_session(page)
    asked = {"permission": {"name": "notifications"}, "setting": setting}
    browser.send("Browser.setPermission", asked)
    page.reload()


@pytest.mark.parametrize("tap", in_turn(["Leave it", "Allow notifications"]))
def test_it_is_asked_once_a_service_is_planned_and_never_beside_a_clock(visit, tap):
    service = Service(visit()).open()
    page = service.page
    answers(page, "prompt")
    card = page.locator(".may-notify")
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(card).to_have_count(0)
    service.of_a_new_client().open()
    expect(card).to_contain_text("Basinside can ring while you use another app.")
    service.tap(page.locator(".day-row")).to_the_clock().open()
    expect(page.locator(".bar-clocks")).to_be_visible()
    expect(card).to_have_count(0)
    service.tap(page.locator(".day-row")).button("Last section on").rinsed().open()
    # Without a screen the browser's own question ends unanswered, which is an answer as well.
    service.button(tap)
    expect(card).to_have_count(0)
    page.reload()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(card).to_have_count(0)


@pytest.mark.parametrize("setting", in_turn(["prompt", "denied"]))
def test_a_phone_without_them_says_once_what_it_needs(visit, setting):
    service = Service(visit()).open()
    answers(service.page, setting)
    service.of_a_new_client().to_the_mix().cleared()
    said = service.page.get_by_text(OFF)
    expect(said).to_contain_text("Keep Basinside on the screen and the sound on")
    service.button("First section on")
    expect(service.countdown).to_be_visible()
    expect(said).to_have_count(0)
    service.open().of_a_new_client("Oona Pell").to_the_mix().cleared()
    expect(said).to_have_count(0)


def test_a_phone_that_may_notify_says_nothing_of_it(visit):
    service = Service(visit(permissions=["notifications"])).open()
    service.of_a_new_client().to_the_mix().cleared()
    expect(service.page.get_by_role("button", name="First section on")).to_be_visible()
    expect(service.page.get_by_text(OFF)).to_have_count(0)
