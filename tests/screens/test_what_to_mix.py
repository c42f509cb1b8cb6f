"""What is said of each mix, two beside each other, and what wish, hair and limits ask for."""

import json
import re

import pytest
from playwright.sync_api import expect
from test_service import TAP_TWICE, Service
from visit import PHONE
from waiting import once

LINES = """cards => cards.map(card => [...card.querySelectorAll(".way-text > *")].reduce(
    (lines, part) => lines + Math.round(
        part.getBoundingClientRect().height / parseFloat(getComputedStyle(part).lineHeight)
    ), 0))"""

# What each row of the comparison says of the one mix and of the other.
PAIRS = "rows => rows.map(row => [...row.querySelectorAll('td')].map(cell => cell.innerText))"


def asked(shown):
    """The question that the mixes answer."""
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
    """Wishes for a tone a level lighter than the hair, and goes to the mixes."""
    shown.to_the_wish().radio(tone, "Tone").click()
    for _ in range(2):
        shown.button("half a level lighter").click()
    shown.button("What to mix").click()
    expect(shown.mixes.first).to_be_attached()
    return shown


def all_ways(shown):
    """The other ways, those in the fold with them."""
    expect(shown.page.locator(".ways-more > summary").first).to_be_visible()
    for summary in shown.page.locator(".ways-more > summary").all():
        summary.click()
    return shown.page.locator(".way-text")


def test_each_mix_names_its_class_and_the_thing_to_choose_it_by(visit):
    shown = visit().to_the_mix("pearl")
    expect(shown.mixes.first).to_contain_text(re.compile("Acid demi, \\w+"))
    ways = all_ways(shown)
    expect(ways.filter(has_text="Lasts longest · permanent")).to_be_visible()
    named = [way.split("\n")[0] for way in ways.all_inner_texts()]
    assert len(named) >= 3
    assert len(set(named)) == len(named)
    assert all(" · " in words for words in named)
    expect(shown.page.locator(".mix-found")).not_to_contain_text("white")


def test_the_answer_and_three_other_ways_are_in_sight_on_a_phone(visit):
    shown = visit(PHONE).to_the_mix("pearl")
    expect(shown.mixes.nth(3)).to_be_attached()
    # The bar stands under what scrolls and hides nothing of it. A page scrolls by whole pixels.
    for place in range(4):
        expect(shown.mixes.nth(place)).to_be_in_viewport(ratio=0.99)
    # A permanent opens lifted hair for nothing: it is one more tap away.
    expect(shown.page.get_by_text("Permanent: 1 mix")).to_be_attached()
    ways = shown.page.locator(".way")
    once(lambda: ways.evaluate_all(LINES), lambda lines: lines and max(lines) <= 3)


def test_a_mix_says_of_white_hair_and_why_tells_of_a_stronger_developer(visit):
    shown = to_its_mix(half_white(visit()))
    answer = shown.mixes.first
    expect(answer).to_contain_text("Permanent, best cover, covers white")
    expect(all_ways(shown).filter(has_text="blends white").first).to_be_visible()
    shown.unfold("Why, and what it costs")
    expect(answer).to_contain_text("12 % lifts 1 level more, and is harder on skin and hair.")


def weighed(shown):
    """The answer's rows, as they are on the screen."""
    expect(shown.page.locator(".answer-rows")).to_be_visible()
    return shown.page.locator(".answer-rows > li").all_inner_texts()


def test_a_way_that_is_tapped_becomes_the_answer(visit):
    shown = visit().to_the_mix("pearl")
    before = weighed(shown)
    shown.page.locator(".way-take").first.tap()
    expect(shown.page.locator(".answer-rows > li").first).not_to_have_text(before[0])
    expect(shown.page.locator(".answer")).to_be_focused()
    # What was the answer is another way now: nothing is lost by looking.
    expect(shown.page.locator(".way-text", has_text="Gentlest").first).to_be_visible()
    after = weighed(shown)
    shown.button("Mix this").tap()
    grams = [row.split("\xa0")[0] for row in after]
    rows = shown.page.locator(".recipe li strong")
    expect(rows).to_have_count(len(after))
    assert [row.split("\xa0")[0] for row in rows.all_inner_texts()] == grams


def test_the_second_tap_of_a_wet_glove_mixes_nothing(visit):
    service = Service(visit()).open().of_a_new_client()
    service.radio("pearl").button("Next: the hair").button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.tap(service.visit.fold("hair"))
    to_the_mix = service.visit.button("What to mix")
    # Its answer is there already, so what comes under the finger could be tapped at once.
    assert to_the_mix.evaluate(TAP_TWICE, 200) == ["Mix this", True]
    # A key is meant at once. Had the tap before it counted, there were nothing left to mix.
    service.visit.button("Mix this").press("Enter")
    expect(service.visit.button("Another mix instead")).to_be_visible()
    taken = [op["fields"] for op in service.records("outbox") if op["fields"].get("mix")]
    assert len(taken) == 1


def test_two_mixes_are_compared_under_the_wish_by_what_differs(visit):
    shown = visit().to_the_mix("pearl")
    page = shown.page
    expect(shown.button("Compare")).to_have_count(0)
    page.get_by_role("checkbox").first.tap()
    shown.button("Compare").tap()
    expect(page.get_by_role("heading", name="Compare")).to_be_focused()
    # Both patches touch the wish's and each other: the eye compares them and no grey between.
    wish, left, right = (
        page.locator(".compare-patches .patch-colour").nth(place).bounding_box()
        for place in range(3)
    )
    assert left["y"] == right["y"] == wish["y"] + wish["height"]
    assert left["x"] == wish["x"]
    assert right["x"] == left["x"] + left["width"]
    expect(page.locator(".compare-seen")).to_contain_text("difference")
    rows = page.locator(".compare-table tbody tr")
    expect(rows.filter(has_text="class")).to_contain_text("acid demi")
    for said, other in rows.evaluate_all(PAIRS):
        assert said != other
    names = page.locator(".compare-table thead th").all_inner_texts()
    assert len(names) == 2
    takes = page.get_by_role("button", name=re.compile("^Take "))
    line = names[1].split("\n")[0]
    assert takes.nth(1).inner_text() == f"Take {line}"
    takes.nth(1).tap()
    expect(page.locator(".answer-rows")).to_contain_text(line)
    expect(shown.button("Compare")).to_have_count(0)


def test_a_third_tick_takes_the_place_of_the_first_and_back_leaves_the_answer(visit):
    shown = visit().to_the_mix("pearl")
    page = shown.page
    before = weighed(shown)
    ticks = page.get_by_role("checkbox")
    for place in range(3):
        ticks.nth(place).tap()
    expect(ticks.nth(0)).not_to_be_checked()
    expect(ticks.nth(2)).to_be_checked()
    shown.button("Compare").tap()
    expect(page.locator(".compare-table")).to_be_visible()
    shown.button("Back").tap()
    expect(page.locator(".answer")).to_be_visible()
    assert weighed(shown) == before


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
    expect(shown.mixes.first).to_contain_text("developer 12\xa0%")
    assert asked(shown)["limits"]["developer_percent"] == 12


@pytest.mark.parametrize(
    ("lean", "pair"), [("cooler, with ash", ["beige", "ash"]), ("warmer, with gold", None)]
)
def test_a_second_tone_takes_one_tap(visit, lean, pair):
    shown = visit().to_the_wish()
    shown.radio("beige", "Tone").click()
    shown.radio(lean, "This beige").click()
    shown.button("What to mix").click()
    expect(shown.mixes.first).to_be_attached()
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
