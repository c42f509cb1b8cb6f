"""Twelve invented clients on a phone without a server: what is held, asked, advised, and what next.

What each case must come to is written from the texts that docs/safety.md names: the warnings on
labels (EU-LABEL: under 16, earlier reaction, black tattoo, scalp, brows), 48 h and a clear reading
(FDA-QA, UK-AAT), 12 % peroxide (EU-12), rinse at once (NHS-DYE). A new medicine, henna and a
pregnancy are decided or advised, not barred: common practice beside the sources named there.
"""

import os
import re
from pathlib import Path

import pytest
from cleared import (
    LEAFLET,
    LEAST_CAUTION,
    beginning,
    confirm_the_pack,
    may_go_on,
    write_down_a_paper_test,
)
from playwright.sync_api import expect
from test_service import Service
from visit import Visit

MOST_TAPS_REGULAR = 6
SHOTS = os.environ.get("SHOTS")
LOOK = "Look at the scalp: how is it today?"
AGE = "Is the client 18 or over?"
NEW = "Anything new since the test: medicine, illness, tattoo, reaction?"
CONSENT = "Has a guardian consented, in writing?"
TATTOO = "Ever had a temporary black tattoo?"
PAST = "What was done to this hair before?"


CALM = LEAST_CAUTION | {
    LOOK: "Sound",
    "Is there a rash on the face or neck today?": "No",
    NEW: "No",
    "At the test: steroids, immune medicine, or sunburn or cream on the spot?": "No",
    "Any doubt about how this hair will take it?": "No",
    "Fresh gloves on?": "Yes",
}


class Chair(Service):
    """A service as far as its mix; then the questions, each answered as this client would."""

    before = 0

    def sits(self, name, said=None, paper="no reaction"):
        """A new client, and all that the rules ask until they ask no more."""
        self.open()
        self.before = len(self.records("outbox"))
        self.of_a_new_client(name).to_the_mix()
        return self.is_asked(said or {}, paper)

    def is_asked(self, said, paper):
        page = self.page
        asking = page.locator(".safety[data-asks='yes']")
        region = asking.get_by_role("region", name="Question")
        at_once = page.get_by_role("button", name="All true today")
        pack = asking.get_by_role("region", name="The mix and its pack")
        silent = page.locator(".safety[data-asks='no']")
        if paper:
            form = page.locator(".safety summary", has_text="An alert test on paper")
            expect(form).to_be_visible()
            write_down_a_paper_test(page, self.tap, paper)
            expect(form).to_have_count(0)
        for _ in range(40):
            expect(
                region.or_(at_once).or_(pack).or_(silent).or_(beginning(page)).first
            ).to_be_visible()
            if region.is_visible():
                self.answers(region, said)
            elif pack.is_visible():
                confirm_the_pack(pack, self.tap)
            elif at_once.is_visible() and said.keys() & set(list(CALM)[-6:]):
                self.button("Ask one by one")
            elif at_once.is_visible():
                self.tap(at_once)
                expect(at_once).to_have_count(0)
            else:
                return self
        raise AssertionError("the questions have no end")

    def answers(self, region, said):
        expect(region.locator("[aria-disabled=true]")).to_have_count(0)
        words = region.get_by_role("heading").inner_text()
        if words == LEAFLET:
            region.get_by_label("As printed there").fill("leaflet 3")
            self.tap(region.get_by_role("button", name="Keep this"))
        elif isinstance(answer := (CALM | said)[words], str):
            self.tap(region.get_by_role("button", name=answer, exact=True))
        else:
            for name in answer:
                self.tap(region.get_by_role("button", name=name, exact=True))
        expect(region.get_by_role("heading", name=words, exact=True)).to_have_count(0)

    def finding(self, group, words):
        """One finding of a group, by its sentence."""
        section = self.page.get_by_role("region", name=group, exact=True)
        found = section.locator(".safety-finding").filter(has_text=words)
        expect(found).to_be_visible()
        return found

    def is_held(self, words, then):
        """Something stops it, with what comes next; neither grams nor a clock are there."""
        found = self.finding("What holds this service", words)
        expect(found).to_contain_text(then)
        self.shot(words)
        self.does_not_begin()
        return self

    def does_not_begin(self):
        expect(self.page.locator(".ladder-figure")).to_have_count(0)
        expect(beginning(self.page)).to_have_count(0)
        expect(self.page.get_by_role("button", name=re.compile("^Held: "))).to_be_visible()
        assert not self.begun()

    def begins(self):
        may_go_on(self.page)
        self.button("First section on")
        expect(self.countdown).to_be_visible()
        assert self.begun()
        return self

    def begun(self):
        """Whether this service's clock was ever started, by the store."""
        written = [op["fields"] for op in self.records("outbox")]
        return any("first_section_at" in fields for fields in written[self.before :])

    def ended(self):
        self.button("Last section on").rinsed()
        self.button("as shown").button("End the service").button("Back to today")
        return self

    def shot(self, name):
        if SHOTS:
            path = Path(SHOTS) / f"{re.sub('[^a-z]+', '-', name.lower())[:40]}.png"
            self.page.screenshot(path=path, full_page=True)


