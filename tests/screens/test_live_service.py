"""A live service by touch: weighed, judged and mended, at a phone's size."""

import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_service import OPENS_AT, Service
from visit import DESK, pause_at

from basinside.contract.hair import Hair
from basinside.engine.hair.reading import bare_lab
from basinside.engine.timing.predict import heads_of

LANDSCAPE = (844, 390)
# How many minutes the strip has that the phone keeps of the zone.
ROWS = """() => {
  const key = Object.keys(localStorage).find((name) => name.startsWith("basinside.1.prediction."));
  return JSON.parse(localStorage.getItem(key)).prediction.strip.length;
}"""
LARGE_PX = 64  # what is read at arm's length
TARGET_PX = 56
PRINTED_CM = 9
MOST_PRINTED_PX = "340.157px"  # at the 96 px an inch of CSS


@pytest.fixture
def service(visit):
    return Service(visit()).open().of_a_new_client()


def pixels(locator, what):
    return locator.evaluate(f"seen => parseFloat(getComputedStyle(seen).{what})")


def test_what_was_taken_is_weighed_on_one_ladder(cleared):
    service = cleared()
    figures = service.page.locator(".ladder-figure")
    expect(figures.first).to_have_text("0")
    before = [float(figure) for figure in figures.all_text_contents()]
    assert before == sorted(before)
    assert pixels(figures.first, "fontSize") >= LARGE_PX
    service.tap(service.page.locator("summary", has_text="How much hair"))
    service.radio("very long").radio("thick")
    expect(service.page.locator(".ladder")).to_be_visible()
    service.page.wait_for_function(
        "most => [...document.querySelectorAll('.ladder-figure')].at(-1).textContent - most > 0",
        arg=before[-1],
    )
    for _ in range(figures.count()):
        service.tap(service.page.locator(".ladder-next"))
    expect(service.page.locator(".ladder-next")).to_contain_text("All is in")
    weighed = [op["fields"]["mix"] for op in service.records("outbox") if "mix" in op["fields"]]
    poured = sum(part["grams"] for part in weighed[-1]["parts"])
    assert poured + weighed[-1]["developer"]["grams"] == pytest.approx(
        float(figures.last.text_content())
    )


def test_a_developer_that_is_not_there_leads_to_a_mix_with_one_that_is(service):
    service.radio("pearl").button("Next: the hair").button("What to mix")
    service.tap(service.page.locator("summary", has_text="Permanent: "))
    service.tap(service.page.locator(".way-take", has_text="permanent").first)
    service.button("Mix this").cleared()
    expect(service.page.locator(".ladder")).to_be_visible()
    service.tap(service.page.locator("summary", has_text="Your scale and your developers"))
    service.button("6 %")
    expect(service.page.get_by_text("The mix wants 3 %")).to_be_visible()
    service.button("Choose a mix with 6 %")
    expect(service.page.locator(".answer")).to_be_visible()
    service.visit.unfold("Amount, products, developer")
    expect(service.page.get_by_role("radio", name="6 %", exact=True)).to_be_checked()


def test_a_look_is_answered_in_place_and_a_miss_opens_a_second_mix(begun):
    service = begun().button("Last section on")
    why = service.page.locator(".basin-why")
    expect(why).to_contain_text("best")
    before = why.inner_text()
    service.button("yellower")
    expect(service.page.get_by_role("button", name="Undo: yellower", exact=True)).to_be_visible()
    expect(why).not_to_have_text(before)
    kept = [op for op in service.records("outbox") if op["kind"].startswith("reading")]
    assert [op["fields"]["words"] for op in kept] == ["yellower"]
    assert pixels(service.page.get_by_role("button", name="pinker", exact=True), "height") >= (
        TARGET_PX
    )

    service.rinsed().button("yellower").button("It missed: what now?")
    ways = service.page.get_by_role("region", name="Ways on")
    expect(ways.locator(".mend-name").filter(has_text="Leave it")).to_have_count(1)
    expect(ways.locator(".mend-name").filter(has_text="Wash once")).to_have_count(1)
    service.tap(ways.get_by_role("button", name="Mix this second").first)
    # It may be of another line, which the rules ask about before its grams are shown.
    question = service.page.get_by_role("region", name="Question")
    expect(service.page.locator(".ladder").or_(question).first).to_be_visible()
    second = [op["fields"] for op in service.records("outbox") if "hair" in op["fields"]][-1]
    taken = (op["fields"] for op in service.records("outbox"))
    first = next(fields["mix"] for fields in taken if "mix" in fields)
    assert [mix["parts"] for mix in second["hair"]["already_on"]] == [first["parts"]]


