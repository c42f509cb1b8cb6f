"""Two people at one head: both see the same, both may go on, and one of them has it.

No time is asserted: what must be alike is waited for; benchmarks/ measures how long that takes.
"""

import io
import re
import time

import pytest
from browser import PATIENCE_MS
from browsers import assert_both_hold_the_same, new_service, to_the_notes, write_notes
from PIL import Image
from playwright.sync_api import expect
from test_service import Service
from visit import Visit

from basinside.service.store.salon import DATABASE_FILE, Salon

CLIENT = "Wren Aldous"


@pytest.fixture(scope="module")
def running(windows):
    """A service that the phone has planned, mixed and put on; the desk has it open too."""
    phone, desk = windows
    phone.go("today")
    Service(Visit(phone.page, phone.address)).of_a_new_client(CLIENT).to_the_clock()
    desk.go("today")
    desk.page.get_by_role("link", name=CLIENT).first.click()
    expect(desk.page.locator(".clock-time").first).to_be_visible()
    return phone, desk


def test_what_one_enters_is_laid_out_with_the_other_who_does_not_write_over_it(windows):
    phone, desk = windows
    new_service(phone, "Tamsin Orrery")
    desk.go("today")
    desk.page.locator(".day-row", has_text="Tamsin Orrery").click()
    tones = [window.page.get_by_role("radio", name="pearl", exact=True) for window in windows]
    expect(tones[1]).to_be_visible()
    tones[0].check()
    expect(tones[1]).to_be_checked()
    desk.page.get_by_role("radio", name="gold", exact=True).check()
    expect(phone.page.get_by_role("radio", name="gold", exact=True)).to_be_checked()
    tones[0].check()
    expect(tones[1]).to_be_checked()
    desk.go("try")
    desk.go("today")
    desk.page.locator(".day-row", has_text="Tamsin Orrery").click()
    expect(tones[1]).to_be_checked()
    expect(tones[0]).to_be_checked()
    assert_both_hold_the_same(*windows)


def two_who_are_connected_see_the_same_clock_and_each_others_taps(running):
    phone, desk = running
    phone.page.get_by_role("button", name="+1 min").click()
    for window in running:
        expect(window.page.locator(".reading-minute")).to_have_text("1")
    desk.page.get_by_role("button", name="Last section on").click()
    for window in running:
        expect(window.page.locator(".basin-order")).to_have_text(re.compile("^Wait"))
        window.page.get_by_role("button", name="Whole strip", exact=True).click()
    assert_both_hold_the_same(*running)


@pytest.mark.usefixtures("running")
def test_the_desk_looks_again_and_finds_that_it_might_start(server):
    """The page asked the rules before the clock; the server asks the same of what came to it."""
    salon = Salon(server.folder / DATABASE_FILE)
    ends = time.monotonic() + PATIENCE_MS / 1000
    while True:
        with salon.reading() as reading:
            looked = reading.reviewed_seq() == reading.end().seq
            started, held = reading.started_after(""), reading.held("", "", 9)
        if looked and started:
            break
        assert time.monotonic() < ends, "the desk did not look again"
        time.sleep(0.2)
    salon.close()
    assert held == []


def whose_it_is_is_said_and_one_tap_takes_it_over(running):
    phone, desk = running
    whose = "Who has this service"
    there = desk.page.get_by_role("region", name=whose)
    here = phone.page.get_by_role("region", name=whose)
    expect(there).to_contain_text("Ana has this service.")
    expect(here).to_have_count(0)
    there.get_by_role("button", name="Take it over").click()
    expect(there).to_contain_text("Taken over by you from Ana")
    expect(there.get_by_role("button")).to_have_count(0)
    expect(here).to_contain_text("Taken over by Ilse from Ana")
    desk.go("desk")
    expect(desk.page.get_by_role("row", name=CLIENT)).to_contain_text("Ilse")


def a_photo_that_one_takes_comes_to_the_other(running):
    phone, desk = running
    picture = io.BytesIO()
    Image.effect_noise((900, 600), 80).save(picture, "JPEG")
    for window in running:
        to_the_notes(window, CLIENT)
    phone.page.locator("input[type=file]").set_input_files(
        {"name": "strand.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()}
    )
    expect(phone.page.get_by_role("img", name="the photo of this note")).to_be_visible()
    write_notes(phone, ["Ends, under the window"])
    shown = desk.page.get_by_role("img", name="photo", exact=True)
    expect(shown).to_be_visible()
    # Scaled down to 300 KB at most, and whole.
    width, height = shown.evaluate("photo => [photo.naturalWidth, photo.naturalHeight]")
    assert width / height == 900 / 600


def both_go_on_without_the_desk_and_nothing_of_either_is_lost(running, server):
    phone, desk = running
    for window in running:
        window.when_kept_for_offline()
        to_the_notes(window, CLIENT)
    server.kill()
    here = phone.page.get_by_role("region", name="Who has this service")
    here.get_by_role("button", name="Take it over").click()
    expect(here).to_contain_text("Taken over by you from Ilse")
    write_notes(phone, ["Ends drink it up"])
    phone.page.get_by_role("button", name="Back to the basin").click()
    Service(Visit(phone.page, phone.address)).rinsed()
    expect(phone.page.locator("#result.fold-open")).to_be_visible()
    write_notes(desk, ["Roots a shade warmer"])
    desk.page.get_by_role("button", name="+1 min").click()
    expect(desk.page.get_by_text("Moved the clock by +1 min.")).to_be_visible()

    server.start()
    for window in running:
        to_the_notes(window, CLIENT)
        expect(window.page.locator(".note-text")).to_have_count(3)
        expect(window.page.get_by_role("region", name="Who has this service")).to_contain_text(
            "from Ilse"
        )
        expect(window.page.locator("#result.fold-open")).to_be_visible()
    assert phone.texts() == desk.texts()
    assert_both_hold_the_same(*running)


def test_one_service_goes_through_two_hands(running, server):
    """Step by step: each goes on from where the one before left it."""
    two_who_are_connected_see_the_same_clock_and_each_others_taps(running)
    whose_it_is_is_said_and_one_tap_takes_it_over(running)
    a_photo_that_one_takes_comes_to_the_other(running)
    both_go_on_without_the_desk_and_nothing_of_either_is_lost(running, server)