@pytest.fixture
def chair(cold_page):
    page, address = cold_page
    return Chair(Visit(page, address))


def test_a_clean_regular_comes_to_a_running_clock_in_six_taps_questions_included(chair):
    chair.open("settings")
    chair.radio("the European Union")
    chair.page.get_by_label("Who read the insurer’s terms").fill("Ana Venn")
    chair.radio("3 months")
    expect(chair.page.get_by_text("By the insurer’s terms, read by Ana Venn")).to_be_visible()
    chair.sits("Oona Pell").begins().ended()
    chair.taps = 0
    chair.before = len(chair.records("outbox"))
    chair.button("New service")
    chair.page.get_by_label("Client’s name").fill("oona")
    chair.radio("Oona Pell")
    chair.tap(chair.page.get_by_role("button", name=re.compile("^Same as last time")))
    chair.shot("regular")
    chair.button("All true today").begins()
    assert chair.taps <= MOST_TAPS_REGULAR
    chair.ended()


def test_a_first_visit_without_a_test_is_held_and_told_to_put_one_on(chair):
    chair.sits("Bram Sedge", paper=None)
    chair.is_held("No alert test on record for this line.", "Apply one now and rebook")


def test_a_test_on_paper_counts_once_it_is_written_down(chair):
    chair.sits("Lark Hollis", paper=None).does_not_begin()
    chair.shot("paper")
    chair.is_asked({}, "no reaction").begins().ended()


def test_at_fifteen_no_line_goes_on_and_a_consent_does_not_change_it(chair):
    chair.sits("Ivo Marsh", {AGE: "No", "Is the client 16 or over?": "No", CONSENT: "Yes"})
    chair.is_held("This line is not meant for under-16s.", "parental consent does not change this")


def test_who_reacted_to_a_black_tattoo_is_not_coloured_and_not_tested_either(chair):
    chair.sits("Tilda Crane", {TATTOO: "Yes, it reacted"})
    chair.is_held("Reacted to a black tattoo. Do not colour.", "no salon test either")


def test_henna_with_metal_is_tested_on_cuttings_first(chair):
    chair.sits("Petra Wold", {PAST: ["henna with metal salts", "That is all"]})
    chair.is_held("Possible metal in this hair. Test first.", "Cuttings in 6 % peroxide")


def test_a_sore_scalp_waits_until_it_has_healed(chair):
    chair.sits("Runa Teal", {LOOK: "Irritated or sore"})
    chair.is_held("Scalp is not sound. Do not apply.", "Rebook when healed")


