"""The wish as a field: by finger, by buttons and by keys; hatched where the shelf cannot land."""

import json
import urllib.request

import pytest
from playwright.sync_api import expect

WHY = {"lift_first", "wash_first", "no_product"}


def field(shown):
    """Opens the field of somebody whose hair was said."""
    shown.to_the_wish()
    shown.button("Slide over a field").click()
    area = shown.page.get_by_test_id("wish-field")
    expect(area).to_be_visible()
    return area


def level(shown):
    return shown.page.get_by_role("slider", name="Level of the wish")


def tone(shown):
    return shown.page.get_by_role("slider", name="Tone of the wish")


def says(shown, level_words, tone_words):
    expect(level(shown)).to_have_attribute("aria-valuetext", level_words)
    expect(tone(shown)).to_have_attribute("aria-valuetext", tone_words)


def test_steps_and_arrow_keys_choose_what_sliding_chooses_and_words_show_it(visit):
    shown = visit()
    field(shown)
    shown.button("Warmer").click()
    says(shown, "level 10", "beige")
    shown.button("Cooler").click()
    shown.button("Deeper").click()
    says(shown, "level 9½", "beige with pearl")
    level(shown).focus()
    for key in ("ArrowUp", "ArrowRight", "ArrowRight"):
        shown.page.keyboard.press(key)
    says(shown, "level 10", "natural with beige")
    tone(shown).focus()
    for key in ("ArrowDown", "ArrowLeft"):
        shown.page.keyboard.press(key)
    says(shown, "level 9½", "beige")
    expect(shown.page.locator(".wish-match")).to_contain_text("level 9½, beige")
    shown.button("Tap words instead").click()
    expect(shown.radio("beige", "Tone")).to_be_checked()


def test_the_wish_follows_a_finger_from_56_px_below_the_ring(visit):
    shown = visit()
    area = field(shown)
    page = shown.page
    area.scroll_into_view_if_needed()
    box = area.bounding_box()
    cell = box["height"] / 7

    def at(column, row):
        return {
            "x": box["x"] + box["width"] * (column + 0.5) / 5,
            "y": box["y"] + cell * (row + 0.5) + 56,
        }

    touch = page.context.new_cdp_session(page)
    with page.expect_response("**/api/formulations"):
        touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [at(0, 1)]})
        for step in range(1, 9):
            points = [at(step / 4, 1 + step / 4)]
            touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": points})
        touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    says(shown, "level 9", "beige")
    # The ring is where the finger was, less 56 px: measured from the field, wherever that is now.
    at_px = page.get_by_test_id("wish-ring").evaluate(
        """ring => {
          const [mark, field] = [ring, ring.parentElement].map((e) => e.getBoundingClientRect());
          return [mark.x + mark.width / 2 - field.x, mark.y + mark.height / 2 - field.y];
        }"""
    )
    assert at_px == pytest.approx([box["width"] * 2.5 / 5, cell * 3.5], abs=2)


def test_what_is_hatched_is_what_the_shelf_cannot_land_and_nothing_is_asked_twice(visit):
    shown = visit()
    questions = []
    shown.open()
    shown.page.on(
        "request", lambda r: questions.append(r.post_data) if r.url.endswith("/reaches") else None
    )
    area = field(shown)
    # The finest answer is the last.
    expect(area.locator('[data-cell="7.5 gold"][data-why]')).to_be_attached()
    expect(area).to_have_attribute("aria-busy", "false")
    asked = {tuple(json.loads(question)["levels"]): question for question in questions}
    assert list(asked) == [(10, 9, 8), (10.5, 9.5, 8.5, 7.5)]
    told = {}
    for question in questions:
        request = urllib.request.Request(
            f"{shown.address}/api/reaches", question.encode(), {"content-type": "application/json"}
        )
        with urllib.request.urlopen(request) as reply:
            for reach in json.load(reply)["reaches"]:
                told[f"{reach['level']:g} {reach['tone']}"] = reach.get("why")
    assert set(told.values()) - {None} <= WHY
    assert {None} < set(told.values())
    drawn = area.evaluate(
        "area => Object.fromEntries([...area.querySelectorAll('[data-cell]')]"
        ".map(({ dataset }) => [dataset.cell, dataset.why ?? null]))"
    )
    assert drawn == told
    # What was asked once is not asked again.
    shown.radio("rosier", "Field").click()
    expect(area.locator('[data-cell="10 copper"]')).to_be_attached()
    expect(area).to_have_attribute("aria-busy", "false")
    shown.radio("even", "Field").click()
    expect(area.locator('[data-cell="10 beige"]')).to_be_attached()
    shown.button("Warmer").click()
    says(shown, "level 10", "beige")
    expect(shown.page.locator(".field-mix[aria-busy=false]")).to_be_visible()
    assert len(questions) == 4


def test_words_serve_where_letters_are_twice_as_large(visit):
    shown = visit()
    field(shown)
    shown.page.evaluate("document.documentElement.style.fontSize = '200%'")
    expect(shown.page.get_by_test_id("wish-field")).to_be_hidden()
    expect(shown.radio("beige", "Tone")).to_be_visible()
    shown.radio("beige", "Tone").click()
    expect(shown.radio("beige", "Tone")).to_be_checked()
