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
    expect(page.get_by_role("alert")).to_contain_text("Line 1: what begins here")
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
    expect(page.get_by_text("Say who is meant: Zoë Marek.")).to_be_visible()
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


def event(uid, start, summary):
    return ["BEGIN:VEVENT", f"UID:{uid}", start, f"SUMMARY:{summary}", "END:VEVENT"]


def file_of(*events):
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", *(line for one in events for line in one)]
    text = "\r\n".join([*lines, "END:VCALENDAR", ""])
    return {"name": "day.ics", "mimeType": "text/calendar", "buffer": text.encode()}


def fields_of(service, kind):
    return [op["fields"] for op in service.records("outbox") if op["kind"] == f"{kind}.create"]


def test_a_damaged_row_is_named_and_titles_lead_to_known_clients_with_their_notes(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open()
    for name in ("Ida Quell", "Bo Larkspur"):
        service.of_a_new_client(name).open()
    page = service.page
    service.button("Import a day")
    file = file_of(
        event("a", "DTSTART:20261128T100000", "Ida Quell - toner, level 9 pearl"),
        event("b", "DTSTART:garbage", "Broken One"),
        event("c", "DTSTART:20261128T110000", "Bo Larkspurr: roots + ends"),
        event("d", "DTSTART:20261128T120000", "Ruht Ember (long hair)"),
    )
    page.get_by_label("Choose the file").set_input_files(file)
    expect(page.get_by_text("3 understood, 1 not.")).to_be_visible()
    expect(page.get_by_text("Line 10: “Broken One”: “garbage” is no time.")).to_be_visible()
    rows = page.locator(".from-file .rows > li")
    expect(rows.nth(0)).to_contain_text("client Ida Quell")
    # A level beside a tone is the wish, as it can be corrected; the rest is a note.
    expect(rows.nth(0)).to_contain_text("Wish: level 9 pearl")
    expect(rows.nth(0)).to_contain_text("Note: toner")
    service.tap(rows.nth(0).locator("summary"))
    rows.nth(0).get_by_role("textbox", name="Wish").fill("level 9 something")
    expect(page.get_by_text("Correct the wish of Ida Quell.")).to_be_visible()
    rows.nth(0).get_by_role("textbox", name="Wish").fill("level 8½ beige")
    # A name that is only near is asked about: one tap says that it is.
    expect(page.get_by_text("Say who is meant: Bo Larkspurr.")).to_be_visible()
    expect(page.get_by_role("button", name="Take 2")).to_be_disabled()
    service.radio("It is Bo Larkspur")
    expect(rows.nth(1)).to_contain_text("Note: roots + ends")
    # A new name is corrected before anything is kept.
    service.tap(rows.nth(2).locator("summary"))
    rows.nth(2).get_by_label("Client’s name").fill("Ruth Ember")
    expect(rows.nth(2)).to_contain_text("new client Ruth Ember")
    assert len(fields_of(service, "service")) == 2
    # What was said of the rows outlives a reload, which opens no file again.
    page.reload()
    expect(rows.nth(0)).to_contain_text("Wish: level 8½ beige")
    expect(rows.nth(2)).to_contain_text("new client Ruth Ember")
    # What keeps it is the white one at the thumb.
    service.tap(page.locator(".bar").get_by_role("button", name="Take 3", exact=True))
    expect(page.locator(".day-row")).to_have_count(5)
    clients = [one["name"] for one in fields_of(service, "client")]
    assert sorted(clients) == ["Bo Larkspur", "Ida Quell", "Ruth Ember"]
    notes = [one["text"] for one in fields_of(service, "note")]
    assert sorted(notes) == ["long hair", "roots + ends", "toner"]
    wishes = [one["entered"]["wish"] for one in fields_of(service, "zone")]
    assert [(wish["level"], wish["tone"]) for wish in wishes if wish["tone"]] == [(8.5, ["beige"])]
    service.button("Import a day")
    page.get_by_label("Choose the file").set_input_files(file)
    expect(page.get_by_text("here already")).to_have_count(3)
    expect(page.get_by_role("button", name="Take 0")).to_be_disabled()


def test_ten_thousand_rows_are_read_and_shown_in_pages_and_too_many_are_not_taken(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open().button("Import a day")
    page = service.page
    lines = [f"Client {at},2026-11-{28 + at % 2},{at % 24:02}:{at % 60:02}" for at in range(10_000)]
    table = "\r\n".join(["name,date,time", *lines]).encode()
    page.get_by_label("Choose the file").set_input_files(
        {"name": "day.csv", "mimeType": "text/csv", "buffer": table}
    )
    expect(page.get_by_text("10000 understood.")).to_be_visible()
    rows = page.locator(".from-file .rows > li")
    expect(rows).to_have_count(40)
    service.button("Show 40 more of 10000")
    expect(rows).to_have_count(80)
    expect(page.get_by_text("300 at once is the most.")).to_be_visible()
    expect(page.get_by_role("button", name="Take 5000")).to_be_disabled()


def test_three_hundred_rows_are_taken_as_one_act(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open().button("Import a day")
    page = service.page
    lines = [f"Client {at},{at % 24:02}:{at % 60:02}" for at in range(300)]
    page.get_by_label("Choose the file").set_input_files(
        {"name": "d.csv", "mimeType": "", "buffer": "\n".join(["name,time", *lines]).encode()}
    )
    service.button("Take 300")
    expect(page.locator(".day-row")).to_have_count(300)
    service.tap(page.locator(".undo").get_by_role("button", name="Undo"))
    expect(page.locator(".day-row")).to_have_count(0)


def test_a_half_planned_service_gives_way_to_a_file_and_comes_back(visit):
    shown = visit()
    shown.page.clock.install(time="2026-11-28T09:00:00")
    service = Service(shown).open().button("New service")
    page = service.page
    name = page.get_by_label("Client’s name")
    name.fill("Wren Aldous")
    service.button("Import a day")
    # The bar has one step, and so one form is open.
    expect(name).to_have_count(0)
    page.get_by_label("Choose the file").set_input_files(calendar_of("20261128"))
    service.button("Take 2")
    expect(page.locator(".day-row")).to_have_count(2)
    page.reload()
    expect(name).to_have_value("Wren Aldous")
