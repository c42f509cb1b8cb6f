"""An alert test from the dab to the reading, and what a phone with no answer can still say of it.

Sources: 48 hours are those of the FDA's and the UK trade's advice on alert tests (read in stored
copies, docs/safety.md); elapsed hours across the change of clocks are compared with Python's zone
tables; the calendar file's lines are those of RFC 5545 (3.1 line length, 3.6.6 alarms).
"""

import datetime as dt
import re
from pathlib import Path
from typing import get_args
from zoneinfo import ZoneInfo

import pytest
from cleared import read_by
from playwright.sync_api import expect
from test_service import Service
from visit import pause_at

from basinside.contract.safety_facts import TestResult
from basinside.engine.safety.skin_test import LEAST_HOURS

ROOT = Path(__file__).resolve().parents[2]

BERLIN = ZoneInfo("Europe/Berlin")
MOST_TAPS_FROM_PAPER = 8
A_MINUTE = dt.timedelta(minutes=1)


def test_the_page_has_the_engines_own_hours_and_words():
    source = (ROOT / "web" / "src" / "salon" / "alert_tests" / "alert_tests.ts").read_text()
    assert f"LEAST_HOURS = {LEAST_HOURS:.0f};" in source
    listed = source[source.index("RESULTS = [") : source.index("] as const;")]
    assert set(re.findall(r'\["(\w+)",', listed)) == set(get_args(TestResult)) - {"not_read"}


def client(visit, name="Wren Aldous", at=None):
    """A client on the phone, at their page; `at` sets the page's clock before the first record."""
    if at is not None:
        visit.page.clock.install(time=at)
    service = Service(visit).open().of_a_new_client(name)
    service.page.get_by_role("link", name=name).tap()
    expect(service.page.get_by_role("heading", name=name)).to_be_visible()
    service.taps = 0
    return service


def begun(visit, at=None):
    service = client(visit, at=at)
    service.tap(service.page.get_by_role("link", name="New alert test"))
    service.tap(service.page.get_by_role("group", name="Which line").get_by_role("radio").first)
    return service


def kept(service, field):
    """What was written of alert tests, in order."""
    return [
        operation["fields"][field]
        for operation in service.records("outbox")
        if field in operation.get("fields", {})
    ]


def put_on(service):
    """Puts the test on; returns the instant that the record says, by the page's clock."""
    service.radio("behind the ear").button("It is on")
    expect(service.page.locator(".test-standing")).to_contain_text("read it from")
    return dt.datetime.fromisoformat(kept(service, "applied_at")[-1])


def stop_the_clock(page, at):
    """Moves the page's clock to an instant and holds it there, however slow the machine is."""
    pause_at(page, at)


def test_a_test_is_put_on_waits_and_is_read_with_a_name(visit):
    service = begun(visit(), at=dt.datetime(2026, 11, 26, 10, 15, tzinfo=dt.UTC))
    page = service.page
    expect(page.get_by_text(re.compile(r"[\d.]+\sg colour, [\d.]+\sg developer"))).to_be_visible()
    due = put_on(service) + dt.timedelta(hours=48)
    # Before its time a clear spot may still react: only a reaction can be kept.
    expect(page.get_by_role("radio", name="redness")).to_be_attached()
    expect(page.get_by_role("radio", name="no reaction")).to_have_count(0)
    stop_the_clock(page, due - A_MINUTE)
    expect(page.get_by_role("radio", name="no reaction")).to_have_count(0)
    stop_the_clock(page, due + A_MINUTE)
    expect(page.locator(".test-standing")).to_have_text("read it now")
    page.clock.resume()
    service.radio("no reaction")
    keep = page.locator(".bar .step-main")
    expect(keep).to_be_disabled()
    page.get_by_label("Read by, by name").fill("Ana")
    service.tap(keep)
    expect(page.locator(".test-standing")).to_have_text("no reaction, read by Ana")
    expect(page.get_by_text("does not rule a reaction out")).to_be_visible()
    assert kept(service, "read_by") == ["Ana"]
    # The reading leads on, to the visit that it was for.
    service.tap(page.get_by_role("link", name="Go to the visit"))
    expect(page.get_by_role("radio", name="pearl", exact=True)).to_be_visible()


def test_a_spot_that_reacted_leads_to_the_record_and_not_to_another_line(visit):
    service = begun(visit())
    put_on(service)
    service.radio("blisters")
    service.page.get_by_label("Read by, by name").fill("Ana")
    service.button("Keep the reading")
    expect(service.page.get_by_text("Do not colour with this line.")).to_be_visible()
    service.tap(service.page.get_by_role("link", name="Record the reaction"))
    expect(service.page.get_by_text("Rinse now. Take all of it off.")).to_be_visible()


