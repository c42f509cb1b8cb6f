"""Help, the alert test and the reaction are read by everybody: contrast, zoom, keyboard, names.

Sources: WCAG 2.2, 1.4.6 Contrast (Enhanced), 7:1, with its definitions of contrast ratio and
relative luminance (threshold 0.04045, as sRGB has it); 1.4.10 Reflow, 320 px; 1.4.4 Resize Text,
200 %, here on a phone of 390 px, which is 195 px wide; axe-core for names and roles. Large text may
by WCAG be fainter; wet hands and bad light are why none may be here.
"""

import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_alert_test import begun
from test_read_by_all import found_by_axe
from test_room_for_a_thumb import TARGET_PX, TOO_SMALL, TOO_WIDE
from test_service import Service
from visit import PHONE

LEAST_CONTRAST = 7
NARROW = ((320, 640), (195, 422))

# The colours of each text that is shown: its own, and the opaque ground under it.
TEXT_COLOURS = """() => {
  const parsed = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const ground = (one) => {
    for (let under = one; under; under = under.parentElement) {
      const [r, g, b, alpha = 1] = parsed(getComputedStyle(under).backgroundColor);
      if (alpha === 1) return [r, g, b];
    }
    return [255, 255, 255];
  };
  const opacity = (one) => {
    let all = 1;
    for (let up = one; up; up = up.parentElement) all *= Number(getComputedStyle(up).opacity);
    return all;
  };
  const inside = document.querySelector("dialog[open]") ?? document.querySelector("main");
  const walker = document.createTreeWalker(inside, NodeFilter.SHOW_TEXT);
  const found = [];
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    const one = text.parentElement;
    if (!text.data.trim() || !one.checkVisibility() || one.closest(".unseen, svg")) continue;
    const [r, g, b] = parsed(getComputedStyle(one).color);
    found.push({ text: text.data, on: ground(one), ink: [r, g, b], opacity: opacity(one) });
  }
  return found;
}"""


def luminance(rgb):
    """WCAG 2.2, relative luminance: sRGB, each channel from 0 to 255."""
    shares = [channel / 255 for channel in rgb]
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(ink, on, opacity=1):
    """WCAG 2.2, contrast ratio: (L1 + 0.05) / (L2 + 0.05), the lighter first."""
    mixed = [i * opacity + o * (1 - opacity) for i, o in zip(ink, on, strict=True)]
    high, low = sorted((luminance(mixed), luminance(on)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def faint(page):
    texts = page.evaluate(TEXT_COLOURS)
    assert len(texts) > 5
    return {
        one["text"]: round(contrast(one["ink"], one["on"], one["opacity"]), 2)
        for one in texts
        if contrast(one["ink"], one["on"], one["opacity"]) < LEAST_CONTRAST
    }


def new_test(shown):
    begun(shown)
    return shown.page


def waiting_test(shown):
    service = begun(shown)
    service.radio("behind the ear").button("It is on")
    expect(shown.page.get_by_role("list", name="What a spot can show")).to_be_visible()
    return shown.page


def reacted_test(shown):
    page = waiting_test(shown)
    page.get_by_role("radio", name="blisters").check(force=True)
    page.get_by_label("Read by, by name").fill("Ana")
    page.get_by_role("button", name="Keep the reading").tap()
    expect(page.get_by_text("Do not colour with this line.")).to_be_visible()
    return page


def on_the_head(shown):
    service = Service(shown).open().of_a_new_client()
    service.to_the_clock()
    return service


def a_reaction(shown):
    page = on_the_head(shown).page
    page.get_by_role("link", name="It tingles or burns").tap()
    page.get_by_role("button", name="Start 20 minutes").tap()
    page.get_by_role("checkbox", name="breathing is hard").check(force=True)
    expect(page.get_by_role("alert")).to_be_visible()
    return page


def the_tests(shown):
    page = waiting_test(shown)
    page.goto(f"{shown.address}/#/tests")
    expect(page.get_by_role("heading", name="Alert tests")).to_be_visible()
    return page


def near_the_rinse(shown):
    shown.page.clock.install()
    page = on_the_head(shown).page
    page.clock.fast_forward("06:30")
    expect(page.get_by_role("region", name="Your hands and the air")).to_be_visible()
    return page


def a_question_and_a_stop(shown):
    service = Service(shown).open().of_a_new_client()
    service.tap(shown.page.locator("#safety .fold-line"))
    question = shown.page.get_by_role("region", name="Question")
    expect(
        question.get_by_role("heading", name="Ever had a temporary black tattoo?")
    ).to_be_visible()
    service.button("Yes, it reacted")
    expect(shown.page.get_by_text("black tattoo", exact=False).first).to_be_visible()
    expect(question.locator("[aria-disabled=true]")).to_have_count(0)
    return shown.page


SCREENS = [a_question_and_a_stop, new_test, waiting_test, reacted_test, the_tests, a_reaction]


def test_the_formula_gives_the_ratios_of_the_standard():
    # WCAG: black on white is 21:1; #777 on white, 4.48:1, is a value from memory.
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((119, 119, 119), (255, 255, 255)) == pytest.approx(4.48, abs=0.005)
    assert contrast((0, 0, 0), (255, 255, 255), opacity=0.5) < LEAST_CONTRAST


@pytest.mark.parametrize("screen", in_turn(SCREENS, 2))
def test_every_word_stands_out_and_axe_finds_nothing(visit, screen):
    page = screen(visit(PHONE, bypass_csp=True))
    help_button = page.get_by_role("button", name=re.compile("^Help"))
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        assert faint(page) == {}, theme
        assert found_by_axe(page) == [], theme
        # Help over it, and the focus in it and back.
        help_button.focus()
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", name="Help")).to_be_focused()
        assert faint(page) == {}, theme
        page.keyboard.press("Escape")
        expect(help_button).to_be_focused()
    assert page.evaluate(TOO_SMALL, TARGET_PX)["small"] == []


def test_axe_finds_nothing_where_hands_are_spoken_of(visit):
    page = near_the_rinse(visit(bypass_csp=True))
    assert found_by_axe(page) == []
    assert page.evaluate(TOO_SMALL, TARGET_PX)["small"] == []
    assert page.evaluate(TOO_WIDE) == []


def test_a_faint_word_is_seen(visit):
    page = new_test(visit())
    page.evaluate("document.querySelector('main h2').style.color = '#777'")
    assert "Alert test for " in faint(page)


@pytest.mark.parametrize("screen", in_turn(SCREENS, 2))
def test_no_screen_scrolls_sideways_when_it_is_narrow_or_zoomed(visit, screen):
    page = screen(visit(PHONE))
    card = page.get_by_role("dialog", name="Help")
    for width, height in NARROW:
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate(TOO_WIDE) == [], width
        page.get_by_role("button", name=re.compile("^Help")).tap()
        expect(card).to_be_visible()
        assert page.evaluate(TOO_WIDE) == [], width
        card.get_by_role("button", name="Close").tap()
