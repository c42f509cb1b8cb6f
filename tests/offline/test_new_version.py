"""A new version of the page is offered, and taken by a tap alone: two builds of the same page."""

import re

from playwright.sync_api import expect
from test_service import Service
from visit import Visit

LOOK_FOR_UPDATES = "navigator.serviceWorker.getRegistration().then(found => found.update())"


def build_again(site):
    site.change(
        "index.html",
        lambda text: text.replace("<title>", '<meta name="build" content="second">\n<title>'),
    )


def opened(page, address):
    """Opens the page and waits until it is kept; counts how often it is loaded from then on."""
    page.goto(address)
    page.evaluate("navigator.serviceWorker.ready.then(() => {})")
    loads = []
    page.on("load", lambda loaded: loads.append(loaded.url))
    return loads


def second_build(page):
    return page.locator("meta[name=build]")


def notice(page):
    return page.locator(".page-notice")


def lightness(page):
    return page.get_by_role("textbox", name="L*")


def update_button(page):
    return page.get_by_role("button", name="Update", exact=True)


def test_an_update_waits_for_clock_and_text_and_is_then_taken_by_one_tap(phone, site):
    page = phone.on()
    loads = opened(page, f"{site.address}/#/try")
    window = phone.another_window()
    window_loads = opened(window, f"{site.address}/#/today")
    service = Service(Visit(window, site.address)).open().of_a_new_client().to_the_clock()
    window_loads.clear()

    page.get_by_role("button", name="Next: the wish").click()
    page.get_by_text("More about this wish").click()
    page.get_by_role("radio", name="a reading", exact=True).click()
    lightness(page).press_sequentially("7")
    build_again(site)
    page.evaluate(LOOK_FOR_UPDATES)
    for held in (page, window):
        expect(notice(held)).to_have_text("A new version is ready. It waits: a clock is running.")
        expect(update_button(held)).to_have_count(0)

    service.button("Last section on").rinsed()
    expect(notice(page)).to_have_text("A new version is ready. It waits: somebody is writing.")
    update_button(window).click()
    expect(notice(window)).to_contain_text("Another window has a running clock or unsaved text")
    assert (loads, window_loads) == ([], [])
    expect(second_build(window)).to_have_count(0)

    lightness(page).blur()
    window.get_by_role("button", name="Try again").click()
    expect(second_build(page)).to_be_attached()
    expect(second_build(window)).to_be_attached()
    expect(lightness(page)).to_have_value("7")
    expect(notice(page)).to_have_count(0)
    # A page that loads itself over and over does so whenever it has looked for a version.
    for told in (page, window):
        told.evaluate(LOOK_FOR_UPDATES)
        told.evaluate("navigator.serviceWorker.ready.then(() => {})")
    expect(second_build(page)).to_be_attached()
    assert (len(loads), len(window_loads)) == (1, 1)


def test_without_a_tap_a_new_version_is_not_taken_however_often_the_page_is_loaded(phone, site):
    page = phone.on()
    opened(page, site.address)
    build_again(site)
    page.evaluate(LOOK_FOR_UPDATES)
    expect(update_button(page)).to_be_visible()
    for _ in range(2):
        page.reload()
        expect(update_button(page)).to_be_visible()
        expect(second_build(page)).to_have_count(0)
    update_button(page).click()
    expect(second_build(page)).to_be_attached()
    expect(page.get_by_role("heading", name=re.compile("Basinside"))).to_be_visible()