def test_a_pregnancy_is_advised_on_and_bars_nothing(chair):
    chair.sits("Sila Moor")
    chair.tap(chair.page.locator("#safety .fold-line"))
    chair.tap(chair.page.locator("summary", has_text="More to note"))
    chair.button("Pregnant? Only if the client wants to say.").button("Yes")
    found = chair.finding("Good to know", "Not barred. Some wait until after 12 weeks.")
    chair.tap(found.locator("summary"))
    expect(found).to_contain_text("The client chooses")
    chair.shot("pregnancy")
    chair.begins().ended()


def test_a_new_medicine_is_decided_on_by_a_named_person(chair):
    chair.sits("Edda Rook", {NEW: "Yes"})
    chair.does_not_begin()
    found = chair.finding("Needs your decision", "Something is new since the test")
    chair.tap(found.locator("summary", has_text="Next step"))
    expect(found).to_contain_text("New test, unless the named person records why not")
    chair.tap(found.locator("summary", has_text="Decide this"))
    chair.shot("medicine")
    who = found.get_by_role("group", name="Who decides", exact=True)
    chair.tap(who.get_by_role("radio", name="another name", exact=True))
    found.get_by_label("Who decides, by name").fill("Ana Venn")
    roles = found.get_by_role("group", name="As")
    chair.tap(roles.get_by_role("radio").last)
    found.get_by_label("What you saw").fill("her doctor’s letter: an antihistamine since May")
    found.get_by_label("Why you go on").fill("the test was put on after it began")
    chair.tap(found.get_by_role("button", name="Keep this decision"))
    chair.begins().ended()


def test_nothing_of_it_goes_on_brows(chair):
    chair.sits("Mika Thorn")
    chair.tap(chair.page.locator("#safety .fold-line"))
    chair.tap(chair.page.locator("summary", has_text="Goes on the scalp"))
    chair.radio("the brows")
    expect(beginning(chair.page)).to_have_count(0)
    chair.is_asked({"Is this line made for lashes?": "No"}, None)
    chair.is_held("Not for brows or lashes.", "Never with hair colour.")
    chair.radio("the scalp").begins().ended()


def test_twenty_typed_for_percent_is_caught_where_it_is_typed(chair):
    page = chair.open("shelf").page
    chair.button("Begin with a line")
    chair.tap(page.locator("summary", has_text="Another strength"))
    page.get_by_label("Peroxide, percent").fill("20")
    expect(page.get_by_text("Did you enter the volume? 20 vol is 6 %.")).to_be_visible()
    chair.shot("twenty")
    expect(page.get_by_role("button", name="Add this strength")).to_be_disabled()


def test_a_spot_that_turned_red_ends_it(chair):
    chair.sits("Nell Brook", paper="redness")
    chair.is_held("The test spot reacted. Do not colour with this line.", "No second try")
    # A test that reacted names no hour to start at.
    held = chair.page.get_by_role("region", name="While it is held")
    expect(held).to_contain_text("Another day instead")
    expect(held).not_to_contain_text("start from")


def test_a_reaction_in_the_middle_is_rinsed_at_once_and_holds_the_next_service(chair):
    page = chair.sits("Wren Aldous").begins().page
    chair.tap(page.get_by_role("link", name="It tingles or burns"))
    expect(page.get_by_text("Rinse now. Take all of it off.")).to_be_in_viewport()
    chair.button("Start 20 minutes").button("Rinsed: stop the clock")
    expect(page.locator(".clock-line")).to_have_count(0)
    page.get_by_role("checkbox", name="hives", exact=True).check(force=True)
    chair.shot("reaction")
    chair.button("Keep the record")
    expect(page.get_by_text("Kept on this phone.")).to_be_visible()
    chair.before = len(chair.records("outbox"))
    chair.open()
    chair.button("New service")
    page.get_by_label("Client’s name").fill("wren")
    chair.radio("Wren Aldous")
    chair.to_the_mix().is_asked({}, None)
    chair.is_held("Earlier reaction to hair colour. Do not colour.", "Doctor or dermatologist")
