"""The first start says what this is, and asks once for the country; nothing is guessed."""

import json

import pytest
from browser import PATIENCE_MS, PHONE, ROOT
from playwright.sync_api import expect
from waiting import once

STRIP = ROOT / "web" / "src" / "screens" / "today" / "home_strip.generated.json"
# A lane's own colour in each minute, as it was painted.
PAINTED = """canvas => Array.from({ length: canvas.width }, (_, minute) =>
    [...canvas.getContext("2d").getImageData(minute, canvas.height / 2, 1, 1).data]
        .slice(0, 3).map((part) => part.toString(16).padStart(2, "0")).join(""))"""

# Notes each minute that a strip shows from now on.
NOTE_MINUTES = """lanes => {
    const seen = [];
    new MutationObserver(() => {
        seen.push(lanes.dataset.minute);
        lanes.dataset.seen = seen.join(" ");
    }).observe(lanes, { attributeFilter: ["data-minute"] });
}"""

# Notes the words of each step that the bar offers, from the first moment of the page.
NOTE_STEPS = """(() => {
    globalThis.offered = [];
    new MutationObserver(() => {
        const words = document.querySelector(".step-main")?.textContent;
        if (words && words !== globalThis.offered.at(-1)) globalThis.offered.push(words);
    }).observe(document, { childList: true, subtree: true, characterData: true });
})()"""


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
    # Nothing can be planned under rules that nobody chose; a mix needs none, and Help neither.
    expect(page.get_by_role("button", name="New service")).to_have_count(0)
    expect(page.get_by_role("button", name="Work out a mix")).to_be_visible()
    expect(page.get_by_role("button", name="Help")).to_be_visible()
    # Whether it works without a signal does not wait for the country.
    expect(page.locator(".signal-line")).to_contain_text("signal")
    page.reload()
    expect(asked(page)).to_be_visible()
    assert profile(page) is None
    page.get_by_role("button", name="The United Kingdom").tap()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    once(lambda: profile(page), lambda kept: kept == "uk")
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
    once(lambda: profile(page), lambda kept: kept == "eu")


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


def test_a_mix_and_the_shelf_come_before_the_country_and_a_client_after_it(page, served):
    page.get_by_role("button", name="Work out a mix").tap()
    expect(page.get_by_role("heading", name="Hair", exact=True)).to_be_visible()
    expect(asked(page)).to_have_count(0)
    page.goto(f"{served}/#/shelf")
    expect(page.get_by_role("heading", name="Shelf", exact=True)).to_be_visible()
    expect(asked(page)).to_have_count(0)
    page.goto(f"{served}/#/clients")
    expect(asked(page)).to_be_visible()
    page.get_by_role("button", name="Another country").tap()
    expect(asked(page)).to_have_count(0)


def test_the_strip_plays_its_minutes_once_and_again_on_asking(page):
    lanes = page.locator(".home-lanes")
    # Played through, it rests where its own bracket says that it is best.
    expect(lanes).to_have_attribute("data-over", "true")
    expect(lanes).to_have_attribute("data-minute", "12")
    expect(page.get_by_text("best 12")).to_be_visible()
    lanes.evaluate(NOTE_MINUTES)
    page.get_by_role("button", name="Play again").tap()
    every_minute = " ".join(str(minute) for minute in [*range(21), 12])
    expect(lanes).to_have_attribute("data-seen", every_minute)


def test_the_strip_stands_still_where_nothing_may_move_and_shows_the_engine_s_colours(
    browser, served
):
    context = browser.new_context(reduced_motion="reduce", service_workers="block")
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    page.goto(f"{served}/")
    lanes = page.locator(".home-lanes")
    expect(lanes).to_have_attribute("data-minute", "12")
    told = json.loads(STRIP.read_text())
    for lane, name in enumerate(("home-lane-0", "home-lane-1", "home-lane-2")):
        painted = page.locator(f"canvas.{name}").evaluate(PAINTED)
        assert painted == [minute[lane][6:12] for minute in told["minutes"]]
    context.close()


def test_with_a_client_there_it_is_the_day(page):
    page.get_by_role("button", name="The United States").tap()
    page.get_by_role("button", name="New service").tap()
    page.get_by_label("Client’s name").fill("Ruth Ember")
    page.get_by_role("button", name="New client").tap()
    expect(page.get_by_role("link", name="Ruth Ember")).to_be_visible()
    page.get_by_role("link", name="Today").first.tap()
    expect(page.locator(".day-row")).to_have_count(1)
    expect(page.locator(".home-lanes")).to_have_count(0)
    expect(page.locator(".bar").get_by_role("button", name="New service")).to_be_visible()


def test_no_step_of_the_bar_gives_way_to_another_while_the_records_are_read(page):
    page.get_by_role("button", name="Another country").tap()
    expect(page.get_by_role("button", name="New service")).to_be_visible()
    page.add_init_script(NOTE_STEPS)
    page.reload()
    expect(page.locator(".home-ways").get_by_role("button", name="New service")).to_be_visible()
    expect(page.locator(".step-main")).to_have_text("Work out a mix")
    assert page.evaluate("globalThis.offered") == ["Work out a mix"]
