"""One visit to the page: what a colourist does on it, by the names that stand on the screen."""

import json
import urllib.request

from playwright.sync_api import expect

PHONE = (390, 844)
DESK = (1280, 800)
OTHER_HAIR = ("a level deeper", "after violet shampoo", "more porous", "dry when applied")
WIDE_FROM = 68 * 16  # the strip then stands beside the other sections


def pause_at(page, at_s):
    """Stops the page's clock at a time, once the page is there and what it asked is answered.

    What is still to come would wait by that clock for ever, and what is asked would be given up.
    """
    expect(page.locator("html[data-open]")).to_be_attached()
    page.wait_for_load_state("networkidle")
    page.clock.pause_at(at_s)


class Visit:
    """A page that has just been opened, and the walk through it."""

    def __init__(self, page, address):
        self.page = page
        self.address = address
        self.wide = page.viewport_size["width"] >= WIDE_FROM

    def open(self):
        self.page.goto(f"{self.address}/#/try")
        expect(self.page.get_by_role("heading", name="Basinside")).to_be_visible()
        self.page.evaluate("document.fonts.ready.then(() => {})")
        return self

    @property
    def minute(self):
        return self.page.get_by_role("slider", name="Minute")

    @property
    def mixes(self):
        """The answer and the other ways in sight, the answer first."""
        return self.page.locator(".answer, .ways-head + .ways > .way")

    def button(self, name):
        return self.page.get_by_role("button", name=name, exact=True)

    def radio(self, name, group=None):
        inside = self.page.get_by_role("group", name=group, exact=True) if group else self.page
        return inside.get_by_role("radio", name=name, exact=True)

    def fold(self, section):
        """The folded line of a section, which opens it again."""
        return self.page.locator(f"#{section} .fold-line")

    def unfold(self, words):
        """Opens what is one tap away under these words, unless it is open."""
        summary = self.page.locator("summary", has_text=words).first
        if not summary.evaluate("tapped => tapped.parentElement.open"):
            summary.click()

    def strip_from_the_api(self):
        """What the API answers to the question of the strip shown, with no page in between."""
        request = self.page.evaluate(
            "JSON.parse(localStorage.getItem('basinside.1.answer.strip')).request"
        )
        asked = urllib.request.Request(
            f"{self.address}/api/predictions",
            json.dumps(request).encode(),
            {"content-type": "application/json"},
        )
        with urllib.request.urlopen(asked) as reply:
            return json.load(reply)

    def to_the_wish(self):
        if self.page.url == "about:blank":
            self.open()
        self.button("Next: the wish").click()
        return self

    def to_the_mix(self, tone="pearl"):
        self.to_the_wish().radio(tone, "Tone").click()
        self.button("What to mix").click()
        return self

    def to_the_strip(self, tone="pearl"):
        self.to_the_mix(tone)
        expect(self.mixes.first).to_be_attached()
        if not self.wide:
            self.button("Mix this").click()
        expect(self.minute).to_be_visible()
        return self

    def with_all_there_is_to_say(self):
        """Says of the hair what adds parts to the screens: ends, and a product that is on it."""
        self.open()
        self.unfold("More about this hair")
        self.page.get_by_label("Add earlier colour").select_option(index=1)
        self.unfold("Other hair, same mix")
        self.button("Add the ends").click()
        return self

    def every_screen(self):
        """Walks over every screen with all of it unfolded; yields the name of each on arrival.

        Starts from a phone that holds the answers, and leaves to the end what drops them.
        """
        self.open()
        opened = self.page.locator("#mix.fold-open")
        expect(opened.or_(self.fold("mix")).first).to_be_attached()
        if not opened.count():
            self.fold("mix").click()
        expect(self.mixes.first).to_be_attached()
        self.unfold("Why, and what it costs")
        self.unfold("Amount, products, developer")
        yield "what to mix"

        if not self.wide:
            self.button("Mix this").click()
        expect(self.minute).to_be_visible()
        yield "strip"
        for count, name in enumerate(OTHER_HAIR, 2):
            self.button(name).click()
            # One by one: a strip that comes moves the buttons below it from under the tap.
            expect(self.page.locator("[data-strip]")).to_have_count(count)
        yield "strip with the same mix on other hair"

        self.page.get_by_role("link", name="Settings").click()
        expect(self.page.get_by_role("heading", name="Settings")).to_be_visible()
        yield "settings"
        self.button("Done").click()

        self.fold("wish").click()
        self.unfold("More about this wish")
        yield "wish"
        self.button("Slide over a field").click()
        expect(self.page.get_by_test_id("wish-field")).to_have_attribute("aria-busy", "false")
        yield "wish on the field"
        self.radio("a reading", "Wish by").click()
        self.page.get_by_label("L*").click()
        yield "wish by a reading"

        self.fold("hair").click()
        self.unfold("More about this hair")
        yield "hair"
        self.radio("by a reading").click()
        self.page.get_by_label("L*").click()
        yield "hair by a reading"
