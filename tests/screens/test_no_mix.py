"""Where no mix is worth making, the page leads with what comes first, and shows no mix."""

import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_service import Service
from visit import DESK, PHONE

DEEPEST_AT_FIRST = 6


def hair_of_level(shown, level, kind):
    shown.unfold("More about this hair")
    shown.radio(kind, "Before this mix it was").click()
    if level < DEEPEST_AT_FIRST:
        shown.button("Deeper: levels 5 to 1").click()
    shown.page.get_by_role("radio", name=re.compile(rf"^level {level}, .*usual$")).click()


def put_on(shown, product):
    shown.unfold("More about this hair")
    shown.page.get_by_label("Add earlier colour").select_option(label=product)


def to_the_answer(shown, level, tone):
    shown.to_the_wish().radio(tone, "Tone").click()
    stepper = shown.page.get_by_role("group", name="Level to land on")
    words = stepper.locator("output")
    at = float(words.inner_text().replace("½", ".5"))
    way = "half a level lighter" if at < level else "half a level deeper"
    for _ in range(round(abs(level - at) * 2)):
        stepper.get_by_role("button", name=way).click()
    expect(words).to_have_text(str(level))


def led_by(shown, words, why):
    """The wish and the answer lead with the words; nothing stands that could be mixed."""
    page = shown.page
    expect(page.locator(".wish-verdict")).to_have_text(f"{words}.")
    shown.button("What to mix").click()
    expect(page.locator(".mix-first")).to_have_text(f"{words}.")
    expect(page.locator("#mix .notice")).to_contain_text(why)
    expect(shown.button("Mix this")).to_have_count(0)
    expect(shown.mixes).to_have_count(0)
    expect(page.locator(".mix-found")).to_have_count(0)
    expect(page.locator("[data-strip]")).to_have_count(0)
    expect(page.get_by_text("surest first")).to_have_count(0)
    expect(page.get_by_text("closest first")).to_have_count(0)
    expect(shown.button("Change the wish")).to_be_enabled()


@pytest.mark.parametrize("size", in_turn([PHONE, DESK]), ids=str)
def test_natural_hair_too_deep_for_the_wish_is_lifted_first(visit, size):
    shown = visit(size).open()
    hair_of_level(shown, 5, "left natural")
    to_the_answer(shown, 9, "beige")
    led_by(shown, "Lift first, to level 9", "lift first, or wish for something warmer")
    shown.button("Go to the hair").click()
    expect(shown.page.get_by_role("radiogroup", name="Level and warmth")).to_be_visible()


def test_hair_that_a_mask_made_too_violet_is_washed_first(visit):
    shown = visit().open()
    put_on(shown, "Quilt Violet mask")
    to_the_answer(shown, 10, "beige")
    led_by(shown, "Wash first", "clarifying shampoo")


def test_hair_under_a_permanent_has_its_colour_taken_off_first(visit):
    shown = visit().open()
    put_on(shown, "Cobble 8 violet")
    later = shown.page.get_by_role("button", name="a minute more")
    for _ in range(27):
        later.click()
    to_the_answer(shown, 10, "beige")
    led_by(shown, "Take the colour off first", "look again")


def test_hair_that_has_the_wished_colour_is_left_as_it_is(visit):
    shown = visit().open()
    hair_of_level(shown, 7, "left natural")
    to_the_answer(shown, 7, "natural")
    led_by(shown, "It is there already", "A mix would change nothing that one could see")


def test_a_mix_that_stood_there_goes_when_the_hair_cannot_take_it(visit):
    shown = visit().to_the_strip("beige")
    expect(shown.page.locator("[data-strip]")).to_have_count(1)
    shown.fold("hair").click()
    put_on(shown, "Quilt Violet mask")
    expect(shown.fold("mix")).to_contain_text("Wash first")
    shown.fold("strip").click()
    expect(shown.page.get_by_text("there is no strip without a mix")).to_be_visible()
    expect(shown.page.locator("[data-strip]")).to_have_count(0)
    shown.button("Back to what to mix").click()
    expect(shown.page.locator(".mix-first")).to_have_text("Wash first.")


def test_a_service_offers_no_mix_either(visit):
    service = Service(visit()).open().of_a_new_client()
    service.radio("pearl").button("Next: the hair")
    hair_of_level(service.visit, 5, "left natural")
    service.button("What to mix")
    expect(service.page.locator(".mix-first")).to_contain_text("Lift first, to level")
    expect(service.page.get_by_role("button", name="Mix this")).to_have_count(0)
    expect(service.visit.mixes).to_have_count(0)
    service.button("Change the wish")
    expect(service.page.locator(".wish-verdict")).to_contain_text("Lift first, to level")
    expect(service.visit.fold("mix")).to_contain_text("Lift first, to level")


def test_a_mix_that_hardly_any_head_would_take_is_not_led_by(visit):
    shown = visit().open()
    to_the_answer(shown, 9, "beige")
    shown.unfold("More about this wish")
    shown.radio("very close", "Close enough is").click()
    led_by(shown, "No mix is likely to land", "Fewer than 1 in 10 heads like this would land")
