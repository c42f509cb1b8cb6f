"""The colours a person sees are the colours the API gave, to one step of the screen.

Read back from a picture of the page: Chromium is told to draw in sRGB, so a pixel is the hex.
"""

import io
import json
import os
import subprocess
from itertools import product
from pathlib import Path

import pytest
from drawing import in_turn
from PIL import Image
from playwright.sync_api import expect
from visit import DESK, OTHER_HAIR, PHONE

WEB = Path(__file__).resolve().parents[2] / "web"
# One step of 8 bits: rounding alone.
MOST_STEPS_OFF = 1

LANES = {"on_head": (0, 0.42), "wiped": (0.42, 0.16), "if_rinsed": (0.58, 0.42)}
PARTS = {"cooler": 0.05, "colour": 0.5, "warmer": 0.95}

# All places in one look: what comes in between two looks would move the page.
PATCHES = """() => ({
  patches: [...document.querySelectorAll("[data-hex]")]
    .filter((patch) => patch.checkVisibility())
    .map((patch) => {
      const { x, y, width, height } = patch.getBoundingClientRect();
      return { hex: patch.dataset.hex, at: [x + width / 2, y + height / 2] };
    }),
  surround: document.querySelector(".live").getBoundingClientRect().y,
  bar: document.querySelector(".bar").getBoundingClientRect().y,
})"""


def picture_of(page):
    """A function from a place in CSS pixels to the colour drawn there, as 0-255 triples."""
    picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    scale = picture.width / page.viewport_size["width"]
    return lambda at: picture.getpixel((int(at[0] * scale), int(at[1] * scale)))


def drawn_in(page, drawn):
    """A box that stays where it is while its picture is taken, and that picture's colours."""
    box = None
    while box != (found := drawn.bounding_box()):
        box, pixel_at = found, picture_of(page)
    return box, pixel_at


def steps_off(pixel, hex_colour):
    wanted = bytes.fromhex(hex_colour.removeprefix("#"))
    return max(abs(seen - asked) for seen, asked in zip(pixel, wanted, strict=True))


def parts_of(colour):
    """The three colours of a lane at a minute, by the part of the lane that shows them."""
    cooler, warmer = sorted(colour["range"]["edges"], key=lambda edge: edge["lab"][2])
    return {"cooler": cooler["hex"], "colour": colour["hex"], "warmer": warmer["hex"]}


def cells_of(minutes, box):
    """The middle of every cell of a strip that is drawn in a box, by minute, lane and part."""
    upright = box["height"] > box["width"]
    along, across = ("height", "width") if upright else ("width", "height")
    for row, minute in enumerate(minutes):
        at_time = (row + 0.5) * box[along] / len(minutes)
        for lane, (start, share) in LANES.items():
            for part, place in PARTS.items():
                at_lane = (start + share * place) * box[across]
                x, y = (at_lane, at_time) if upright else (at_time, at_lane)
                yield (minute, lane, part), (box["x"] + x, box["y"] + y)


@pytest.mark.parametrize(("size", "scale"), in_turn(product([PHONE, DESK], [1, 2, 2.625]), 2))
def test_every_cell_of_the_strip_is_the_apis_colour(visit, memory, size, scale):
    shown = visit(size, memory, device_scale_factor=scale)
    page = shown.open().page
    strip = {at["minute"]: at for at in shown.strip_from_the_api()["strip"]}
    page.locator(".strip-ground").evaluate("strip => strip.scrollIntoView({ block: 'start' })")
    box, pixel_at = drawn_in(page, page.locator("[data-strip]"))
    cells = cells_of(strip, box)
    off = {
        f"{minute} {lane} {part}": (pixel_at(at), asked)
        for (minute, lane, part), at in cells
        if (asked := parts_of(strip[minute][lane])[part])
        and steps_off(pixel_at(at), asked) > MOST_STEPS_OFF
    }
    assert off == {}


def test_the_same_mix_on_other_hair_is_drawn_in_its_own_colours(visit, memory):
    shown = visit(DESK, memory)
    page = shown.open().page
    strips = {}
    for name in OTHER_HAIR:
        with page.expect_response("**/api/predictions") as answered:
            shown.button(name).click()
        strips[name] = answered.value.json()["strip"]
    expect(page.locator("[data-strip]")).to_have_count(1 + len(OTHER_HAIR))
    for name, strip in strips.items():
        drawn = page.locator(f"[data-strip='{name}']")
        # To the top: what stays in sight at the foot lies over the last strip of a page.
        drawn.evaluate("strip => strip.scrollIntoView({ block: 'start' })")
        box, pixel_at = drawn_in(page, drawn)
        cells = cells_of([at["minute"] for at in strip], box)
        colours = {at["minute"]: at for at in strip}
        for (minute, lane, part), at in cells:
            asked = parts_of(colours[minute][lane])[part]
            assert steps_off(pixel_at(at), asked) <= MOST_STEPS_OFF, (name, minute, lane, part)
    assert len({json.dumps(strip) for strip in strips.values()}) == len(OTHER_HAIR)


@pytest.mark.parametrize("theme", in_turn(["light", "dark"]))
def test_every_patch_is_its_colour_in_both_themes(visit, theme):
    shown = visit(color_scheme=theme, reduced_motion="reduce").open()
    seen = 0
    for step in (None, "Next: the wish"):
        if step:
            shown.button(step).click()
            shown.radio("pearl", "Tone").click()
            expect(shown.page.get_by_text("Your shelf can do this.")).to_be_visible()
        expect(shown.page.locator(".live")).to_be_visible()
        places = None
        # What comes in meanwhile moves the patches: the picture is of where they stay.
        while places != (found := shown.page.evaluate(PATCHES)):
            places, pixel_at = found, picture_of(shown.page)
        for patch in places["patches"]:
            _, y = patch["at"]
            if not 0 < y < places["bar"]:
                continue
            seen += 1
            assert steps_off(pixel_at(patch["at"]), patch["hex"]) <= MOST_STEPS_OFF, patch
        # The surround beside the patch is the same grey in both themes.
        assert steps_off(pixel_at((4, places["surround"] + 40)), "#969696") <= MOST_STEPS_OFF
    assert seen > 10


def test_the_drawn_references_are_what_the_api_answers(served):
    checked = subprocess.run(
        ["npm", "--silent", "run", "references", "--", "--check"],
        cwd=WEB,
        env=os.environ | {"BASINSIDE_API": served},
        capture_output=True,
        text=True,
        check=False,
    )
    assert checked.returncode == 0, checked.stderr
