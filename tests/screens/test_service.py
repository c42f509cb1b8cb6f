"""A service from its first tap to its end, on the phone, as the record keeps it."""

import datetime as dt
import re

from cleared import clear, may_go_on, take_over_a_usual_test, write_down_a_paper_test
from playwright.sync_api import expect
from visit import DESK, pause_at

# With every question of safety and a test from paper, its days included.
MOST_TAPS_NEW_AND_SAFE = 20
MOST_TAPS_REGULAR = 6
OPENS_AT = "2026-11-25T10:00:00Z"
# What has just come under the thumb takes no tap for a moment, and shows it.
SETTLED = """found => found.classList.contains("settles")
    ? Promise.allSettled(found.getAnimations().map(shown => shown.finished)).then(() => null)
    : null"""
# Taps what leads, and so many milliseconds later what has come under the thumb. The times are the
# events' own, in a minute's time, so that a slow machine sees the same.
TAP_TWICE = """(main, later_ms) => new Promise(done => {
    const words = main.textContent;
    const at_ms = document.timeline.currentTime + 60_000;
    const tap = (found, at_ms) => {
        const tapped = new MouseEvent("click", { bubbles: true, detail: 1 });
        Object.defineProperty(tapped, "timeStamp", { value: at_ms });
        found.dispatchEvent(tapped);
    };
    const seen = new MutationObserver(() => {
        const next = document.querySelector(".bar-step .step-main");
        if (!next || next.textContent === words) return;
        seen.disconnect();
        tap(next, at_ms + later_ms);
        done([next.textContent, next.classList.contains("settles")]);
    });
    seen.observe(document.body, { childList: true, subtree: true, characterData: true });
    tap(main, at_ms);
})"""
SIX_WEEKS_MS = 42 * 24 * 3_600_000


class Service:
    """A walk through a service by touch, that counts its taps."""

    def __init__(self, visit):
        self.visit = visit
        self.page = visit.page
        self.taps = 0

    def open(self, place="today"):
        self.page.goto(f"{self.visit.address}/#/{place}")
        expect(self.page.get_by_role("heading", name="Basinside")).to_be_visible()
        return self

    def tap(self, locator):
        locator.evaluate(SETTLED)
        if self.visit.wide:
            locator.click()
        else:
            locator.tap()
        self.taps += 1
        return self

    def button(self, name):
        return self.tap(self.page.get_by_role("button", name=name, exact=True))

    def radio(self, name):
        return self.tap(self.page.get_by_role("radio", name=name, exact=True))

    def of_a_new_client(self, name="Wren Aldous"):
        self.button("New service")
        self.page.get_by_label("Client’s name").fill(name)
        self.button("New client")
        expect(self.page.get_by_role("link", name=name)).to_be_visible()
        return self

    def to_the_mix(self):
        self.radio("pearl").button("Next: the hair").button("What to mix")
        expect(self.visit.mixes.first).to_be_attached()
        return self.button("Mix this")

    def cleared(self):
        """Answers what the rules ask, with nothing that speaks against the service."""
        clear(self.page, self.tap)
        may_go_on(self.page)
        return self

    def may_begin(self):
        may_go_on(self.page)
        return self

    def begun(self):
        self.button("First section on")
        expect(self.countdown).to_be_visible()
        return self

    def to_the_clock(self):
        return self.to_the_mix().cleared().begun()

    def whole(self):
        """Goes from the basin to the service's whole page."""
        return self.button("Whole strip")

    def whole_of_the_first(self):
        """Goes to the whole page from the basin of one zone or of several."""
        look = self.page.get_by_role("button", name=re.compile("looks different$"))
        whole = self.page.get_by_role("button", name="Whole strip", exact=True)
        expect(look.or_(whole).first).to_be_visible()
        if whole.count() == 0:
            self.tap(look)
        return self.tap(whole)

    def rinsed(self):
        """Rinses the zone at the basin: with one tap in its window, and before it as keys hold."""
        early = self.page.get_by_role("button", name="Rinse early…", exact=True)
        now = self.page.get_by_role("button", name=re.compile("^Rinsed: "))
        expect(early.or_(now).first).to_be_visible()
        basin = self.page.locator(".basin")
        # A lightener is rinsed on the whole page.
        zone = basin.get_attribute("data-zone") if basin.count() else None
        if now.count() > 0:
            self.tap(now)
        else:
            self.tap(early)
            for words in ("^Hold: ", "^Press again: "):
                self.page.get_by_role("button", name=re.compile(words)).press("Enter")
                self.taps += 1
        # Once it is written down; what is tapped before that is still about this zone.
        expect(self.page.locator(f".basin[data-zone='{zone}']")).to_have_count(0)
        return self

    def to_the_end(self):
        return self.to_the_clock().from_the_clock_to_the_end()

    def from_the_clock_to_the_end(self):
        self.button("Last section on").rinsed()
        self.button("as shown").button("End the service").button("Back to today")
        return self

    @property
    def countdown(self):
        return self.page.locator(".clock-time").first

    @property
    def began_ms(self):
        """When the one clock of this phone began, as its record has it."""
        (at,) = {
            op["fields"]["first_section_at"]
            for op in self.records("outbox")
            if "first_section_at" in op["fields"]
        }
        return dt.datetime.fromisoformat(at).timestamp() * 1000

    def records(self, store):
        """What the phone has written down, read from its store and not from the page."""
        return self.page.evaluate(
            """store => new Promise((done, fail) => {
                const opening = indexedDB.open('basinside');
                opening.onerror = () => fail(opening.error);
                opening.onsuccess = () => {
                    const reading = opening.result.transaction(store).objectStore(store).getAll();
                    reading.onsuccess = () => { opening.result.close(); done(reading.result); };
                };
            })""",
            store,
        )