@pytest.mark.parametrize(
    "on",
    [
        dt.datetime(2026, 3, 28, 11, 0, tzinfo=BERLIN),
        dt.datetime(2026, 10, 24, 11, 0, tzinfo=BERLIN),
    ],
    ids=["clocks go forward", "clocks go back"],
)
def test_when_to_read_it_is_48_elapsed_hours_on_the_wall(visit, on):
    service = begun(visit(timezone_id="Europe/Berlin", locale="en-GB"), at=on)
    applied = put_on(service).astimezone(BERLIN)
    due = (applied.astimezone(dt.UTC) + dt.timedelta(hours=48)).astimezone(BERLIN)
    assert due.hour != applied.hour
    expect(service.page.locator(".test-standing")).to_contain_text(due.strftime("%H:%M"))


def test_a_reminder_goes_to_the_phones_own_calendar(visit):
    on = dt.datetime(2026, 3, 28, 10, 0, tzinfo=dt.UTC)
    service = begun(visit(timezone_id="Europe/Berlin"), at=on)
    page = service.page
    due = put_on(service) + dt.timedelta(hours=48)
    page.evaluate("navigator.canShare = undefined")
    with page.expect_download() as download:
        service.button("Reminder for the phone’s calendar")
    text = download.value.path().read_bytes().decode()
    assert f"DTSTART:{due.astimezone(dt.UTC):%Y%m%dT%H%M%S}Z\r\n" in text, text
    for line in ("BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:", "UID:", "DTSTAMP:2026"):
        assert f"\r\n{line}" in text, text
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75


def test_a_test_on_paper_is_taken_over_in_few_taps(visit):
    service = client(visit())
    page = service.page
    service.tap(page.get_by_role("link", name="New alert test"))
    service.tap(page.get_by_role("group", name="Which line").get_by_role("radio").first)
    service.radio("done on paper")
    on_paper(service, "2026-01-15", "2026-01-18")
    expect(page.locator(".test-standing")).to_have_text("no reaction, read by Ana, from paper")
    assert service.taps <= MOST_TAPS_FROM_PAPER
    # Without an hour it is never older, and never read later, than it may be.
    assert [applied[:16] for applied in kept(service, "applied_at")] == ["2026-01-15T23:59"]
    assert [read[:16] for read in kept(service, "read_at")] == ["2026-01-18T00:00"]


def test_the_days_of_a_paper_test_are_chosen_by_a_tap(visit):
    service = begun(visit())
    service.radio("done on paper")
    on = service.page.get_by_role("group", name="Put on", exact=True)
    read = service.page.get_by_role("group", name="Read", exact=True)
    service.tap(on.get_by_role("button", name="a week ago"))
    service.tap(read.get_by_role("button", name="3 days later"))
    days = [dt.date.fromisoformat(one.get_by_label("Day").input_value()) for one in (on, read)]
    assert days[1] - days[0] == dt.timedelta(days=3)
    # A test of two days ago cannot have been read three days later.
    service.tap(on.get_by_role("button", name="2 days ago"))
    expect(read.get_by_role("button", name="3 days later")).to_have_count(0)


def test_days_that_may_be_less_than_48_hours_apart_ask_for_their_hours(visit):
    service = begun(visit())
    service.radio("done on paper")
    on = service.page.get_by_role("group", name="Put on", exact=True)
    read = service.page.get_by_role("group", name="Read", exact=True)
    on.get_by_label("Day").fill("2026-01-15")
    read.get_by_label("Day").fill("2026-01-17")
    expect(read).to_contain_text("That is not surely 48 hours later. Both hours may help.")
    on.get_by_label("Hour").fill("10:00")
    read.get_by_label("Hour").fill("10:00")
    expect(read).not_to_contain_text("not surely")
    read.get_by_label("Day").fill("2026-01-14")
    expect(read).to_contain_text("It was read before it was put on")
    expect(service.page.locator(".main-action")).to_be_disabled()


def test_a_day_to_come_is_no_day_of_a_test(visit):
    service = begun(visit())
    service.radio("done on paper")
    service.page.get_by_label("Day").first.fill("2099-01-01")
    expect(service.page.get_by_text("That day is still to come")).to_be_visible()
    expect(service.page.locator(".main-action")).to_be_disabled()


def test_who_comes_without_a_test_is_on_the_list_with_the_time_it_has_to_be_on(visit):
    service = Service(visit()).open().of_a_new_client()
    service.to_the_mix()
    page = service.page
    service.open("tests")
    row = page.locator(".test-row", has_text="Wren Aldous")
    expect(row).to_contain_text("No test.")
    expect(row).to_contain_text("Put a new one on by")
    expect(row.get_by_role("link", name="Put on a test")).to_be_visible()


