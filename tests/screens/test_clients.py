"""Clients, their history and their notes, as they are written on the phone and found again."""

import io
import re

from PIL import Image
from playwright.sync_api import expect
from test_service import OPENS_AT, Service
from visit import pause_at
from waiting import once


def test_a_note_is_kept_with_its_photo_and_there_after_a_reload(visit):
    service = Service(visit()).open().of_a_new_client()
    page = service.page
    page.locator("summary", has_text="Notes").tap()
    page.get_by_label("Note").fill("Front pinker than shown.")
    picture = io.BytesIO()
    Image.effect_noise((3000, 2000), 80).save(picture, "JPEG")
    page.locator("input[type=file]").set_input_files(
        {"name": "strand.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()}
    )
    expect(page.get_by_role("img", name="the photo of this note")).to_be_visible()
    service.button("Keep the note")
    expect(page.get_by_text("Kept on this phone.")).to_be_visible()
    page.reload()
    page.locator("summary", has_text="Notes, 1").tap()
    expect(page.get_by_text("Front pinker than shown.")).to_be_visible()
    photo = page.get_by_role("img", name="photo", exact=True)
    expect(photo).to_be_visible()
    width, height = photo.evaluate("photo => [photo.naturalWidth, photo.naturalHeight]")
    assert max(width, height) <= 1600
    (kept,) = service.records("blobs")
    assert kept["type"] == "image/jpeg"


def test_a_file_that_is_no_picture_is_refused_in_words(visit):
    service = Service(visit()).open().of_a_new_client()
    service.page.locator("summary", has_text="Notes").tap()
    service.page.locator("input[type=file]").set_input_files(
        {"name": "strand.jpg", "mimeType": "image/jpeg", "buffer": b"not a picture"}
    )
    expect(service.page.get_by_text("cannot read this picture")).to_be_visible()
    assert service.records("blobs") == []


def test_what_was_typed_of_a_note_is_there_after_a_reload(visit):
    service = Service(visit()).open().of_a_new_client()
    service.page.locator("summary", has_text="Notes").tap()
    service.page.get_by_label("Note").fill("Ends took")
    # It is in the store a moment after the last key, and a reload may be quicker than that.
    once(lambda: service.records("drafts"), lambda kept: any("Ends took" in one for one in kept))
    service.page.reload()
    service.page.locator("summary", has_text="Notes").tap()
    expect(service.page.get_by_label("Note")).to_have_value("Ends took")


def test_a_client_is_found_by_any_part_of_the_name_without_accents(visit):
    service = Service(visit()).open().of_a_new_client("Zoë Marek")
    service.open().of_a_new_client("Tam Ferris").open("clients")
    service.page.get_by_label("Find a name").fill("MAR zoe")
    expect(service.page.locator(".row")).to_have_text(re.compile("Zoë Marek"))
    service.page.get_by_label("Find a name").fill("nobody")
    expect(service.page.get_by_text("No such client on this phone")).to_be_visible()


def test_the_last_act_is_undone_and_done_again_by_one_tap(begun):
    service = begun()
    page = service.page
    service.button("Last section on")
    service.button("Undo: last section on")
    expect(page.get_by_role("button", name="Last section on", exact=True)).to_be_visible()
    service.button("Redo")
    expect(page.get_by_role("button", name="Undo: last section on")).to_be_visible()
    expect(page.get_by_role("button", name="Last section on", exact=True)).to_have_count(0)


def test_an_act_is_taken_back_where_it_led_and_not_on_another_screen(visit):
    shown = visit()
    page = shown.page
    page.clock.install(time=OPENS_AT)
    # The places are loaded by timers, once.
    service = Service(shown).open().of_a_new_client("Tam Ferris")
    service.tap(page.get_by_role("link", name="Tam Ferris"))
    expect(page.get_by_role("heading", name="Tam Ferris")).to_be_visible()
    service.open().button("New service")
    page.get_by_label("Client’s name").fill("Wren Aldous")
    # The ten seconds never pass.
    pause_at(page, page.evaluate("Date.now()") / 1000 + 1)
    service.button("New client")
    expect(page.locator(".undo")).to_contain_text("Planned Wren Aldous")
    service.tap(page.get_by_role("link", name="Wren Aldous"))
    expect(page.get_by_role("heading", name="Wren Aldous")).to_be_visible()
    expect(page.locator(".undo")).to_have_count(0)
    # The list of the day has it all the same.
    service.open()
    page.locator("summary", has_text="Done on this phone today").tap()
    page.get_by_role("button", name="Undo: Planned Wren Aldous.").tap()
    expect(page.locator(".undo")).to_contain_text("Taken back: Planned Wren Aldous.")


def test_the_days_acts_are_listed_and_taken_back_one_by_one(begun):
    service = begun()
    page = service.page
    page.reload()
    service.open("today")
    page.locator("summary", has_text="Done on this phone today").tap()
    page.get_by_role("button", name="Undo: First section on.").tap()
    expect(page.get_by_role("button", name="Redo: First section on.")).to_be_visible()
    page.get_by_role("button", name="Undo: Planned Wren Aldous.").tap()
    # The visit has a wish and a mix by now: that is said before it goes.
    expect(page.get_by_role("alert").filter(has_text="worked on since")).to_be_visible()
    expect(page.locator(".day-row")).to_have_count(1)
    service.button("Take it back")
    expect(page.locator(".day-row")).to_have_count(0)
    service.button("Redo")
    expect(page.locator(".day-row")).to_have_count(1)


def test_the_hairs_history_is_added_to_by_a_tap_and_stands_on_the_client(visit):
    service = Service(visit()).open().of_a_new_client()
    service.tap(service.page.get_by_role("link", name="Wren Aldous"))
    service.tap(service.page.locator("summary", has_text="Add to the history"))
    service.button("henna or plant colour")
    expect(service.page.get_by_text("henna or plant colour, noted")).to_be_visible()


def test_a_phrase_of_ones_own_is_said_by_one_tap_and_there_the_next_day(visit):
    service = Service(visit()).open().of_a_new_client()
    page = service.page
    page.locator("summary", has_text="Notes").tap()
    service.button("Change phrases")
    page.get_by_label("A phrase of your own").fill("Violet grabbed at the ends.")
    service.button("Add").button("Done")
    page.reload()
    page.locator("summary", has_text="Notes").tap()
    service.taps = 0
    service.button("Rinsed early.").button("Violet grabbed at the ends.").button("Keep the note")
    assert service.taps == 3
    kept = page.locator(".note-text")
    expect(kept).to_have_text("Rinsed early. Violet grabbed at the ends.")
