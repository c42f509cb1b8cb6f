"""One's own shelf: typed line first, then code by code, and mixed from at once."""

import json
import re
from pathlib import Path

from playwright.sync_api import expect
from test_service import Service
from waiting import once

from basinside.engine.products.tones import CLEAR, PRODUCT_TONES

CODES = Path(__file__).resolve().parents[2] / "web" / "src" / "shelf" / "shade_codes.ts"
# An invented line: what its codes say is said once.
TUBES = {"9V": "violet", "10P": "pearl", "9G": "gold", "8V": None, "10V": None}


class Shelf(Service):
    def with_a_line(self, name="Quill"):
        self.open("shelf").button("Begin with a line")
        self.page.get_by_label("Name of the line").fill(name)
        self.page.get_by_label("Name of the line").press("Enter")
        self.radio("neutral demi")
        self.tap(self.page.get_by_role("button", name=re.compile(r"^1\.9\s%$")))
        self.of_leaflet("Developer to one part of colour", "1 : 1")
        self.of_leaflet("Earliest, on lightened hair", "5 min")
        return self.of_leaflet("At most, by its leaflet", "20 min")

    def of_leaflet(self, asked, said):
        group = self.page.get_by_role("group", name=asked)
        return self.tap(group.get_by_role("radio", name=said, exact=True))

    def with_a_shade(self, code, means=None):
        self.page.get_by_label("Its code").fill(code)
        if means:
            group = self.page.get_by_role("group", name=re.compile("^In this line"))
            self.tap(group.get_by_role("radio", name=means, exact=True))
        self.button("Add this shade")
        expect(self.page.get_by_role("status").filter(has_text=f"Added {code}")).to_be_visible()
        return self

    def with_five_tubes(self):
        self.with_a_line()
        for code, means in TUBES.items():
            self.with_a_shade(code, means)
        return self


def test_the_page_knows_the_words_the_engine_knows():
    listed = re.search(r"PRODUCT_TONES = (\[.*?\]) as const", CODES.read_text(), re.DOTALL)[1]
    words = json.loads(re.sub(r",\s*\]", "]", listed))
    assert set(words) == {*PRODUCT_TONES, CLEAR}


def test_five_tubes_of_one_line_make_a_first_formula(visit):
    shelf = Shelf(visit()).with_five_tubes()
    expect(shelf.page.locator(".shade")).to_have_count(5)
    expect(shelf.page.locator(".shade [data-hex^='#']")).to_have_count(5)
    shelf.open("try").button("Next: the wish").radio("pearl").button("What to mix")
    expect(shelf.visit.mixes.first).to_be_attached()
    expect(shelf.page.locator(".answer-face")).to_contain_text("Quill")
    expect(shelf.page.get_by_text("From your shelf of 5")).to_be_visible()


def test_a_line_says_which_hair_it_is_made_for_and_that_is_asked_with(visit):
    shelf = Shelf(visit()).with_a_line()
    expect(shelf.page.get_by_text("Nobody has said which hair it is made for.")).to_be_visible()
    shelf.radio("lifted hair").with_a_shade("9B", "beige")
    expect(shelf.page.get_by_text("Made for lifted hair.")).to_be_visible()
    shelf.open("shelf")
    expect(shelf.page.get_by_text("for lifted hair, 1 shade")).to_be_visible()
    shelf.open("try").button("Next: the wish").radio("beige").button("What to mix")
    expect(shelf.visit.mixes.first).to_be_attached()
    kept = shelf.page.evaluate("localStorage.getItem('basinside.1.answer.formulas')")
    products = json.loads(kept)["request"]["products"]
    assert [product["promised_on"] for product in products] == ["lifted"]


def test_a_shade_that_misses_its_own_name_says_what_it_makes_instead(visit):
    shelf = Shelf(visit()).with_a_line().radio("lifted hair")
    shelf.with_a_shade("7V", "violet").with_a_shade("9B", "beige")
    violet, beige = (shelf.page.locator(".shade", has_text=code) for code in ("7V", "9B"))
    expect(violet.locator(".shade-instead")).to_contain_text(
        "Alone on lightened hair of level 7 it makes "
    )
    expect(beige.locator("[data-hex^='#']")).to_have_count(1)
    expect(beige.locator(".shade-instead")).to_have_count(0)
    shelf.tap(beige.locator("summary", has_text="Tubes and more"))
    expect(beige).to_contain_text("its own name, within 3 ΔE")


def test_a_tube_that_is_out_is_mixed_from_no_more(visit):
    shelf = Shelf(visit()).with_five_tubes()
    shelf.tap(shelf.page.get_by_role("button", name="in stock").first)
    expect(shelf.page.get_by_role("button", name="out", exact=True)).to_be_visible()
    shelf.open("try").button("Next: the wish").radio("pearl").button("What to mix")
    expect(shelf.page.get_by_text("From your shelf of 4")).to_be_visible()