def test_two_zones_are_put_in_order_once_both_have_a_mix(service):
    service.to_the_mix()
    service.tap(service.page.locator("summary", has_text="Another zone")).radio("roots")
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.button("Mix this")
    order = service.page.get_by_role("region", name="Order of work")
    expect(order.locator(".order-words")).to_have_count(4)
    expect(order).to_contain_text("Every zone lands inside its window")
    service.cleared().button("First section on")
    expect(order.locator(".order-due strong")).to_be_visible()
    assert pixels(order.locator(".order-due strong"), "fontSize") >= LARGE_PX
    # What is done goes from the order, whatever was planned first.
    others = order.locator(".order-words").filter(has_text="Put")
    expect(others.first).to_have_text("Put roots on")
    # From here on it is the basin: what is done next on the head is the order and the main act.
    page = service.button("Last section on").page
    expect(page.locator(".basin-order")).to_have_text("Put all over on")
    service.button("Put all over on")
    expect(page.locator(".basin-order")).to_have_text("Finish all over")
    service.button("Last section on: all over")
    expect(page.locator(".basin-order")).to_have_text(re.compile("^Wait"))
    expect(page.locator(".basin-row")).to_have_count(1)
    service.whole_of_the_first()
    expect(order.locator(".order-words")).to_have_text([re.compile("^Rinse")] * 2)


BOXES = """() => [...document.querySelectorAll("[data-strip]"), document.querySelector(
    ".strip-now rect")].map((one) => one.getBoundingClientRect().toJSON())"""


@pytest.mark.parametrize("size", in_turn([LANDSCAPE, DESK]))
def test_zones_that_run_lie_under_one_another_on_one_axis(begun, size):
    service = begun(size, at=OPENS_AT).button("Last section on")
    shown = service.visit
    service.whole()
    strips = service.page.locator("[data-strip]")
    expect(strips).to_have_count(1)
    rows = shown.page.evaluate(ROWS)
    shown.unfold("Another zone")
    service.radio("roots").button("What to mix")
    expect(shown.mixes.first).to_be_attached()
    service.button("Mix this").cleared().page.clock.fast_forward("06:00")
    service.button("First section on").button("Last section on")
    service.whole_of_the_first().radio("roots")
    expect(strips).to_have_count(2)
    # Each keeps its own window, and the one line of now runs through both.
    brackets = service.page.locator(".strip-bracket > text")
    expect(brackets).to_have_text([re.compile("^rinse from")] * 2)
    # Measured at once: what is still coming in above moves all of it.
    own, other, now = service.page.evaluate(BOXES)
    assert strips.nth(1).get_attribute("data-strip") == "all over"
    assert other["y"] > own["y"] + own["height"]
    assert (own["x"] - other["x"]) / (other["width"] / rows) == pytest.approx(6)
    assert now["y"] < own["y"]
    assert now["y"] + now["height"] > other["y"] + other["height"]
    times = service.page.locator(".strip-axis text").all_text_contents()
    assert times
    assert all(re.fullmatch(r"\d+:[0-5][05]( [AP]M)?", time) for time in times)
    service.radio("all over")
    expect(strips.nth(1)).to_have_attribute("data-strip", "roots")
    service.button("Back to the basin").rinsed()
    expect(service.page.locator(".basin h1")).to_contain_text("roots")
    service.whole()
    expect(strips).to_have_count(1)


