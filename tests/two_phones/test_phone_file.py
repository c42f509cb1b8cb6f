"""A phone's file brought in at the desk by its screen: once however often, faults in words."""

import gzip
import time

import pytest
from browser import DESK, PHONE
from browsers import Window, new_service
from phone import Phone
from playwright.sync_api import expect
from test_import import lines_of, packed


@pytest.fixture
def window_of(playwright, new_salon, tmp_path):
    """Opens a browser that is nobody's yet."""
    made = []

    def opened(size):
        window = Window(playwright, tmp_path / f"profile-{len(made)}", new_salon.address, size)
        made.append(window)
        window.open()
        return window

    yield opened
    for window in made:
        window.close()


@pytest.fixture
def saved(window_of):
    """The file of a phone that was never paired, behind a passphrase."""
    phone = window_of(PHONE)
    new_service(phone, "Wren Aldous")
    phone.go("settings")
    phone.page.get_by_label("Passphrase").fill("ash and pearl")
    with phone.page.expect_download() as download:
        phone.page.get_by_role("button", name="Save everything as a file").click()
    file = {"name": "phone.records", "mimeType": "", "buffer": download.value.path().read_bytes()}
    phone.close()
    return file


def file_of(name, buffer):
    return {"name": name, "mimeType": "application/gzip", "buffer": buffer}


def test_a_phones_file_comes_in_once_and_what_is_not_taken_is_named(saved, window_of, new_salon):
    desk = window_of(DESK)
    desk.pair(new_salon.code(), "The desk")
    desk.go("desk")
    phones = desk.page.get_by_role("region", name="Phones")
    phones.locator("summary", has_text="Import a phone’s file").click()
    choose = phones.get_by_label("Choose the file")

    choose.set_input_files(saved)
    expect(phones.get_by_role("alert")).to_contain_text("This file has a passphrase")
    phones.get_by_label("Its passphrase").fill("ash and pearl")
    choose.set_input_files(saved)
    expect(phones.get_by_role("status")).to_contain_text("entries imported")
    expect(phones.get_by_role("alert")).to_have_count(0)
    desk.go("clients")
    expect(desk.page.get_by_role("link", name="Wren Aldous")).to_have_count(1)

    desk.go("desk")
    phones.locator("summary", has_text="Import a phone’s file").click()
    phones.get_by_label("Its passphrase").fill("ash and pearl")
    choose.set_input_files(saved)
    expect(phones.get_by_role("status")).to_have_text("All of this file was here already.")

    lost = Phone(None, None, 7, time.time_ns() // 1_000_000)
    bad = lost.op("client.set", next(lost.ids), {"name": 5})
    choose.set_input_files(file_of("bad.records", packed(lines_of([lost.note(), bad]))))
    expect(phones.get_by_role("status")).to_have_text("1 entry imported.")
    expect(phones.get_by_role("listitem")).to_contain_text("Line 3, /op/fields/name")
    spoilt = lines_of([lost.note()])
    spoilt[1]["op"]["hlc"] = "noon"
    choose.set_input_files(file_of("spoilt.records", packed(spoilt)))
    expect(phones.get_by_role("alert")).to_contain_text("line 2")
    expect(phones.get_by_role("alert")).to_contain_text("Nothing was imported.")
    cut = packed(lines_of([lost.note()]))[:-9]
    choose.set_input_files(file_of("cut.records", cut))
    expect(phones.get_by_role("alert")).to_contain_text("no whole gzip")
    choose.set_input_files(file_of("other.csv", gzip.compress(b"name,phone")))
    expect(phones.get_by_role("alert")).to_contain_text("Nothing was imported.")
    desk.go("clients")
    expect(desk.page.get_by_role("link", name="Wren Aldous")).to_have_count(1)
