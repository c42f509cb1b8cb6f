"""The safety questions on a service's page, answered by touch against the real rules."""

import re

from cleared import LEAST_CAUTION, clear
from playwright.sync_api import expect
from test_service import OPENS_AT, Service
from test_slow_and_lost import Held, find_the_server, lose_the_server


def test_a_clean_new_client_is_asked_until_nothing_holds(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    service.tap(service.page.locator("#safety .fold-line"))
    clear(service.page, service.tap)
    expect(service.page.get_by_text("Nothing holds this service now.")).to_be_visible()
    answers = [op for op in service.records("outbox") if op["kind"] == "safety.answer"]
    said = {field for op in answers for field in op["fields"]}
    assert {"colour_reaction", "black_tattoo", "dye_allergy"} <= said
    # What one tap confirmed of the pack is on record answer by answer, in the words asked.
    cards = {
        op["fields"]["key"]: op["fields"]["value"]
        for op in service.records("outbox")
        if op["fields"].get("key", "").startswith("line card: ")
    }
    read = {key.rpartition(": ")[2]: card["value"] for key, card in cards.items()}
    assert read == {"labelled": "yes", "label_caution": "yes", "leaflet_version": "leaflet 3"}
    assert all(card["asked"].endswith("?") for card in cards.values())


def test_an_answer_shows_until_the_rules_have_read_it_and_no_other_question_before(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    page = service.page
    service.tap(page.locator("#safety .fold-line"))
    asking = page.locator(".safety[data-asks='yes']")
    words = asking.get_by_role("region", name="Question").get_by_role("heading").inner_text()
    held = Held(page, "**/api/safety/services")
    service.tap(asking.get_by_role("button", name=LEAST_CAUTION[words], exact=True))
    held.until(1)
    checking = page.locator(".safety[data-asks='checking']")
    expect(checking.get_by_role("heading", name=words, exact=True)).to_be_visible()
    expect(checking.locator("[aria-pressed=true]")).to_have_text(LEAST_CAUTION[words])
    held.let_go()
    expect(asking.get_by_role("region", name="Question")).not_to_contain_text(words)
    # What one would take back is named, not only that something was answered.
    expect(page.locator(".bar")).to_contain_text("Black tattoo: Never.")


GRAMS = re.compile(r"\d\s*g\b")


def assert_held(service):
    """Nothing on the page says what to weigh, and nothing starts the clock."""
    page = service.page
    expect(page.get_by_role("button", name="Held: see why")).to_be_visible()
    expect(page.get_by_role("button", name="First section on")).to_have_count(0)
    expect(page.locator(".ladder-figure")).to_have_count(0)
    expect(page.locator("#mix")).not_to_contain_text(GRAMS)


def test_no_grams_are_shown_and_no_clock_starts_while_a_question_is_open(visit):
    service = Service(visit()).open().of_a_new_client()
    service.radio("pearl").button("Next: the hair").button("What to mix")
    mixes = service.page.locator(".mix-found")
    expect(mixes.locator(".way").first).to_be_visible()
    expect(mixes).not_to_contain_text(GRAMS)
    service.button("Mix this")
    expect(service.page.get_by_role("region", name="Question")).to_be_visible()
    assert_held(service)
    clear(service.page, service.tap)
    expect(service.page.locator(".ladder-figure").first).to_be_visible()


def test_a_stop_is_never_opened_by_answering_the_rest(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    clear(
        service.page,
        service.tap,
        {**LEAST_CAUTION, "Is a dye allergy known or suspected?": "Suspected"},
    )
    expect(service.page.get_by_role("region", name="What holds this service")).to_be_visible()
    assert_held(service)
    service.page.reload()
    service.page.locator("#safety .fold-line").tap()
    expect(service.page.get_by_role("region", name="What holds this service")).to_be_visible()
    expect(service.page.get_by_role("button", name="First section on")).to_have_count(0)


def test_without_an_answer_of_the_rules_nothing_starts(cleared):
    service = cleared()
    lose_the_server(service.page)
    # What was said before does not count at the tap: the rules are asked anew, and do not answer.
    service.button("First section on")
    expect(service.page.get_by_text("Wait for the rules to answer.")).to_be_visible()
    expect(service.countdown).to_have_count(0)
    started = [op for op in service.records("outbox") if "first_section_at" in op["fields"]]
    assert started == []
    find_the_server(service.page)


def test_a_day_later_a_cleared_service_that_was_not_begun_asks_again(cleared):
    # Scalp, face and gloves are looked at afresh: after a day what was seen holds no more.
    service = cleared(at=OPENS_AT)
    service.page.clock.fast_forward(25 * 3_600_000)
    assert_held(service)


def test_a_held_visit_gets_its_alert_test_now_and_is_moved_to_another_day(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    held = service.page.get_by_role("region", name="While it is held")
    service.tap(held.locator("summary", has_text="Another day instead"))
    held.get_by_label("New time").fill("2026-12-24T09:30")
    service.tap(held.get_by_role("button", name="Move this visit"))
    expect(held.get_by_role("button", name="Move this visit")).to_be_disabled()
    moved = [op["fields"] for op in service.records("outbox") if "planned_at" in op["fields"]]
    assert moved[-1]["planned_at"].startswith("2026-12-24T09:30")
    service.tap(held.get_by_role("link", name="Put the alert test on now"))
    expect(service.page.get_by_role("heading", name="Alert test for Wren Aldous")).to_be_visible()
    # The line of the mix that was taken.
    expect(service.page.get_by_role("radio", name="Quill", exact=True)).to_be_checked()
    # The act is under the thumb, whatever stands above it.
    goes_on = service.page.locator(".bar .step-main")
    expect(goes_on).to_have_text("Say where it goes")
    expect(goes_on).to_be_disabled()
    service.radio("behind the ear")
    expect(goes_on).to_have_text("It is on")
    expect(goes_on).to_be_in_viewport(ratio=1)


def test_once_all_is_rinsed_nothing_is_held_and_the_answers_stay(begun):
    service = begun()
    service.button("Last section on").rinsed()
    folded = service.page.locator("#safety .fold-line")
    expect(folded).to_contain_text("rinsed, answers on record")
    service.tap(folded)
    expect(service.page.locator(".safety")).to_contain_text("All is rinsed, so nothing is held.")
    service.tap(service.page.locator(".safety summary", has_text="Answers"))
    expect(service.page.get_by_text("Ever had a temporary black tattoo?")).to_be_visible()


# Taps an answer, and again what lies under the thumb as soon as another question does.
TAP_TWICE = """answer => new Promise(done => {
    const { x, y, width, height } = answer.getBoundingClientRect();
    const shown = () => document.querySelector("[aria-label=Question] h3")?.textContent ?? "";
    const first = shown();
    const look = () => {
        const under = document.elementFromPoint(x + width / 2, y + height / 2);
        if (shown() === first || !under?.closest("[aria-label=Question]"))
            return requestAnimationFrame(look);
        under.click();
        done(shown());
    };
    answer.click();
    look();
})"""


def test_a_second_tap_of_the_same_thumb_does_not_answer_what_comes_next(visit):
    """That a wet glove taps twice is common practice, no published source."""
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    service.tap(service.page.locator("#safety .fold-line"))
    question = service.page.get_by_role("region", name="Question")
    answer = question.get_by_role("button").first
    expect(answer).to_be_enabled()
    came_next = answer.evaluate(TAP_TWICE)
    expect(answer).to_be_enabled()
    expect(question.get_by_role("heading")).to_have_text(came_next)
    answers = [op for op in service.records("outbox") if op["kind"] == "safety.answer"]
    assert len(answers) == 1
