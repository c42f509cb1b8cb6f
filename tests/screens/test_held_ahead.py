"""Who will be held tomorrow shows today, in the words of the rules, one tap from the test."""

from playwright.sync_api import expect
from test_day import link, rows
from test_service import OPENS_AT, Service


def tomorrow_with_a_new_client(visit, **options):
    shown = visit(**options)
    shown.page.clock.install(time="2026-11-28T18:00:00")
    service = Service(shown).open("today/2026-11-29").of_a_new_client("Ruth Ember")
    return service.open()


def ahead(service):
    return service.page.locator(".ahead")


def test_a_missing_test_shows_the_day_before_and_leads_to_a_new_one(visit):
    service = tomorrow_with_a_new_client(visit)
    expect(ahead(service)).to_contain_text("Tomorrow: 1 of 1 visit will be held")
    expect(ahead(service)).to_contain_text("Ruth Ember, 9:00")
    expect(ahead(service)).to_contain_text("No alert test yet.")
    expect(ahead(service)).to_contain_text("Too late for a new one by then: move the visit.")
    link(service, "Put on a test")
    expect(service.page.get_by_role("heading", name="Ruth Ember")).to_be_visible()
    assert "#/new_test/" in service.page.url


def test_a_visit_of_today_that_is_held_says_so_in_its_row(cleared):
    service = cleared(at=OPENS_AT)
    service.open().of_a_new_client("Ruth Ember").open()
    held = rows(service).filter(has_text="Ruth Ember")
    expect(held.locator(".day-held")).to_have_text("Held")
    expect(held).to_contain_text("No alert test")
    # Everything is answered of the other, and its test holds.
    expect(rows(service).filter(has_text="Wren Aldous")).to_contain_text("Quill")
    expect(service.page.locator(".day-held")).to_have_count(1)
    service.tap(held)
    expect(service.page.get_by_role("link", name="Ruth Ember")).to_be_visible()


def test_the_desk_says_tomorrows_holds_too(visit):
    service = tomorrow_with_a_new_client(visit).open("desk")
    expect(service.page.get_by_role("heading", name="Floor")).to_be_visible()
    expect(ahead(service)).to_contain_text("Tomorrow: 1 of 1 visit will be held")
    expect(ahead(service)).to_contain_text("Ruth Ember, 9:00")


def test_a_visit_next_week_says_on_its_own_day_by_when_a_test_helps(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T18:00:00")
    service = Service(shown).open("today/2026-12-04").of_a_new_client("Ruth Ember").open()
    expect(service.page.locator(".day-head")).to_be_visible()
    expect(ahead(service)).to_have_count(0)
    service.open("today/2026-12-04")
    # 48 hours before nine on Friday (FDA-QA, UK-AAT in docs/safety.md).
    expect(ahead(service)).to_contain_text("Put a new one on by Wed, Dec 2, 9:00")


def test_a_regular_whose_test_was_for_one_service_is_held_at_the_next_visit(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T10:00:00")
    service = Service(shown).open().of_a_new_client().to_the_clock()
    service.button("Last section on").rinsed().button("as shown").radio("6 weeks")
    expect(shown.page.get_by_text("Planned for Sat, Jan 9, 2027")).to_be_visible()
    service.button("End the service").button("Back to today")
    shown.page.clock.set_fixed_time("2027-01-08T18:00:00")
    # Already on today's page, which would notice the new day only with its next beat.
    shown.page.reload()
    expect(ahead(service)).to_contain_text("Tomorrow: 1 of 1 visit will be held")
    expect(ahead(service)).to_contain_text("The test on file has lapsed.")
    expect(ahead(service).get_by_role("link", name="Put on a test")).to_be_visible()
