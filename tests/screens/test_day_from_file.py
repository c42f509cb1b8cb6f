"""The day out of a calendar file, by touch, and what is said of what was not understood."""

from playwright.sync_api import expect
from test_service import Service


def calendar_of(day):
    """A calendar as RFC 5545 has it: two appointments without a zone, one day without a time."""
    events = [
        ("one@demo", f"DTSTART:{day}T100000", "Zoë Marek"),
        ("two@demo", f"DTSTART:{day}T143000", "Ines Demo"),
        ("three@demo", f"DTSTART;VALUE=DATE:{day}", "Stocktaking"),
    ]
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0"]
    for uid, start, summary in events:
        lines += ["BEGIN:VEVENT", f"UID:{uid}", start, f"SUMMARY:{summary}", "END:VEVENT"]
    text = "\r\n".join([*lines, "END:VCALENDAR", ""])
    return {"name": "day.ics", "mimeType": "text/calendar", "buffer": text.encode()}


def test_a_day_is_taken_from_a_file_once_however_often_it_is_brought_in(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open()
    page = service.page
    service.button("Import a day")
    choose = page.get_by_label("Choose the file")
    choose.set_input_files({"name": "x.ics", "mimeType": "", "buffer": b"BEGIN:VCALENDAR\r\n"})
    expect(page.get_by_role("alert")).to_contain_text("cut: what begins on line 1")
    file = calendar_of("20261128")
    choose.set_input_files(file)
    expect(page.get_by_text("2 understood, 1 not.")).to_be_visible()
    expect(page.get_by_text("Line 13: “Stocktaking”: for the whole day")).to_be_visible()
    expect(page.locator(".day-row")).to_have_count(0)
    service.button("Take 2")
    expect(page.locator(".day-row")).to_have_count(2)
    expect(page.locator(".day-row").first).to_contain_text("Zoë Marek")

    service.button("Import a day")
    page.get_by_label("Choose the file").set_input_files(file)
    expect(page.get_by_text("here already")).to_have_count(2)
    expect(page.get_by_role("button", name="Take 0")).to_be_disabled()


def test_a_name_that_two_clients_have_is_taken_once_it_is_said_who_is_meant(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open().of_a_new_client("Zoë Marek")
    service.open().button("New service")
    page = service.page
    page.get_by_label("Client’s name").fill("Zoë Marek")
    service.button("Another client of this name")
    expect(page.get_by_role("heading", name="Zoë Marek")).to_be_visible()
    service.open()
    expect(page.locator(".day-row")).to_have_count(2)
    service.button("Import a day")
    page.get_by_label("Choose the file").set_input_files(calendar_of("20261128"))
    expect(page.get_by_text("2 clients fit")).to_be_visible()
    take = page.get_by_role("button", name="Take", exact=False)
    expect(take).to_be_disabled()
    expect(page.get_by_text("Choose the client if several fit")).to_be_visible()
    asked = page.get_by_role("group", name="Who is “Zoë Marek”")
    service.tap(asked.get_by_role("radio").nth(1))
    expect(take).to_be_enabled()
    service.tap(take)
    expect(page.locator(".day-row")).to_have_count(4)
    names = [
        op["fields"]["name"] for op in service.records("outbox") if op["kind"] == "client.create"
    ]
    assert sorted(names) == ["Ines Demo", "Zoë Marek", "Zoë Marek"]


def test_a_file_that_is_too_large_is_refused_and_nothing_of_it_taken(visit):
    service = Service(visit()).open().button("Import a day")
    huge = calendar_of("20261128") | {"name": "years.ics"}
    huge["buffer"] += b" " * (8 * 1024 * 1024)
    service.page.get_by_label("Choose the file").set_input_files(huge)
    expect(service.page.get_by_role("alert")).to_contain_text("the most is 8 MB")
    expect(service.page.get_by_role("button", name="Take", exact=False)).to_have_count(0)
