"""Any day is seen and planned: the arrows, the address, the form at the thumb, what is open."""

import re

import pytest
from playwright.sync_api import expect
from test_service import Service

SATURDAY = "2026-11-28T09:07:00"
VISITS = (("Wren Aldous", "09:05"), ("Oona Pell", "10:40"), ("Tam Ferris", "22:40"))
# Where each row's time ends and its name begins, and how high the time is, in px.
ROW_BOXES = """() => [...document.querySelectorAll(".day-row")].map((row) => {
  const [time, name] = [".day-time", ".day-name"].map((part) =>
    row.querySelector(part).getBoundingClientRect());
  return { end: time.right, name: name.left, lines: time.height };
})"""


def on_saturday(visit, **options):
    shown = visit(**options)
    shown.page.clock.install(time=SATURDAY)
    return Service(shown).open()


def rows(service):
    return service.page.locator(".day-row")


def link(service, name):
    return service.tap(service.page.get_by_role("link", name=name, exact=isinstance(name, str)))


def heading(service):
    return service.page.get_by_role("heading", level=2)


def test_a_visit_is_planned_on_another_day_and_stands_there_after_a_reload(visit):
    service = on_saturday(visit)
    page = service.page
    expect(heading(service)).to_have_text("Sat, Nov 28")
    link(service, "The day after")
    expect(heading(service)).to_have_text("Sun, Nov 29")
    assert page.url.endswith("#/today/2026-11-29")
    service.button("New service")
    page.get_by_label("Client’s name").fill("Ruth Ember")
    page.get_by_label("Or type the time").fill("10:40")
    service.button("New client")
    expect(page.locator(".planned-at summary")).to_contain_text("Sun, Nov 29, 2026")
    expect(page.locator(".planned-at summary")).to_contain_text("10:40")
    page.go_back()
    expect(rows(service)).to_have_count(1)
    page.reload()
    expect(rows(service)).to_contain_text(["Ruth Ember"])
    expect(heading(service)).to_contain_text("1 visit")
    link(service, "Back to today")
    expect(heading(service)).to_have_text("Sat, Nov 28")
    expect(page.get_by_text("No visits yet.")).to_be_visible()
    # The phone's own way back leads through the days.
    page.go_back()
    expect(heading(service)).to_contain_text("Sun, Nov 29")


def test_a_day_of_the_past_shows_its_year_and_what_came_of_its_visits(visit):
    service = on_saturday(visit).of_a_new_client("Ruth Ember")
    service.page.clock.set_fixed_time("2027-01-04T09:00:00")
    service.open("today/2026-11-28")
    expect(heading(service)).to_contain_text("Sat, Nov 28, 2026")
    expect(rows(service)).to_contain_text("not done, no reason kept")
    service.open("today/no-day-at-all")
    expect(heading(service)).to_have_text("Mon, Jan 4")


def test_a_far_day_is_one_field_away_and_the_week_shows_how_full_it_is(visit):
    service = on_saturday(visit).of_a_new_client("Ruth Ember").open()
    page = service.page
    service.tap(page.locator("summary", has_text="Another day"))
    week = page.locator(".week a")
    expect(week).to_have_count(7)
    expect(week.nth(5)).to_have_text("Sat, Nov 281")
    expect(week.nth(5)).to_have_attribute("aria-current", "date")
    expect(week.nth(0)).to_have_attribute("href", "#/today/2026-11-23")
    service.tap(week.nth(0))
    expect(heading(service)).to_have_text("Mon, Nov 23, 2026")
    expect(heading(service)).to_be_in_viewport(ratio=1)
    expect(week.first).not_to_be_visible()
    service.tap(page.locator("summary", has_text="Another day"))
    page.get_by_label("Day", exact=True).fill("2027-01-12")
    page.get_by_label("Day", exact=True).dispatch_event("change")
    expect(heading(service)).to_have_text("Tue, Jan 12, 2027")
    expect(rows(service)).to_have_count(0)


def test_while_a_visit_is_planned_its_main_action_is_the_white_one_at_the_thumb(visit):
    service = on_saturday(visit).button("New service")
    new = service.page.locator(".bar").get_by_role("button", name="New client", exact=True)
    expect(new).to_be_disabled()
    service.page.get_by_label("Client’s name").fill("Ruth Ember")
    expect(new).to_be_enabled()
    bar, help_button = new.bounding_box(), service.page.get_by_role("button", name="Help")
    assert bar["width"] > 2 * help_button.bounding_box()["width"]
    # What is half filled belongs to no day: it goes with the arrows.
    link(service, "The day after")
    expect(service.page.get_by_label("Client’s name")).to_have_value("Ruth Ember")
    service.tap(new)
    expect(service.page.locator(".planned-at summary")).to_contain_text("Nov 29, 2026, 9:00")