def lightener_on(service, most="40 min"):
    """Puts a lightener on the first zone, by a leaflet of 40 minutes with a look every five."""
    service.radio("pearl")
    service.tap(service.page.locator("summary", has_text="or a lightener")).radio("a lightener")
    service.button("Next: the hair").button("The lightener")
    begin = service.page.get_by_role("button", name="First section on", exact=True)
    expect(begin).to_be_disabled()  # the leaflet's longest time is never guessed
    service.radio("powder").radio("6\u00a0%").radio(most)
    # What is asked follows from what was chosen: that is kept first.
    expect(service.page.get_by_role("button", name="Held: see why")).to_be_visible()
    return service.cleared().tap(begin)


def with_a_lightener_on(shown):
    """Returns the page's clock in ms, and its address."""
    page = lightener_on(Service(shown).open().of_a_new_client()).page
    expect(page.locator(".order-words")).to_have_text("Look at 5")
    return page.evaluate("Date.now()"), page.url


@pytest.fixture
def lightening(visit, prepared):
    """A service whose first zone has been lightened for less than five minutes."""
    memory, (now_ms, place) = prepared("a lightener on", with_a_lightener_on, OPENS_AT)
    shown = visit(memory=memory)
    shown.page.clock.install(time=now_ms / 1000)
    shown.page.goto(place)
    expect(shown.page.locator(".order-words")).to_have_text("Look at 5")
    return Service(shown)


def test_a_lightener_has_its_looks_and_its_end_and_promises_no_colour(lightening):
    service, page = lightening, lightening.page
    words = page.locator(".order-words")
    expect(words).to_have_text("Look at 5")
    expect(page.get_by_role("link", name="It tingles or burns")).to_be_visible()
    assert pixels(page.locator(".order-figure"), "fontSize") >= LARGE_PX
    expect(page.locator("[data-strip]")).to_have_count(0)
    begun_ms = page.evaluate("Date.now()")
    pause_at(page, (begun_ms + 5.2 * 60_000) / 1000)
    expect(page.locator(".ringing")).to_contain_text("look under the lightener, minute 5")
    expect(words).to_have_text("Look now")
    service.button("Heard")

    # Deep and warm: not yet. The next look counts from this one.
    service.tap(page.get_by_role("radio", name="level 7").first)
    answer = page.get_by_role("region", name="Light enough")
    expect(answer).to_contain_text("More time")
    expect(words).to_have_text("Look again at 10")
    pause_at(page, (begun_ms + 10.2 * 60_000) / 1000)
    service.button("Heard")
    # Two taps are told apart by the page's clock, which does not go on: a key is always meant.
    page.get_by_role("button", name="Last section on").press("Enter")
    service.tap(page.get_by_role("radio", name="level 10, ").nth(1))
    expect(answer).to_contain_text("Light enough")
    expect(words).to_have_text("Rinse now")

    page.clock.resume()
    service.rinsed().button("Tone this hair")
    expect(page.get_by_role("radio", name="all over, toner")).to_be_checked()
    expect(page.get_by_role("radio", name="level 10, ").nth(1)).to_be_checked()
    looks = [op["fields"]["looked"] for op in service.records("outbox") if "looked" in op["fields"]]
    assert [(look["minute"], look["level"]) for look in looks if look] == [(5, 7), (10, 10)]


def wet_reading(level, warmth):
    """What an instrument shows of a wiped, wet strand, as tests/engine hold the engine to."""
    head = heads_of(Hair(level=level, warmth=warmth), {}).centre
    return [round(value, 1) for value in bare_lab(head, "wet")]


def test_the_answer_to_a_look_under_a_lightener_comes_into_sight(lightening):
    service, page = lightening, lightening.page
    page.clock.fast_forward("05:12")
    level = page.get_by_role("radio", name="level 7").first
    level.scroll_into_view_if_needed()
    service.tap(level)
    answer = page.locator(".lighten-verdict")
    expect(answer).to_have_text("More time")
    # A page scrolls by whole pixels, so part of one may be out of sight.
    expect(answer).to_be_in_viewport(ratio=0.99)
    expect(page.locator(".order-words")).to_be_in_viewport(ratio=0.99)


