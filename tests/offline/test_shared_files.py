"""What another program shares with the installed app: kept by its worker, with no network at all.

Source: "Web Share Target API" (W3C) has the browser post the manifest's form to its action; here
the page posts the same form to the same address.
"""

import io
import json

from browser import ROOT
from PIL import Image
from playwright.sync_api import expect
from test_service import Service
from visit import Visit
from waiting import once

MANIFEST = json.loads((ROOT / "web" / "public" / "manifest.webmanifest").read_text())
TARGET = MANIFEST["share_target"]
FIELD = TARGET["params"]["files"][0]["name"]
DAY = "\r\n".join(
    [
        *("BEGIN:VCALENDAR", "VERSION:2.0", "BEGIN:VEVENT", "UID:one@demo"),
        *("DTSTART:20261128T143000", "SUMMARY:Oona Pell", "END:VEVENT", "END:VCALENDAR", ""),
    ]
)
# Posts the form as a browser does, in the window or behind it.
SHARE = """async ([action, field, files, in_window]) => {
    const data = new DataTransfer();
    for (const [name, type, bytes] of files) {
        data.items.add(new File([Uint8Array.from(bytes)], name, { type }));
    }
    if (!in_window) {
        const body = new FormData();
        for (const file of data.files) body.append(field, file);
        const { type } = await fetch(action, { method: "POST", body, redirect: "manual" });
        return type;
    }
    const form = document.createElement("form");
    Object.assign(form, { action, method: "POST", enctype: "multipart/form-data" });
    const input = Object.assign(document.createElement("input"), { type: "file", name: field });
    input.files = data.files;
    form.append(input);
    document.body.append(form);
    setTimeout(() => form.submit());
}"""


# Stands for the browser, which has it for an installed app alone ("Web App Launch Handler API").
LAUNCHES = """Object.defineProperty(globalThis, "launchQueue", { value: {
    setConsumer(take) { globalThis.given_to_the_app = take; },
} });"""
OPENED_WITH = """text => given_to_the_app({
    files: [{ getFile: async () => new File([text], "day.csv", { type: "text/csv" }) }],
})"""


def share(page, *files, in_window=True):
    given = [[name, media_type, list(content)] for name, media_type, content in files]
    return page.evaluate(SHARE, [TARGET["action"], FIELD, given, in_window])


def a_photo():
    with io.BytesIO() as drawn:
        Image.new("RGB", (64, 48), "#b08a5a").save(drawn, "JPEG")
        return drawn.getvalue()


def on_the_day(phone):
    page = phone.on()
    page.add_init_script(LAUNCHES)
    page.clock.install(time="2026-11-28T09:00:00")
    return page


def test_a_calendar_that_was_shared_is_there_after_the_phone_killed_the_page(cold_phone):
    phone = cold_phone
    page = on_the_day(phone)
    Visit(page, phone.address).open()
    calendar = ("day.ics", "text/calendar", DAY.encode())
    # The answer goes to the page that shows it; this phone never gets so far.
    assert share(page, calendar, in_window=False) == "opaqueredirect"
    phone.kill()

    page = on_the_day(phone)
    service = Service(Visit(page, phone.address)).open()
    expect(page.get_by_text("1 understood.")).to_be_visible()
    service.button("Take 1")
    expect(page.locator(".day-row")).to_contain_text("Oona Pell")
    # It is used up, once that is written down: the day opens without it.
    half_read = ("day.ics", "appointments")
    once(
        lambda: service.records("drafts"),
        lambda kept: not any(one in text for text in kept for one in half_read),
    )
    page.reload()
    expect(page.locator(".day-row")).to_contain_text("Oona Pell")
    expect(page.get_by_role("button", name="Import a day")).to_be_visible()

    # A file that the system opens with the app comes to the window that is open.
    once(lambda: page.evaluate("typeof given_to_the_app"), lambda kind: kind == "function")
    page.evaluate(OPENED_WITH, "when,name\r\n2026-11-28 16:00,Ida Quell\r\n")
    expect(page.get_by_text("1 understood.")).to_be_visible()
    expect(page.get_by_text("Ida Quell")).to_be_visible()
    page.evaluate("given_to_the_app({ targetURL: `${location.origin}/#/formulas` })")
    expect(page.get_by_role("heading", name="Formulas")).to_be_visible()
    page.evaluate("given_to_the_app({ targetURL: `${location.origin}/` })")
    expect(page.get_by_role("heading", name="Formulas")).to_be_visible()


def test_a_shared_photo_goes_to_the_note_of_whom_somebody_names(cold_phone):
    phone = cold_phone
    page = on_the_day(phone)
    service = Service(Visit(page, phone.address)).open().of_a_new_client("Oona Pell")
    page.goto(f"{phone.address}/shelf")  # as an old bookmark has it, with no server to ask
    expect(page.get_by_role("heading", name="Shelf")).to_be_visible()
    expect(page).to_have_url(f"{phone.address}/#/shelf")

    share(page, ("strand.jpg", "image/jpeg", a_photo()), ("plan.pdf", "application/pdf", b"%PDF"))
    expect(page.get_by_role("heading", name="Shared with Basinside")).to_be_visible()
    expect(page.get_by_text("Basinside cannot read this file.")).to_be_visible()
    expect(page.get_by_alt_text("the shared one")).to_be_visible()
    page.get_by_label("Note with it").fill("Ends after the toner.")
    service.tap(page.get_by_role("button", name="Oona Pell"))
    expect(page.get_by_role("heading", name="Oona Pell", level=2)).to_be_visible()
    expect(page.get_by_text("Ends after the toner.")).to_be_visible()

    once(lambda: service.records("drafts"), lambda kept: not any("strand" in one for one in kept))
    page.reload()
    service.open()
    service.tap(page.get_by_role("link", name="1 shared file to place"))
    expect(page.get_by_role("heading", name="strand.jpg")).to_have_count(0)
    service.button("Put this file away")
    expect(page.get_by_text("No file waits here.")).to_be_visible()
    [note] = [op for op in service.records("outbox") if op["kind"] == "note.create"]
    assert note["fields"]["text"] == "Ends after the toner."
    assert len(note["fields"]["photo"]) == 64
