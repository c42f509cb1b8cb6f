"""The first start asks once for the country, in plain words; nothing is guessed."""

import pytest
from browser import PATIENCE_MS, PHONE
from playwright.sync_api import expect


@pytest.fixture
def page(browser, served):
    width, height = PHONE
    context = browser.new_context(
        viewport={"width": width, "height": height}, has_touch=True, service_workers="block"
    )
    context.set_default_timeout(PATIENCE_MS)
    context.route("**/engine.json", lambda route: route.fulfill(status=404))
    page = context.new_page()
    page.goto(f"{served}/")
    yield page
    context.close()


def asked(page):
    return page.get_by_role("heading", name="Where do you work?")


def profile(page):
    return page.evaluate("JSON.parse(localStorage.getItem('basinside.1.settings'))?.profile")


def test_the_first_start_asks_for_the_country_once_and_settings_can_change_it(page, served):
    expect(asked(page)).to_be_visible()
    # Nothing can be planned under rules that nobody chose; Help has nothing in front of it.
    expect(page.get_by_role("button", name="New service")).to_have_count(0)
    expect(page.get_by_role("button", name="Help")).to_be_visible()
    page.reload()
    expect(asked(page)).to_be_visible()
    assert profile(page) is None
    page.get_by_role("button", name="The United Kingdom").tap()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    assert profile(page) == "uk"
    page.reload()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(asked(page)).to_have_count(0)
    page.get_by_role("button", name="Help").tap()
    expect(page.get_by_text("999").first).to_be_visible()
    page.keyboard.press("Escape")
    page.goto(f"{served}/#/settings")
    chosen = page.get_by_role("group", name="Rules and emergency number of")
    expect(chosen.get_by_role("radio", name="the United Kingdom")).to_be_checked()
    chosen.get_by_role("radio", name="the European Union").check(force=True)
    assert profile(page) == "eu"


def test_another_country_is_an_answer_too_and_takes_the_strictest_rules(page):
    page.get_by_role("button", name="Another country").tap()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    page.reload()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(asked(page)).to_have_count(0)


def test_a_phone_that_chose_a_country_before_is_not_asked(page):
    expect(asked(page)).to_be_visible()
    page.evaluate("localStorage.setItem('basinside.1.settings', JSON.stringify({ profile: 'us' }))")
    page.reload()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    expect(asked(page)).to_have_count(0)