def test_with_no_answer_the_list_says_so_and_still_stands(visit):
    service = Service(visit()).open().of_a_new_client()
    service.to_the_mix()
    service.page.route("**/api/safety/**", lambda route: route.abort())
    service.open("tests")
    row = service.page.locator(".test-row", has_text="Wren Aldous")
    expect(row).to_contain_text("The safety rules did not answer.")
    expect(row.get_by_role("link", name="Put on a test")).to_be_visible()


def test_a_test_that_is_due_says_so_over_every_place_until_it_is_heard(visit):
    service = begun(visit(), at=dt.datetime(2026, 11, 26, 10, 15, tzinfo=dt.UTC))
    page = service.page
    due_at = put_on(service) + dt.timedelta(hours=48)
    service.open("clients")
    due = page.get_by_role("alert").filter(has_text="Read the alert test: Wren Aldous")
    stop_the_clock(page, due_at - A_MINUTE)
    expect(due).to_have_count(0)
    stop_the_clock(page, due_at + A_MINUTE)
    expect(due).to_be_visible()
    page.clock.resume()
    service.tap(due.get_by_role("link"))
    expect(page.locator(".test-standing")).to_have_text("read it now")
    service.open("today")
    expect(page.get_by_role("link", name="Alert tests: 1 to read now")).to_be_visible()
    due.get_by_role("button", name="Heard").tap()
    expect(due).to_have_count(0)
    # So that every other phone is silent too.
    as_heard = f"heard.read {due_at:%Y-%m-%dT%H:%M:%S}Z"
    assert [op for op in service.records("outbox") if as_heard in op.get("fields", {})]
    page.reload()
    expect(page.get_by_role("link", name="Alert tests: 1 to read now")).to_be_visible()
    expect(due).to_have_count(0)


def test_a_read_test_holds_once_or_for_the_insurers_months(visit):
    # Months are calendar months (UK-AAT-3); the last day is the engine's, compared with the
    # calendar by tests/engine/test_safety_time.py.
    service = Service(visit(timezone_id="Europe/London")).open().of_a_new_client()
    service.to_the_mix()
    page = service.page
    page.get_by_role("link", name="Wren Aldous").tap()
    page.get_by_role("link", name="New alert test").tap()
    service.radio(mixed_line(service)).radio("done on paper")
    today = dt.datetime.now(dt.UTC)
    days = (f"{today - dt.timedelta(days=ago):%Y-%m-%d}" for ago in (45, 42))
    on_paper(service, *days)
    page.get_by_role("link", name="Settings").tap()
    service.radio("1 month")
    expect(page.locator(".bar")).to_contain_text("An alert test holds for 1 month.")
    expect(page.get_by_text("By the insurer’s terms, read by Ana")).to_be_visible()
    # Whose rules let months count is the rule book's (tests/engine/test_safety_time.py).
    once = page.get_by_text("Not under these rules: each test serves one service.")
    expect(once).to_be_visible()
    service.radio("the United Kingdom")
    expect(once).to_have_count(0)
    service.radio("elsewhere")
    expect(once).to_be_visible()
    service.open("tests")
    row = page.locator(".test-row", has_text="Wren Aldous").last
    expect(row).to_contain_text("It will have run out.")
    service.open("settings")
    service.radio("3 months")
    service.open("tests")
    expect(row).to_contain_text("Clear. It holds until ")


def on_paper(service, on, read):
    """Enters what stands on a paper without hours."""
    for label, day in (("Put on", on), ("Read", read)):
        moment = service.page.get_by_role("group", name=label, exact=True)
        moment.get_by_label("Day").fill(day)
    service.radio("no reaction").radio("the salon").radio("no, none")
    read_by(service.page, service.tap, "Ana")
    service.button("Keep this test")


def mixed_line(service):
    """The line of what is mixed, as the phone wrote it."""
    products = [
        product
        for operation in service.records("outbox")
        for product in operation.get("fields", {}).get("products") or []
    ]
    return products[0]["line"]


def test_gloves_and_air_are_said_once_where_they_matter(visit):
    shown = visit()
    shown.page.clock.install()
    service = Service(shown).open().of_a_new_client()
    hands = service.page.get_by_role("region", name="Your hands and the air")
    expect(hands).to_have_count(0)
    service.to_the_mix()
    expect(hands).to_have_count(0)  # held, nothing is mixed
    service.cleared()
    expect(hands).to_contain_text("Put gloves on")
    service.tap(hands.get_by_role("button", name="Done"))
    expect(hands).to_have_count(0)
    service.button("First section on")
    expect(service.countdown).to_be_visible()
    expect(hands).to_have_count(0)  # the rinse is far
    shown.page.clock.fast_forward("06:30")
    expect(hands).to_contain_text("Put fresh gloves on for rinse")
    expect(hands).to_be_in_viewport()
    service.page.reload()
    service.tap(hands.get_by_role("button", name="Done"))
    expect(hands).to_have_count(0)
    service.page.reload()
    expect(service.countdown).to_be_visible()
    expect(hands).to_have_count(0)
