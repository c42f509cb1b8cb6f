"""The next visit is planned with one tap, on its day, with the wish and the mix of this one."""

import re

from playwright.sync_api import expect
from test_day import heading, link, rows
from test_service import Service


def planned(service):
    return service.page.get_by_role("group", name="Next visit of Wren Aldous")


def at_the_result(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T10:00:00")
    service = Service(shown).open().of_a_new_client().to_the_clock()
    service.button("Last section on").rinsed().button("as shown")
    return service


def services(service):
    """Each service on this phone's record, with what its operations say in the end."""
    made = {}
    for op in service.records("outbox"):
        if op["kind"].startswith("service."):
            made.setdefault(op["entity_id"], {}).update(op.get("fields", {}))
    return list(made.values())


def test_a_next_visit_stands_on_its_day_with_the_wish_and_the_mix_of_this_one(visit):
    service = at_the_result(visit).radio("6 weeks")
    page = service.page
    expect(planned(service)).to_contain_text("Planned for Sat, Jan 9, 2027, 10:00")
    service.button("a week later").button("a week later").button("a week earlier")
    expect(planned(service)).to_contain_text("Planned for Sat, Jan 16, 2027, 10:00")
    expect(page.get_by_text("7 weeks", exact=True)).to_be_visible()
    of_this_client = services(service)
    assert len(of_this_client) == 2
    assert len({one["client"] for one in of_this_client}) == 1
    assert {one.get("next_visit") for one in of_this_client} == {None, "2027-01-16"}
    zones = {}
    for op in service.records("outbox"):
        if op["kind"].startswith("zone."):
            zones.setdefault(op["entity_id"], {}).update(op.get("fields", {}))
    here, there = zones.values()
    assert here["service"] != there["service"]
    for carried in ("wish", "mix", "products", "name"):
        assert there[carried] == here[carried]
    assert there.get("window") is None
    assert "first_section_at" not in there
    service.open("today/2027-01-09")
    expect(rows(service)).to_have_count(0)
    service.open("today/2027-01-16")
    expect(rows(service)).to_contain_text("Wren Aldous")
    expect(rows(service)).not_to_contain_text("nothing mixed yet")
    service.tap(rows(service).first)
    expect(page.locator("#wish .fold-line")).to_contain_text("pearl")


def test_a_next_visit_is_taken_away_brought_back_and_kept_apart_from_a_visit_in_hand(visit):
    service = at_the_result(visit).radio("4 weeks")
    page = service.page
    expect(planned(service)).to_contain_text("Sat, Dec 26, 2026")
    service.button("No next visit")
    expect(planned(service).get_by_role("radio", name="4 weeks")).not_to_be_checked()
    service.open("today/2026-12-26")
    expect(rows(service)).to_have_count(0)
    page.go_back()
    service.radio("4 weeks")
    expect(planned(service)).to_contain_text("Sat, Dec 26, 2026")
    assert len(services(service)) == 2
    service.open("today/2026-12-26")
    expect(rows(service)).to_have_count(1)


def test_a_next_visit_is_planned_from_the_clients_page_and_moved_by_the_week(visit):
    service = at_the_result(visit)
    service.button("End the service").button("Back to today")
    service.page.clock.set_fixed_time("2026-12-01T16:30:00")
    service.open("clients")
    service.tap(service.page.locator("a[href^='#/client/']").first)
    service.radio("6 weeks")
    # By the same time on the wall as the visit before, weeks from today.
    expect(planned(service)).to_contain_text("Planned for Tue, Jan 12, 2027, 10:00")
    link(service, re.compile("^Next visit: Tue, Jan 12, 2027"))
    expect(service.page.locator(".planned-at summary")).to_contain_text("Tue, Jan 12, 2027")
    service.open("today/2027-01-12")
    expect(heading(service)).to_contain_text("1 visit")


def test_a_corrected_name_goes_with_every_record_of_the_client(visit):
    service = at_the_result(visit).radio("6 weeks")
    page = service.page
    service.open("clients")
    service.tap(page.locator("a[href^='#/client/']").first)
    service.tap(page.locator("summary", has_text="Name and number"))
    name = page.get_by_label(re.compile("^Name"))
    name.fill("")
    expect(page.get_by_text("A client needs a name. It stays Wren Aldous.")).to_be_visible()
    name.blur()
    expect(page.get_by_role("heading", name="Wren Aldous")).to_be_visible()
    name.fill("Wren Aldous-Pell")
    name.blur()
    expect(page.get_by_role("heading", name="Wren Aldous-Pell")).to_be_visible()
    for day in ("2026-11-28", "2027-01-09"):
        service.open(f"today/{day}")
        expect(rows(service)).to_contain_text("Wren Aldous-Pell")
    names = [op["fields"] for op in service.records("outbox") if op["kind"] == "client.create"]
    assert len(names) == 1
