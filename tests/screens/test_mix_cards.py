"""What the cards say before they are opened, and what the wish, the hair and limits ask for."""

import json
import re

import pytest
from playwright.sync_api import expect
from visit import PHONE

LINES = """cards => cards.map(card => [...card.querySelectorAll(".card-text > *")].reduce(
    (lines, part) => lines + Math.round(
        part.getBoundingClientRect().height / parseFloat(getComputedStyle(part).lineHeight)
    ), 0))"""


def asked(shown):
    """The question that the cards answer."""
    kept = shown.page.evaluate("localStorage.getItem('basinside.1.answer.formulas')")
    return json.loads(kept)["request"]


def half_white(shown):
    """Says that the hair is natural 7, half of it white."""
    shown.open()
    shown.unfold("More about this hair")
    shown.radio("left natural", "Before this mix it was").click()
    for _ in range(5):
        shown.button("more white").click()
    shown.page.get_by_role("radio", name="level 7, natural, usual", exact=True).click()
    return shown


def to_its_mix(shown, tone="beige"):
    """Wishes for a tone a level lighter than the hair, and goes to the cards."""
    shown.to_the_wish().radio(tone, "Tone").click()
    for _ in range(2):
        shown.button("half a level lighter").click()
    shown.button("What to mix").click()
    expect(shown.cards.first).to_be_attached()
    return shown


def test_each_card_names_its_class_and_the_thing_to_choose_it_by(visit):
    shown = visit().to_the_mix("pearl")
    expect(shown.cards.first).to_be_attached()
    named = shown.page.locator(".card-apart").all_inner_texts()
    assert len(named) >= 3
    assert len(set(named)) == len(named)
    assert any(words.startswith("Acid demi: ") for words in named)
    assert "Permanent: lasts longest" in named
    assert not any("white" in words for words in shown.page.locator(".card-text").all_inner_texts())


def test_three_cards_of_at_most_four_lines_are_in_sight_on_a_phone(visit):
    shown = visit(PHONE).to_the_mix("pearl")
    expect(shown.cards.nth(2)).to_be_attached()
    bar = shown.button("Mix this").bounding_box()
    for place in range(3):
        card = shown.page.locator(".card").nth(place).bounding_box()
        assert card["y"] >= 0
        assert card["y"] + card["height"] <= bar["y"]
    assert max(shown.page.locator(".card").evaluate_all(LINES)) <= 4


def test_a_card_says_of_white_hair_and_why_tells_of_a_stronger_developer(visit):
    shown = to_its_mix(half_white(visit()))
    first = shown.page.locator(".card").first
    expect(first).to_contain_text("covers white")
    expect(first.locator(".card-apart")).to_have_text("Permanent: best cover")
    expect(shown.page.locator(".card-text", has_text="blends white").first).to_be_visible()
    shown.unfold("Why, and what it costs")
    expect(first).to_contain_text("12 % lifts 1 level more, and is harder on skin and hair.")
    # Two tubes and one developer take four lines, three tubes one more.
    assert shown.page.locator(".card").evaluate_all(LINES)[0] <= 4


def test_resistance_is_asked_where_hair_is_white_and_goes_into_the_question(visit):
    shown = visit().open()
    shown.unfold("More about this hair")
    resists = shown.page.get_by_role("group", name="Its white hair takes colour")
    expect(resists).to_have_count(0)
    shown = half_white(shown)
    shown.radio("very resistant", "Its white hair takes colour").click()
    to_its_mix(shown)
    assert asked(shown)["hair"]["white_uptake"] == 0.6
    assert asked(shown)["hair"]["white_share"] == 0.5
    expect(shown.fold("hair")).to_contain_text("50 % resistant white")
    shown.page.reload()
    shown.fold("hair").click()
    shown.unfold("More about this hair")
    expect(shown.radio("very resistant")).to_be_checked()
    for _ in range(5):
        shown.button("less white").click()
    expect(resists).to_have_count(0)


def test_a_developer_is_chosen_among_those_the_leaflets_allow(visit):
    shown = to_its_mix(half_white(visit()))
    assert "developer_percent" not in asked(shown)["limits"]
    shown.unfold("Amount, products, developer")
    offered = shown.page.get_by_role("group", name=re.compile("^Developer, of those"))
    allowed = {p for product in asked(shown)["products"] for p in product["developer_percent"]}
    words = offered.locator("label").all_inner_texts()
    assert words == ["lowest that works", *(f"{p:g}\xa0%" for p in sorted(allowed))]
    assert max(allowed) <= 12
    offered.get_by_role("radio", name=re.compile(r"^12\s%$")).click()
    expect(shown.page.locator(".card-developer").first).to_contain_text("at 12\xa0%")
    assert asked(shown)["limits"]["developer_percent"] == 12
    for words in shown.page.locator(".card-developer").all_inner_texts():
        assert re.search(r"at 12\s%$", words)


@pytest.mark.parametrize(
    ("lean", "pair"), [("cooler, with ash", ["beige", "ash"]), ("warmer, with gold", None)]
)
def test_a_second_tone_takes_one_tap(visit, lean, pair):
    shown = visit().to_the_wish()
    shown.radio("beige", "Tone").click()
    shown.radio(lean, "This beige").click()
    shown.button("What to mix").click()
    expect(shown.cards.first).to_be_attached()
    assert asked(shown)["wish"]["tone"] == (pair or ["beige", "gold"])
    shown.fold("wish").click()
    shown.radio("as it is", "This beige").click()
    expect(
        shown.page.locator(".patch-words", has_text=re.compile("level 10, beige$"))
    ).to_be_visible()


def test_a_tone_that_contradicts_is_refused_in_words(visit):
    shown = visit().to_the_wish()
    shown.radio("gold", "Tone").click()
    shown.unfold("More about this wish")
    shown.radio("ash", "gold, with any other tone").click()
    expect(
        shown.page.get_by_text("Ash takes gold away. Wish for one of them.").first
    ).to_be_visible()
    expect(shown.radio("nothing else")).to_be_checked()
    expect(shown.page.locator(".patch-words", has_text="level 10, gold")).to_be_visible()
    shown.radio("cooler, with beige", "This gold").click()
    expect(shown.page.get_by_text("Ash takes gold away.")).to_have_count(0)
    # Another first tone drops a second that it contradicts, and says so.
    shown.radio("warmer, with copper", "This gold").click()
    shown.radio("ash", "Tone").click()
    expect(shown.page.get_by_text("The wish is ash alone now.").first).to_be_visible()
    expect(
        shown.page.locator(".patch-words", has_text=re.compile("level 10, ash$"))
    ).to_be_visible()


def test_a_deep_level_can_be_wished_for(visit):
    shown = visit().to_the_wish()
    shown.radio("natural", "Tone").click()
    for _ in range(12):
        shown.button("half a level deeper").click()
    expect(shown.page.locator(".patch-words", has_text="level 4, natural")).to_be_visible()