def test_nothing_of_a_leaflet_is_filled_in_unread(visit):
    shelf = Shelf(visit()).open("shelf").button("Begin with a line")
    page = shelf.page
    page.get_by_label("Name of the line").fill("Quill")
    page.get_by_label("Name of the line").press("Enter")
    shelf.radio("neutral demi")
    expect(page.get_by_text("Now the developers its leaflet allows.")).to_be_visible()
    shelf.tap(page.get_by_role("button", name=re.compile(r"^1\.9\s%$")))
    expect(page.get_by_text("Now how much developer its leaflet says.")).to_be_visible()
    shelf.of_leaflet("Developer to one part of colour", "1 : 1.5")
    expect(page.get_by_text("Now the leaflet’s minutes.")).to_be_visible()
    expect(page.get_by_label("Its code")).to_have_count(0)
    # Each of the two is asked for: one alone is not enough, and none is said for the reader.
    shelf.of_leaflet("At most, by its leaflet", "10 min")
    expect(page.get_by_text("Now the leaflet’s minutes.")).to_be_visible()
    shelf.of_leaflet("Earliest, on lightened hair", "15 min")
    expect(page.get_by_role("alert")).to_contain_text("The earliest minute is past the longest.")
    shelf.open("shelf")
    expect(page.get_by_text("minutes missing")).to_be_visible()
    shelf.tap(page.get_by_role("link", name="Quill"))
    shelf.of_leaflet("Earliest, on lightened hair", "none given")
    expect(page.get_by_label("Its code")).to_be_visible()
    kept = once(
        lambda: [(op["kind"], op["fields"]) for op in shelf.records("outbox")],
        lambda kept: kept[-1] == ("line.set", {"window": {"min": 0, "max": 10}}),
    )
    assert kept[0] == ("line.create", {})


def test_a_clear_is_a_shade_by_either_name_and_the_list_shows_the_colours(visit):
    shelf = Shelf(visit()).with_a_line()
    for code in ("0/0", "Clear"):
        shelf.page.get_by_label("Its code").fill(code)
        expect(shelf.page.get_by_text("Level on the label")).to_have_count(0)
        shelf.button("Add this shade")
        added = shelf.page.get_by_role("status").filter(has_text=f"Added {code}: clear.")
        expect(added).to_be_visible()
    shelf.with_a_shade("9V", "violet")
    expect(shelf.page.locator(".shade [data-hex^='#']")).to_have_count(3)
    hexes = "all => all.map((one) => one.dataset.hex)"
    on_its_page = shelf.page.locator(".shade [data-hex]").evaluate_all(hexes)
    shelf.open("shelf")
    expect(shelf.page.locator(".shelf-colours > [data-hex^='#']")).to_have_count(3)
    in_the_list = shelf.page.locator(".shelf-colours > [data-hex]").evaluate_all(hexes)
    assert in_the_list == on_its_page


def test_a_volume_typed_for_a_percent_is_caught(visit):
    shelf = Shelf(visit()).with_a_line()
    shelf.tap(shelf.page.locator("summary", has_text="Another strength"))
    shelf.page.get_by_label("Peroxide, percent").fill("20")
    expect(shelf.page.get_by_text("20 vol is 6 %")).to_be_visible()
    expect(shelf.page.get_by_role("button", name="Add this strength")).to_be_disabled()


def test_a_code_that_is_there_already_is_not_added_again(visit):
    shelf = Shelf(visit()).with_a_line().with_a_shade("9V", "violet")
    shelf.page.get_by_label("Its code").fill("9V")
    expect(shelf.page.get_by_text("This shade is on the shelf already.")).to_be_visible()
    expect(shelf.page.get_by_role("button", name="Add this shade")).to_be_disabled()


def test_the_shelf_is_there_after_a_reload_with_its_legend(visit):
    shelf = Shelf(visit()).with_a_line().with_a_shade("9V", "violet")
    shelf.page.reload()
    shelf.page.get_by_label("Its code").fill("8V")
    expect(shelf.page.locator(".patch-label", has_text="violet")).to_be_visible()
    expect(shelf.page.get_by_role("button", name="Add this shade")).to_be_enabled()


def test_sixty_shades_of_a_line_come_on_in_two_taps_each_once_its_codes_are_known(visit):
    shelf = Shelf(visit()).with_a_line()
    letters = {"V": "violet", "P": "pearl", "G": "gold", "A": "ash", "B": "beige", "C": "copper"}
    for letter, means in letters.items():
        shelf.with_a_shade(f"10{letter}", means)
    shelf.taps = typed = 0
    for level in range(1, 10):
        for letter in letters:
            code = f"{level}{letter}"
            shelf.tap(shelf.page.get_by_label("Its code"))
            shelf.with_a_shade(code)
            typed += len(code)
    # Two taps and two keys a shade; the rest of ten minutes is for finding the next tube.
    assert shelf.taps == 2 * 54
    assert typed <= 2 * 54
    expect(shelf.page.locator(".shade")).to_have_count(60)
    expect(shelf.page.locator(".shade [data-hex^='#']")).to_have_count(60)


def test_a_tube_is_opened_with_its_batch_and_finished_by_a_tap(visit):
    shelf = Shelf(visit()).with_a_line().with_a_shade("9V", "violet")
    shelf.tap(shelf.page.locator("summary", has_text="Tubes and more"))
    shelf.page.get_by_label("Batch of a new tube").fill("L 2207")
    shelf.button("Open a tube")
    expect(shelf.page.locator(".tube")).to_contain_text("batch L 2207")
    shelf.page.reload()
    shelf.tap(shelf.page.locator("summary", has_text="Tubes and more"))
    shelf.button("finished")
    expect(shelf.page.locator(".tube")).to_have_count(0)
    shelf.button("Undo")
    expect(shelf.page.locator(".tube")).to_have_count(1)
