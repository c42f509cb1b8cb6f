"""A day on one phone that never has a signal: eight services, twenty-five notes, a photo.

The browser is killed twice within it, each time right after it said that a note is kept.
"""

import base64
import re
from collections import Counter

from playwright.sync_api import expect
from test_service import Service
from visit import Visit

CLIENTS = ("Ivo Marsh", "Tilda Crane", "Oona Pell", "Bram Sedge", "Lark Hollis", "Petra Wold")
# The last two come again on the same day, so that "same as last time" is asked for too.
VISITS = (*CLIENTS, "Ivo Marsh", "Tilda Crane")
NOTES_EACH = (3, 3, 3, 3, 3, 3, 3, 4)
KILLED_AFTER = (2, 5)
# A white dot: the smallest picture there is, a PNG of one pixel (ISO/IEC 15948).
PICTURE = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg=="
)


TODAY = "new Date().toDateString()"


class Day:
    """The walk through a day; what is written, and the phone it is written on."""

    def __init__(self, phone, address):
        self.phone, self.address = phone, address
        self.written = []
        self.began_on = ""

    def switch_on(self):
        self.service = Service(Visit(self.phone.on(), self.address)).open()
        return self.service

    @property
    def page(self):
        return self.service.page

    def goes(self, at, client):
        service = self.service
        if client in VISITS[:at]:
            service.button("New service")
            self.page.get_by_label("Client’s name").fill(client.split()[0].lower())
            service.radio(client)
            again = re.compile("^Same as last time")
            service.tap(self.page.get_by_role("button", name=again))
        else:
            service.of_a_new_client(client).to_the_mix()
        service.cleared().button("First section on")
        expect(service.countdown).to_be_visible()

    def open_notes(self):
        """Opens the notes of the service shown, which its result opens by itself."""
        notes = self.page.locator("details.service-notes")
        expect(notes).to_be_visible()
        if not notes.evaluate("notes => notes.open"):
            notes.locator("summary").tap()
        expect(self.page.get_by_label("Note", exact=True)).to_be_visible()

    def notes(self, at, count):
        self.open_notes()
        for number in range(count):
            text = f"visit {at + 1}, note {number + 1}"
            self.page.get_by_label("Note", exact=True).fill(text)
            if at == number == 0:
                picture = {"name": "after.png", "mimeType": "image/png", "buffer": PICTURE}
                self.page.locator("input[type=file]").set_input_files(picture)
                expect(self.page.locator(".photo img")).to_be_visible()
            self.page.get_by_role("button", name="Keep the note").tap()
            expect(self.page.get_by_text("Kept on this phone.")).to_be_visible()
            self.written.append(text)

    def ends(self):
        service = self.service.button("Last section on").rinsed()
        service.button("as shown").button("End the service").button("Back to today")

    def rows(self, count):
        """Name and text of each visit: of today, and of the day before if midnight has come."""
        rows = self.page.locator(".day-row")
        if self.page.evaluate(TODAY) == self.began_on:
            expect(rows).to_have_count(count)
            return read(rows)
        expect(rows.first).to_be_visible()
        found = read(rows)
        self.service.tap(self.page.get_by_role("link", name="The day before"))
        expect(rows).to_have_count(count - len(found))
        return found + read(rows)


def read(rows):
    """Name and text of each row of a day."""
    return list(
        zip(rows.locator(".day-name").all_text_contents(), rows.all_text_contents(), strict=True)
    )


def test_a_day_without_a_signal_is_all_there_at_its_end_each_thing_once(cold_phone):
    phone = cold_phone
    page = phone.on()
    Visit(page, phone.address).open()
    page.get_by_role("link", name="Settings").click()
    said = page.locator("#offline").get_by_role("status")
    expect(said).to_have_text(re.compile("^Ready offline: "))
    # Two clients come twice today: by this salon's insurer one alert test holds for both.
    page.get_by_role("radio", name="the European Union").tap()
    page.get_by_label("Who read the insurer’s terms").fill("Ana Venn")
    page.get_by_role("radio", name="3 months").tap()
    expect(page.get_by_text("By the insurer’s terms, read by Ana Venn")).to_be_visible()
    phone.off()

    day = Day(phone, phone.address)
    day.switch_on()
    day.began_on = day.page.evaluate(TODAY)
    for at, (client, count) in enumerate(zip(VISITS, NOTES_EACH, strict=True)):
        day.goes(at, client)
        day.notes(at, count)
        if at in KILLED_AFTER:
            phone.kill()
            day.switch_on()
            expect(day.page.locator(".bar .clock-line")).to_contain_text(client)
            day.service.tap(day.page.locator(".bar .clock-line"))
            expect(day.service.countdown).to_be_visible()
        day.ends()

    rows = day.rows(len(VISITS))
    assert Counter(name for name, _ in rows) == Counter(VISITS)
    assert [text.count("ended") for _, text in rows] == [1] * len(VISITS)

    kept = [op["fields"] for op in day.service.records("outbox") if op["kind"] == "note.create"]
    assert [fields["text"] for fields in kept] == day.written
    assert len(day.written) == sum(NOTES_EACH) == 25
    numbers = [op["device_seq"] for op in day.service.records("outbox")]
    assert numbers == list(range(1, len(numbers) + 1))

    day.service.open("clients")
    day.service.tap(day.page.get_by_role("link", name=re.compile("Ivo Marsh")))
    day.service.tap(day.page.get_by_role("link", name=re.compile("visit 1, note 1")))
    day.open_notes()
    expect(day.page.locator(".photo img")).to_be_visible()