def test_a_look_under_a_lightener_may_be_measured(lightening):
    service, page = lightening, lightening.page
    answer = page.get_by_role("region", name="Light enough")
    orange, palest = wet_reading(7, 1.5), wet_reading(10, 0.5)
    for lab, verdict in ((orange, "More time"), (palest, "Light enough")):
        if not page.get_by_label("L*").is_visible():
            service.tap(page.locator("summary", has_text="Measured, as L*, a*, b*"))
        for name, value in zip(("L*", "a*", "b*"), lab, strict=True):
            page.get_by_label(name).fill(str(value))
        service.button("Look by this reading")
        expect(answer).to_contain_text(verdict)
    looks = [op["fields"]["looked"] for op in service.records("outbox") if "looked" in op["fields"]]
    assert [look["lab"] for look in looks if look] == [orange, palest]
    # The toner starts from the hair as it was measured.
    service.button("Last section on").rinsed().button("Tone this hair")
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    hair = [op["fields"]["hair"] for op in service.records("outbox") if op["fields"].get("hair")]
    assert hair[-1]["reading"] == {"lab": palest, "state": "wet"}


def test_the_leaflets_end_of_a_lightener_is_said_and_rings_whatever_was_seen(visit):
    shown = visit()
    shown.page.clock.install(time=OPENS_AT)
    service = lightener_on(Service(shown).open().of_a_new_client(), most="20 min")
    expect(service.page.locator(".order-words")).to_be_visible()
    begun_ms = service.page.evaluate("Date.now()")
    pause_at(service.page, (begun_ms + 20.2 * 60_000) / 1000)
    expect(service.page.locator(".order-words")).to_have_text("Rinse now")
    expect(service.page.locator(".ringing")).to_contain_text("the leaflet’s time is over")


def test_the_result_is_mostly_filled_and_keeps_a_photo_and_a_note_on_one_screen(begun):
    service = begun()
    page = service.button("Last section on").rinsed().page
    expect(page.locator(".patches")).to_contain_text("0 minutes on")
    # Asked once, beside what was foretold of this head.
    said = service.button("yellower").page.get_by_role("group", name="Dry, all over is")
    expect(said.get_by_role("button", name="yellower")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("radio", name="warmer", exact=True)).to_have_count(0)
    photo = page.screenshot(type="png")
    page.get_by_label("Photo of the result").set_input_files(
        {"name": "result.png", "mimeType": "image/png", "buffer": photo}
    )
    expect(page.get_by_role("img", name="the result")).to_be_visible()
    page.get_by_label("Note").fill("Porous at the ends.")
    service.button("Keep the note").radio("6 weeks")
    # The button is on at the tap; the day stands beside it once it is kept.
    weeks = page.get_by_role("group", name="Next visit of Wren Aldous")
    expect(weeks.locator(".quiet")).to_be_visible()
    page.reload()
    expect(page.get_by_role("img", name="the result")).to_be_visible()
    expect(page.get_by_role("radio", name="6 weeks")).to_be_checked()
    kept = [op["fields"]["result"] for op in service.records("outbox") if "result" in op["fields"]]
    assert kept[-1]["words"] == "warmer"
    assert len(kept[-1]["photo"]) == 64  # a SHA-256
    # On paper the photo of a whole screen leaves the page room for what stands around it.
    page.goto(page.url.replace("#/service/", "#/record/"))
    service.tap(page.get_by_label("With photos"))
    shown = page.locator(".consultation .photo img")
    expect(shown).to_be_visible()
    page.emulate_media(media="print")
    expect(shown).to_have_css("max-height", MOST_PRINTED_PX)
    assert shown.bounding_box()["height"] <= PRINTED_CM * 96 / 2.54 + 1