def test_a_new_client_comes_to_a_running_clock_in_few_taps(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    clear(service.page, service.tap, paper_test=take_over_a_usual_test)
    service.may_begin().begun()
    assert service.taps <= MOST_TAPS_NEW_AND_SAFE
    expect(service.page.locator(".order-words")).to_contain_text("Wait")


def test_a_regular_has_the_same_as_last_time_in_six_taps(begun):
    service = begun(at=OPENS_AT).from_the_clock_to_the_end()
    shown = service.visit
    last_mix = [op["fields"]["mix"] for op in service.records("outbox") if "mix" in op["fields"]]
    shown.page.clock.fast_forward(SIX_WEEKS_MS)
    service.taps = 0
    service.button("New service")
    service.page.get_by_label("Client’s name").fill("wren")
    service.radio("Wren Aldous")
    service.tap(service.page.get_by_role("button", name=re.compile("^Same as last time")))
    # Each service has a test of its own, which was done two days before and is on record by then.
    write_down_a_paper_test(service.page, lambda found: found.tap())
    service.button("All true today").button("First section on")
    expect(service.countdown).to_be_visible()
    assert service.taps <= MOST_TAPS_REGULAR
    mixes = [op["fields"]["mix"] for op in service.records("outbox") if "mix" in op["fields"]]
    assert mixes == last_mix * 2


def test_the_clock_shows_the_right_minute_after_a_reload(begun):
    service = begun(at=OPENS_AT)
    shown, began_ms = service.visit, service.began_ms
    pause_at(shown.page, (began_ms + 330_000) / 1000)
    expect(service.page.locator(".reading-minute")).to_have_text("5")
    shown.page.clock.resume()  # a page is loaded by timers too
    shown.page.reload()
    expect(service.countdown).to_be_visible()
    pause_at(shown.page, (began_ms + 930_000) / 1000)
    expect(service.page.locator(".reading-minute")).to_have_text("15")


def test_the_makers_time_over_is_said_whatever_the_strip_shows(begun):
    service = begun(at=OPENS_AT)
    pause_at(service.page, (service.began_ms + 150 * 60_000) / 1000)
    expect(service.page.locator(".order-words")).to_have_text("Rinse now")
    expect(service.page.locator(".order")).to_contain_text("The maker’s time is over")
    expect(service.countdown).to_contain_text("+")


def test_a_running_clock_stands_in_the_bar_of_every_other_place(begun):
    service = begun()
    for place in ("today", "try", "settings"):
        service.open(place)
        expect(service.page.locator(".bar .clock-line")).to_contain_text("Wren Aldous, all over")
    service.tap(service.page.locator(".bar .clock-line"))
    # What to do now is what one came for: it stands on the screen at once, without scrolling.
    expect(service.page.get_by_role("heading", name="On the head")).to_be_in_viewport(ratio=1)
    expect(service.page.locator(".order-words").first).to_be_in_viewport(ratio=1)


def test_a_running_zone_that_one_came_back_to_can_be_opened_again_after_its_wish(begun):
    service = begun()
    service.open().of_a_new_client("Tam Ferris")
    service.tap(service.page.locator(".bar .clock-line"))
    expect(service.countdown).to_be_visible()
    service.tap(service.page.locator("#wish button.fold-line"))
    expect(service.page.get_by_role("radio", name="pearl", exact=True)).to_be_checked()
    service.tap(service.page.locator("#strip button.fold-line"))
    expect(service.page.locator("#strip.fold-open .order-words")).to_be_visible()


def test_what_was_entered_for_a_service_stays_apart_from_what_is_tried_out(visit):
    service = Service(visit()).open("try")
    service.button("Next: the wish").radio("ash")
    service.open("today").of_a_new_client().radio("pearl").button("Next: the hair")
    service.open("try")
    expect(service.page.locator("#wish .fold-line")).to_have_count(1)
    service.button("Next: the wish")
    expect(service.page.get_by_role("radio", name="ash", exact=True)).to_be_checked()
    service.open("today").tap(service.page.locator(".day-row"))
    expect(service.page.get_by_role("radio", name="pearl", exact=True)).to_be_checked()


def test_two_zones_have_a_bowl_and_a_clock_each(begun):
    service = begun()
    service.tap(service.page.locator("summary", has_text="Another zone")).radio("roots")
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.button("Mix this").button("First section on")
    expect(service.page.locator(".clock-line")).to_have_count(2)


def test_the_first_section_can_be_moved_but_not_into_the_future(begun):
    service = begun(at=OPENS_AT)
    pause_at(service.page, (service.began_ms + 210_000) / 1000)
    service.button("+1 min")
    expect(service.page.locator(".reading-minute")).to_have_text("4")
    for _ in range(6):
        service.button("−1 min")
    expect(service.page.locator(".reading-minute")).to_have_text("0")


def test_the_same_service_is_worked_on_a_wide_screen(visit):
    service = Service(visit(DESK)).open().of_a_new_client("Tam Ferris").to_the_end()
    expect(service.page.locator(".day-row")).to_contain_text("ended")


def test_a_clock_rings_in_words_until_it_is_heard_and_not_again_after_a_reload(begun):
    service = begun(at=OPENS_AT)
    shown, began_ms = service.visit, service.began_ms
    ringing = shown.page.locator(".ringing")
    expect(ringing).to_have_count(0)
    pause_at(shown.page, (began_ms + 9 * 60_000) / 1000)
    expect(ringing).to_contain_text("Wren Aldous, all over: look again")
    shown.page.clock.resume()  # a page is loaded by timers too
    shown.page.reload()
    expect(ringing).to_have_count(1)
    service.button("Heard")
    expect(ringing).to_have_count(0)
    shown.page.reload()
    expect(service.countdown).to_be_visible()
    expect(ringing).to_have_count(0)
    pause_at(shown.page, (began_ms + 90 * 60_000) / 1000)
    expect(ringing).to_contain_text("rinse now")


# What a phone without sound still has: the words on the screen, and what the hand feels.
NO_SOUND = """() => {
  delete globalThis.AudioContext;
  globalThis.felt = [];
  navigator.vibrate = (pattern) => globalThis.felt.push([pattern].flat()) > 0;
}"""


def test_with_no_sound_a_look_and_a_rinse_are_in_words_and_felt_apart(visit):
    shown = visit()
    shown.page.add_init_script(f"({NO_SOUND})()")
    shown.page.clock.install(time=OPENS_AT)
    service = Service(shown).open().of_a_new_client().to_the_clock()
    page = shown.page
    assert page.evaluate("felt") == []
    began_ms = service.began_ms
    pause_at(page, (began_ms + 9 * 60_000) / 1000)
    expect(page.locator(".ringing")).to_contain_text("look again")
    a_look = page.evaluate("felt.at(-1)")
    service.button("Heard")
    pause_at(page, (began_ms + 90 * 60_000) / 1000)
    expect(page.locator(".ringing")).to_contain_text("rinse now")
    a_rinse = page.evaluate("felt.at(-1)")
    # A pattern goes on, off, on (W3C Vibration API): a rinse is several pulses, a look is one.
    assert len(a_look) == 1
    assert len(a_rinse) > 2
