"""Help: one tap from every screen, there before anything else, and readable by everybody.

Sources: WCAG 2.2, 1.4.6 Contrast (Enhanced) asks for 7:1, 1.4.4 Resize Text for 200 %, 1.4.10
Reflow for 320 px; what the card says names its own sources (web/src/screens/help/first_aid.ts).
"""

import datetime as dt
import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_read_by_all import AXE, found_by_axe
from test_room_for_a_thumb import TARGET_PX, TOO_SMALL, TOO_WIDE
from visit import DESK, PHONE

SIGNS = (
    "Something in the eye",
    "Swelling, or trouble breathing",
    "Skin burns or hurts",
    "A hot foil",
)
BEGUN = dt.datetime(2026, 11, 25, 10, tzinfo=dt.UTC)
NARROW = (320, 640)
ZOOMED = (640, 400)

# WCAG lets large text be fainter; at the basin none may be.
AXE_CONTRAST = """async () => {
  const alike = { contrastRatio: { normal: { expected: 7 }, large: { expected: 7 } } };
  axe.configure({ checks: [{ id: "color-contrast-enhanced", options: alike }] });
  const { violations, passes } = await axe.run("dialog",
    { runOnly: ["color-contrast-enhanced"] });
  return {
    looked_at: passes.flatMap(({ nodes }) => nodes).length,
    faint: violations.flatMap(({ nodes }) => nodes.map((node) => node.failureSummary)),
  };
}"""


def help_of(shown):
    return shown.page.get_by_role("button", name=re.compile("^Help"))


def opened(shown):
    help_of(shown).click()
    card = shown.page.get_by_role("dialog", name="Help")
    expect(card).to_be_visible()
    return card


def sign(card, words):
    return card.locator("details", has_text=words).first


@pytest.mark.parametrize("size", in_turn([PHONE, DESK]), ids=str)
def test_help_is_one_tap_from_every_screen_and_gives_it_back(visit, memory, size):
    shown = visit(size, memory)
    for screen in shown.every_screen():
        card = opened(shown)
        for words in SIGNS:
            expect(card.get_by_text(words), screen).to_be_visible()
        card.get_by_role("button", name="Close").click()
        expect(card).to_be_hidden()


def test_help_opens_with_no_answer_and_no_signal(visit):
    shown = visit()
    # Nothing but the page's own files ever comes, and then not even those.
    shown.page.route("**/api/**", lambda route: route.abort())
    shown.open()
    shown.page.context.set_offline(True)
    card = opened(shown)
    expect(card.get_by_role("link", name="Call 112")).to_be_visible()
    expect(card.get_by_text("or your local emergency number")).to_be_visible()


@pytest.mark.parametrize(
    ("country", "number"),
    [("the European Union", "112"), ("the United Kingdom", "999"), ("the United States", "911")],
)
def test_the_number_is_the_one_of_the_country(visit, country, number):
    shown = visit().open()
    shown.page.get_by_role("link", name="Settings").click()
    shown.radio(country).click()
    card = opened(shown)
    call = card.get_by_role("link", name=f"Call {number}")
    expect(call).to_have_attribute("href", f"tel:{number}")
    expect(card.get_by_text("local emergency number")).to_have_count(0)
    expect(sign(card, "trouble breathing")).to_contain_text(f"Call {number}.")


def test_rinsing_starts_with_one_tap_and_outlives_a_reload(visit):
    shown = visit()
    shown.page.clock.set_fixed_time(BEGUN)
    shown.open()
    card = opened(shown)
    card.get_by_text("Something in the eye").tap()
    card.get_by_role("button", name="Start 20 minutes").tap()
    expect(card.get_by_role("timer")).to_have_text("20:00")
    shown.page.clock.set_fixed_time(BEGUN + dt.timedelta(minutes=5, seconds=1))
    expect(card.get_by_role("timer")).to_have_text("14:59")

    shown.page.reload()
    expect(help_of(shown)).to_contain_text("14:59")
    card = opened(shown)
    card.get_by_text("Something in the eye").tap()
    card.get_by_role("button", name="Stop the timer").tap()
    expect(card).to_contain_text("Stopped after 5:01")
    card.get_by_role("button", name="Go on").tap()
    shown.page.clock.set_fixed_time(BEGUN + dt.timedelta(minutes=20))
    over = card.get_by_role("status").filter(has_text="20 minutes are over")
    expect(over).to_contain_text("medical care, with the product or its label")


def test_the_page_shows_no_hue_until_help_is_open(visit):
    shown = visit().open()
    hues = """() => [...document.querySelectorAll("body *")]
      .filter((one) => one.checkVisibility() && !one.closest("[class*=patch], [class*=level]"))
      .flatMap((one) => {
        const { color, backgroundColor, borderTopColor } = getComputedStyle(one);
        return [color, backgroundColor, borderTopColor];
      })
      .map((colour) => colour.match(/[\\d.]+/g).map(Number))
      .filter(([r, g, b, alpha = 1]) => alpha > 0 && (r !== g || g !== b)).length"""
    shown.page.goto(f"{shown.address}/#/settings")
    expect(shown.page.get_by_role("heading", name="Settings")).to_be_visible()
    assert shown.page.evaluate(hues) == 0
    opened(shown)
    assert shown.page.evaluate(hues) > 0


@pytest.mark.parametrize("theme", in_turn(["light", "dark"]))
def test_everybody_can_read_the_card(visit, theme):
    shown = visit(PHONE, color_scheme=theme, bypass_csp=True).open()
    card = opened(shown)
    for words in SIGNS:
        sign(card, words).locator("summary").click()
        expect(sign(card, words).locator("ol")).to_be_visible()
        assert found_by_axe(shown.page) == []
        contrast = shown.page.evaluate(AXE_CONTRAST)
        assert contrast["looked_at"] > len(SIGNS)
        assert contrast["faint"] == []


def test_a_faint_word_on_the_card_is_seen(visit):
    shown = visit(PHONE, bypass_csp=True).open()
    card = opened(shown)
    shown.page.add_script_tag(path=AXE)
    card.evaluate("card => { card.querySelector('strong').style.color = '#666' }")
    assert len(shown.page.evaluate(AXE_CONTRAST)["faint"]) == 1


@pytest.mark.parametrize(("size", "scale"), in_turn([(NARROW, 1), (PHONE, 3), (ZOOMED, 2)]))
def test_the_card_has_room_for_a_thumb(visit, size, scale):
    shown = visit(size, device_scale_factor=scale).open()
    card = opened(shown)
    for words in SIGNS:
        sign(card, words).locator("summary").click()
        expect(sign(card, words).locator("ol")).to_be_visible()
        # The page behind is out of reach while the card is open, and measured elsewhere.
        assert shown.page.evaluate(TOO_SMALL, TARGET_PX)["small"] == []
        assert shown.page.evaluate(TOO_WIDE) == []
    card.get_by_role("button", name="Close").scroll_into_view_if_needed()
    expect(card.get_by_role("button", name="Close")).to_be_in_viewport()


def test_help_works_by_keyboard_and_is_named_for_a_reader(visit):
    shown = visit(DESK).open()
    help_of(shown).focus()
    shown.page.keyboard.press("Enter")
    card = shown.page.get_by_role("dialog", name="Help")
    expect(card.get_by_role("heading", name="Help")).to_be_focused()
    shown.page.keyboard.press("Tab")
    shown.page.keyboard.press("Enter")
    expect(sign(card, "Something in the eye").locator("ol")).to_be_visible()
    shown.page.keyboard.press("Escape")
    expect(card).to_be_hidden()
    expect(help_of(shown)).to_be_focused()