def test_a_service_that_runs_over_midnight_stays_in_the_list_of_today(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T23:40:00")
    service = Service(shown).open().of_a_new_client("Ruth Ember").to_the_clock()
    shown.page.clock.set_fixed_time("2026-11-29T00:10:00")
    service.open()
    expect(heading(service)).to_contain_text("Sun, Nov 29")
    expect(rows(service)).to_contain_text(re.compile("Ruth Ember.*since Sat, Nov 28, 2026"))
    service.open("today/2026-11-28")
    expect(rows(service)).to_have_count(1)


def test_the_day_moves_on_at_midnight_while_the_page_is_open(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T23:59:50")
    service = Service(shown).open()
    expect(heading(service)).to_have_text("Sat, Nov 28")
    shown.page.clock.run_for(60_000)
    expect(heading(service)).to_have_text("Sun, Nov 29")


def test_the_desk_moves_on_to_the_visits_of_the_new_day(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T23:59:50")
    service = Service(shown).open("today/2026-11-29").of_a_new_client("Ruth Ember").open("desk")
    floor = service.page.get_by_role("region", name="Floor")
    expect(floor.get_by_text("Running services show here.")).to_be_visible()
    shown.page.clock.run_for(60_000)
    expect(floor.get_by_role("row").filter(has_text="Ruth Ember")).to_be_visible()


def test_a_visit_that_never_began_is_listed_until_it_is_moved_or_called_off(visit):
    service = on_saturday(visit).of_a_new_client("Ruth Ember").open().of_a_new_client("Tam Ferris")
    page = service.page
    page.clock.set_fixed_time("2026-12-01T09:00:00")
    service.open()
    expect(rows(service).locator("visible=true")).to_have_count(0)
    service.tap(page.locator("summary", has_text="Not begun on their day: 2"))
    expect(rows(service)).to_contain_text(["Ruth Ember", "Tam Ferris"])
    service.tap(rows(service).first)
    service.tap(page.locator(".planned-at summary"))
    page.get_by_label("Day", exact=True).fill("2026-12-01")
    page.get_by_label("Time", exact=True).fill("11:30")
    service.button("Move the visit")
    expect(page.locator(".planned-at summary")).to_contain_text("Tue, Dec 1, 2026, 11:30")
    service.open()
    expect(rows(service).first).to_contain_text("11:30")
    service.tap(page.locator("summary", has_text="Not begun on their day: 1"))
    service.tap(rows(service).last)
    service.tap(page.locator(".planned-at summary"))
    service.radio("did not come")
    service.open()
    expect(rows(service)).to_have_count(1)
    expect(page.locator("summary", has_text="Not begun")).to_have_count(0)


def three_visits(shown):
    """Plans three visits of one day, in the morning and in the evening."""
    shown.page.clock.install(time=SATURDAY)
    service = Service(shown).open()
    for name, time in VISITS:
        service.open().button("New service")
        service.page.get_by_label("Client’s name").fill(name)
        service.page.get_by_label("Or type the time").fill(time)
        service.button("New client")
        expect(service.page.get_by_role("link", name=name)).to_be_visible()


# As Unicode CLDR writes a time in each language: 12 hours in en-US, 24 in the others.
@pytest.mark.parametrize(
    ("locale", "times"),
    [
        ("en-US", [r"^9:05\sAM$", r"^10:40\sAM$", r"^10:40\sPM$"]),
        ("en-GB", ["^09:05$", "^10:40$", "^22:40$"]),
        ("de-DE", ["^09:05$", "^10:40$", "^22:40$"]),
    ],
)
def test_times_are_as_in_the_phones_language_and_the_names_line_up(visit, prepared, locale, times):
    memory, _ = prepared("three visits of a day", three_visits)
    service = on_saturday(visit, memory=memory, locale=locale)
    page = service.page
    expect(rows(service).locator(".day-time")).to_have_text([re.compile(time) for time in times])
    page.evaluate("document.fonts.ready.then(() => {})")
    for width in (320, 390):
        page.set_viewport_size({"width": width, "height": 844})
        boxes = page.evaluate(ROW_BOXES)
        assert len(boxes) == len(VISITS)
        for part in ("end", "name", "lines"):
            assert len({round(box[part], 1) for box in boxes}) == 1, f"{part}: {boxes}"
