"""From opening the page to reading a strip: by touch, by keyboard, by ear."""

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_room_for_a_thumb import TOO_WIDE
from visit import DESK, PHONE
from waiting import once

MOST_TAPS = 8
# Whether what to weigh stands above the strip.
WEIGHED_FIRST = """() => {
  const [weighed, strip] = [".recipe", "[data-strip]"].map((one) => document.querySelector(one));
  return weighed && strip &&
    weighed.getBoundingClientRect().bottom <= strip.getBoundingClientRect().top;
}"""


def test_eight_taps_lead_from_opening_to_a_minute_of_the_strip(visit):
    shown = visit(device_scale_factor=2, is_mobile=True)
    shown.open()
    taps = 0

    def tap(target):
        nonlocal taps
        target.tap()
        taps += 1

    tap(shown.page.get_by_role("radio", name="level 9, yellow, warmer", exact=True))
    tap(shown.radio("porous", "Porosity"))
    tap(shown.button("Next: the wish"))
    tap(shown.radio("beige", "Tone"))
    tap(shown.button("What to mix"))
    expect(shown.mixes.first).to_be_attached()
    tap(shown.button("Mix this"))
    expect(shown.minute).to_be_visible()
    before = shown.minute.get_attribute("aria-valuetext")
    tap(shown.minute)
    expect(shown.minute).not_to_have_attribute("aria-valuetext", before)
    assert taps <= MOST_TAPS


@pytest.mark.parametrize("size", in_turn([(390, 844), (1280, 800)]), ids=str)
def test_the_keyboard_alone_leads_to_the_strip_and_over_its_minutes(visit, size):
    shown = visit(size)
    shown.open()
    page = shown.page

    def tab_to(target):
        for _ in range(80):
            page.keyboard.press("Tab")
            if target.evaluate("element => element === document.activeElement"):
                assert target.evaluate("element => element.matches(':focus-visible')")
                return
        pytest.fail(f"Tab never came to {target}")

    tab_to(page.get_by_role("radio", name="level 10, palest yellow, usual", exact=True))
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    expect(page.locator("[role=radio][aria-checked=true]")).to_be_focused()
    expect(page.locator("[role=radio][aria-checked=true]")).to_have_accessible_name(
        "level 9, yellow, warmer"
    )
    tab_to(shown.radio("usual", "Porosity"))
    page.keyboard.press("ArrowRight")
    expect(shown.radio("porous", "Porosity")).to_be_checked()
    tab_to(shown.button("Next: the wish"))
    page.keyboard.press("Enter")
    expect(page.locator("#wish-heading")).to_be_focused()
    tab_to(shown.radio("natural", "Tone"))
    page.keyboard.press("Space")
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    expect(shown.radio("pearl", "Tone")).to_be_checked()
    tab_to(shown.button("What to mix"))
    page.keyboard.press("Enter")
    expect(shown.mixes.nth(1)).to_be_attached()
    other = page.locator(".way-take").first
    tubes = other.locator(".way-text > :nth-child(2)").inner_text().partition(": ")[2]
    tab_to(other)
    page.keyboard.press("Enter")
    # It is the answer now, and the next key goes on from there.
    expect(page.locator(".answer-rows > li").first).to_contain_text(
        tubes.split(", ")[0].split()[-1]
    )
    expect(page.locator(".answer")).to_be_focused()
    if not shown.wide:
        tab_to(shown.button("Mix this"))
        page.keyboard.press("Enter")
    expect(shown.minute).to_be_visible()
    tab_to(shown.minute)
    page.keyboard.press("ArrowRight")
    expect(shown.minute).to_have_attribute("aria-valuenow", "1")
    page.keyboard.press("End")
    expect(shown.minute).to_have_attribute(
        "aria-valuenow", shown.minute.get_attribute("aria-valuemax")
    )


