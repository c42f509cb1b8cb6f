"""A phone whose address another salon's server answers: what waits goes nowhere, and is kept."""

import gzip

from browser import PHONE
from browsers import Window, new_service
from playwright.sync_api import expect
from running import Server


def test_another_salons_server_gets_nothing_of_what_waits_and_it_is_kept(playwright, tmp_path):
    own = Server(tmp_path / "own").start()
    other = Server(tmp_path / "other", port=own.port)
    phone = Window(playwright, tmp_path / "profile", own.address, PHONE)
    try:
        phone.open()
        phone.pair(own.code(), "Ana’s phone")
        phone.when_kept_for_offline()
        own.kill()
        new_service(phone, "Wren Aldous")
        other.start()
        phone.open("pair/" + other.code())
        phone.page.get_by_label("Name of this phone").fill("Ana’s phone")
        phone.page.get_by_role("button", name="Pair this phone").click()
        expect(phone.page.get_by_text("holds another salon’s records")).to_be_visible()
        phone.go("clients")
        expect(phone.page.get_by_role("link", name="Wren Aldous")).to_be_visible()
        phone.go("settings")
        with phone.page.expect_download() as download:
            phone.page.get_by_role("button", name="Save everything as a file").click()
        assert b"Wren Aldous" in gzip.decompress(download.value.path().read_bytes())
        other.kill()
        assert not any(
            b"Wren Aldous" in file.read_bytes()
            for file in other.folder.rglob("*")
            if file.is_file()
        )
        own.start()
        phone.open()
        expect(phone.page.get_by_text("All sent")).to_be_visible()
    finally:
        phone.close()
        own.kill()
        other.kill()
