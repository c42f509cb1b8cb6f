"""While the rules hold a client, the client's grams show on no page.

They stay on record. What went on a head on an earlier day is one tap away, since a doctor may ask.
"""

import re

import pytest
from playwright.sync_api import expect
from test_service import SIX_WEEKS_MS, Service
from visit import DESK
from waiting import once

# The cells of a table come without a space between them: "50 gDeveloper".
GRAMS = re.compile(r"\d\s*(g|oz)(?![a-z])")
WREN = "Wren Aldous"
# Her mix by its tubes, which shows where its grams do not.
MIX = "Quill "


def one_visit(shown):
    """Keeps a formula of a new client and ends the visit; returns the page's clock then, in ms."""
    service = Service(shown).open().of_a_new_client().to_the_clock()
    service.button("Last section on").rinsed()
    service.tap(service.page.locator("summary", has_text="Keep this formula")).button("Keep it")
    expect(service.page.get_by_role("link", name="Open the formula")).to_be_visible()
    service.button("as shown").button("End the service").button("Back to today")
    expect(service.page.locator(".day-row")).to_contain_text("ended")
    return service.page.evaluate("Date.now()")


@pytest.fixture
def service(visit, prepared):
    """A regular with a kept formula and one visit behind her, six weeks ago."""
    memory, ended_ms = prepared("one visit", one_visit, "2026-12-01T10:00:00Z")
    shown = visit(memory=memory)
    shown.page.clock.install(time=(ended_ms + SIX_WEEKS_MS) / 1000)
    return Service(shown).open()


def held_again(service):
    """The same client is here again today, and nobody has asked her anything yet."""
    service.button("New service")
    service.page.get_by_label("Client’s name").fill("wren")
    service.radio(WREN)
    service.tap(service.page.get_by_role("button", name=re.compile("^Same as last time")))
    expect(service.page.get_by_role("button", name="Held: see why")).to_be_visible()
    return service


def the_formula(service):
    service.open("formulas").tap(service.page.locator(".found-row"))
    expect(service.page.get_by_text("It never changes")).to_be_visible()
    return service.page.locator(".formula")


def the_record_of_the_first_visit(service):
    service.open("clients").tap(service.page.get_by_role("link", name=WREN))
    service.tap(service.page.get_by_role("link", name="Print this visit’s record").last)
    record = service.page.locator(".consultation")
    expect(record.get_by_role("heading", name="Consultation record")).to_be_visible()
    return record


def has_no_grams(place, *words):
    """Reads a place once it says these words: one that is still empty must not pass."""
    said = once(place.inner_text, lambda said: all(one in said for one in words))
    assert not GRAMS.search(said), said


def says_held(place):
    has_no_grams(place, f"{WREN} is held.")


def test_with_nothing_held_a_formula_and_a_record_show_their_grams(service):
    expect(the_formula(service)).to_contain_text(GRAMS)
    expect(service.page.get_by_role("button", name="Try this again")).to_be_enabled()
    expect(the_record_of_the_first_visit(service)).to_contain_text(GRAMS)


def test_a_held_client_has_no_grams_among_the_formulas(service):
    held_again(service).open("formulas")
    has_no_grams(service.page.locator(".found"), WREN, MIX)
    formula = the_formula(service)
    says_held(formula)
    # The way into the try-out would show them without a question.
    expect(service.page.get_by_role("button", name="Try this again")).to_be_disabled()
    service.tap(formula.get_by_role("link", name="See what holds"))
    expect(service.page.get_by_role("button", name="Held: see why")).to_be_visible()


def test_a_formula_beside_another_has_no_grams_either(service):
    formula = the_formula(service)
    service.button("Compare")
    held_again(service.open())
    service.open("formulas").tap(service.page.locator(".found-row"))
    expect(service.page.get_by_text(f"{WREN} is held.").first).to_be_visible()
    has_no_grams(formula, f"{WREN} is held.", MIX)


def test_a_search_and_the_client_s_page_name_the_mix_without_its_grams(service):
    held_again(service).open("clients")
    page = service.page
    page.get_by_role("textbox").first.fill("wren")
    expect(page.get_by_role("link", name=WREN).first).to_be_visible()
    has_no_grams(page.locator("main"), WREN, MIX)
    service.tap(page.get_by_role("link", name=WREN).first)
    expect(page.locator(".visit").last).to_contain_text("all over: ")
    has_no_grams(page.locator("main"), "all over: ", MIX)


def test_on_a_wide_screen_the_whole_history_has_no_grams(service):
    held_again(service)
    page = service.page
    page.set_viewport_size(dict(zip(("width", "height"), DESK, strict=True)))
    service.open("clients")
    page.get_by_role("link", name=WREN).click()
    expect(page.get_by_role("heading", name="Everything, newest first")).to_be_visible()
    has_no_grams(page.locator("body"), "Everything, newest first", MIX)


def test_the_record_of_another_visit_is_kept_back_on_paper_until_somebody_shows_it(service):
    held_again(service)
    record = the_record_of_the_first_visit(service)
    says_held(record)
    service.page.emulate_media(media="print")
    says_held(record)
    service.page.emulate_media(media="screen")
    service.button("Show what was used")
    expect(record.locator(".record-bowl")).to_contain_text(GRAMS)
    service.page.emulate_media(media="print")
    expect(record.locator(".record-bowl")).to_contain_text(GRAMS)


def test_the_page_of_another_visit_keeps_its_mix_back(service):
    held_again(service).open("clients")
    service.tap(service.page.get_by_role("link", name=WREN))
    service.tap(service.page.locator(".visit").last)
    mix = service.page.locator("#mix")
    service.tap(mix.locator("button.fold-line"))
    says_held(mix)
    service.button("Show what was used")
    expect(service.page.locator(".ladder-amount").first).to_be_visible()


def test_the_record_of_the_held_visit_itself_says_that_nothing_went_on(service):
    held_again(service).open("clients")
    service.tap(service.page.get_by_role("link", name=WREN))
    service.tap(service.page.get_by_role("link", name="Print this visit’s record").first)
    record = service.page.locator(".consultation")
    has_no_grams(record, "Nothing went on.")


def test_once_nothing_holds_her_the_grams_are_back(service):
    held_again(service).cleared()
    formula = the_formula(service)
    expect(formula.locator(".formula-grams")).to_contain_text(GRAMS)


def test_a_reaction_keeps_her_formula_back_with_no_visit_planned(service):
    service.open("clients").tap(service.page.get_by_role("link", name=WREN))
    client = service.page.url.split("/")[-1]
    service.open(f"reaction/{client}")
    service.page.get_by_role("checkbox", name="hives", exact=True).check(force=True)
    service.button("Keep the record")
    expect(service.page.get_by_text("Kept on this phone.")).to_be_visible()
    says_held(the_formula(service))


def test_without_an_answer_of_the_rules_no_grams_show(service):
    service.page.route("**/api/safety/services", lambda route: route.abort())
    formula = the_formula(service)
    has_no_grams(formula, "Asking the safety rules before any grams show")


def test_a_mix_for_nobody_is_free_and_says_that_it_is_for_nobody_s_head(visit):
    service = Service(visit()).open("try")
    expect(service.page.get_by_text("For nobody’s head.")).to_be_visible()
    service.button("Next: the wish").radio("pearl").button("What to mix")
    expect(service.page.locator(".mix-found")).to_contain_text(GRAMS)
    expect(service.page.get_by_text("For nobody’s head.")).to_be_visible()