def test_the_strip_reads_as_a_sentence_a_minute(visit, memory):
    shown = visit(memory=memory).open()
    answered = shown.strip_from_the_api()
    shown.minute.focus()
    shown.page.keyboard.press("Home")
    heard = []
    for at in answered["strip"]:
        expect(shown.minute).to_have_attribute("aria-valuenow", str(at["minute"]))
        heard.append(shown.minute.get_attribute("aria-valuetext"))
        assert heard[-1].startswith(f"Minute {at['minute']}, ")
        assert heard[-1].endswith(
            f"On the head {at['on_head']['words']}; wiped {at['wiped']['words']};"
            f" dry if rinsed now {at['if_rinsed']['words']}."
        )
        shown.page.keyboard.press("ArrowDown")
    assert len(set(heard)) == len(heard) > 1
    window = answered["window"]
    for minute, stage in (
        (window["earliest"] - 1, "too early"),
        (window["earliest"], "good"),
        (window["best"], "best"),
        (window["latest"], "good"),
        (window["latest"] + 1, "too late"),
    ):
        assert heard[minute].startswith(f"Minute {minute}, {stage}. ")


def test_the_strip_is_a_plan_that_gives_no_order_and_keeps_what_counts_in_sight(visit):
    shown = visit(PHONE).to_the_strip()
    page = shown.page
    window = shown.strip_from_the_api()["window"]
    expect(page.locator(".order-words")).to_have_text(f"Rinse at {window['best']}")
    expect(page.locator(".order")).to_contain_text(f"{window['earliest']} to {window['latest']}")
    # What to weigh comes before the strip, and no clock runs that an order could be for.
    once(lambda: page.evaluate(WEIGHED_FIRST), bool)
    for words in ("Wait", "Look again", "Rinse now"):
        expect(page.locator("main").get_by_text(words)).to_have_count(0)
    dry = page.locator(".reading-kept div", has_text="dry, if rinsed")
    for key in ("Home", "End"):
        shown.minute.press(key)
        # The bar stands under what scrolls and hides nothing of it.
        expect(dry).to_be_in_viewport(ratio=0.99)


def test_the_bar_says_what_a_wish_still_lacks(visit):
    shown = visit().to_the_wish()
    expect(shown.button("Tap a tone first")).to_be_disabled()
    shown.radio("a reading", "Wish by").click()
    expect(shown.button("Type the reading first")).to_be_disabled()
    for name, text in (("L*", "72"), ("a*", "2"), ("b*", "8")):
        shown.page.get_by_role("textbox", name=name).fill(text)
    expect(shown.button("What to mix")).to_be_enabled()


# The boxes of the acts of the bar at twice the text, and which of them lie on one another.
OVER_AT_TWICE_THE_TEXT = """() => {
  document.documentElement.style.fontSize = "200%";
  const acts = [...document.querySelectorAll(".bar button")].map((one) => {
    const { left, top, right, bottom } = one.getBoundingClientRect();
    return { left, top, right, bottom, words: one.innerText };
  });
  return { count: acts.length, over: acts.flatMap((one, at) => acts.slice(at + 1).filter((other) =>
    one.right > other.left + 1 && other.right > one.left + 1 &&
    one.bottom > other.top + 1 && other.bottom > one.top + 1
  ).map((other) => `${one.words} on ${other.words}`)) };
}"""


@pytest.mark.parametrize("size", in_turn([PHONE, (320, 640), (844, 390), DESK]))
def test_the_plan_and_the_steps_of_its_minutes_have_room_in_letters_twice_as_large(visit, size):
    shown = visit(size).to_the_strip()
    acts = shown.page.evaluate(OVER_AT_TWICE_THE_TEXT)
    assert acts["count"] >= 4
    assert acts["over"] == []
    assert shown.page.evaluate(TOO_WIDE) == []
    if not shown.wide:
        shown.fold("mix").click()
    expect(shown.mixes.first).to_be_visible()
    assert shown.page.evaluate(TOO_WIDE) == []


def test_other_hair_under_the_same_mix_is_named_above_its_strips(visit):
    shown = visit().to_the_strip()
    names = shown.page.locator(".strip-legend li")
    expect(names).to_have_count(0)
    shown.button("more porous").click()
    expect(names).to_have_text(["1 this hair", "2 more porous"])
    assert shown.page.evaluate(
        """() => {
          const [legend, strip] = [".strip-legend", "[data-strip]"].map((one) =>
            document.querySelector(one).getBoundingClientRect());
          return legend.bottom <= strip.top && legend.left >= 0 && legend.right <= innerWidth;
        }"""
    )
