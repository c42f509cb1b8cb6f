"""A day apart over TLS, with a certificate of the salon's own: all is on both, once, in order.

Chromium here has no tool to put the authority among those it trusts, so each profile is told the
one key to trust (`--ignore-certificate-errors-spki-list`, SHA-256 of its SubjectPublicKeyInfo).
Any other certificate is still refused; that the chain is good is judged in tests/service/.
"""

import base64
import hashlib
import re

import pytest
from browser import DESK, PHONE
from browsers import (
    Window,
    assert_both_hold_the_same,
    new_service,
    running_over_tls,
    to_the_notes,
    write_notes,
)
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from playwright.sync_api import Error, expect
from test_service import Service
from visit import Visit

CLIENTS = ("Wren Aldous", "Tamsin Orrery", "Juniper Fold")
NOTES = 9
GRAMS_WAIT = "Grams show once nothing holds this service."


def key_to_trust(folder):
    certificate = x509.load_pem_x509_certificate((folder / "tls" / "desk.crt").read_bytes())
    key = certificate.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(hashlib.sha256(key).digest()).decode()


@pytest.fixture
def server(tmp_path):
    with running_over_tls(tmp_path / "salon") as server:
        yield server


@pytest.fixture
def windows(playwright, server, tmp_path):
    trusting = [f"--ignore-certificate-errors-spki-list={key_to_trust(server.folder)}"]
    made = []
    for name, size in (("Ana’s phone", PHONE), ("The desk", DESK)):
        profile = tmp_path / f"profile-{len(made)}"
        window = Window(playwright, profile, server.address, size, trusting)
        window.open()
        window.pair(server.code(), name)
        made.append(window)
    yield made
    for window in made:
        window.close()


def test_a_phone_that_was_told_no_key_does_not_open_the_page(playwright, server, tmp_path):
    window = Window(playwright, tmp_path / "stranger", server.address, PHONE)
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        window.open()
    window.close()


def test_a_day_without_the_desk_is_on_both_once_and_in_order(windows, server):
    phone, desk = windows
    for name in CLIENTS:
        new_service(desk, name)
    phone.go("today")
    for name in CLIENTS:
        expect(phone.page.locator(".day-row", has_text=name)).to_be_visible()
    phone.go("settings")
    ready = phone.page.locator("#offline").get_by_role("status")
    expect(ready).to_have_text(re.compile("^Ready offline: "))

    server.kill()
    phone.open()  # cold, with no desk
    phone.page.locator(".day-row", has_text=CLIENTS[0]).tap()
    Service(Visit(phone.page, phone.address)).to_the_mix()
    mixed = phone.page.locator("#mix")
    # On the cards, and on the safety questions that take their place.
    expect(mixed).to_contain_text(GRAMS_WAIT)
    written = {name: [] for name in CLIENTS}
    for n in range(NOTES):
        name = CLIENTS[n * len(CLIENTS) // NOTES]
        if n == NOTES // 2:
            phone.open()  # killed in the middle, and opened again
        if n == NOTES // 2 or not written[name]:
            to_the_notes(phone, name)
        written[name].append(f"Note {n} of the day")
        write_notes(phone, written[name][-1:])
    phone.open()
    for name in CLIENTS:
        to_the_notes(desk, name)
        write_notes(desk, [f"The desk’s own for {name}"])

    # The desk, which others look at, says that nothing reaches it; it takes that back by itself.
    desk.go("desk")
    cut_off = desk.page.get_by_role("alert").filter(has_text="Not connected since")
    expect(cut_off).to_be_visible()
    server.start()
    expect(cut_off).to_have_count(0)
    for name in CLIENTS:
        for window in windows:
            to_the_notes(window, name)
            expect(window.page.locator(".note-text")).to_have_count(len(written[name]) + 1)
        assert phone.texts() == desk.texts()
        assert [text for text in reversed(phone.texts()) if text in written[name]] == written[name]
    phone.go("today")
    expect(phone.page.get_by_text("All sent")).to_be_visible()
    assert_both_hold_the_same(*windows)
    # What the phone worked out alone is what stands at the desk.
    desk.go("today")
    desk.page.locator(".day-row", has_text=CLIENTS[0]).click()
    expect(desk.page.get_by_role("button", name=re.compile("^Wish .*pearl"))).to_be_visible()
    expect(desk.page.locator("#mix")).to_contain_text(GRAMS_WAIT)


def test_a_code_that_the_desks_own_page_shows_lets_a_phone_in(
    windows, server, playwright, tmp_path
):
    phone, desk = windows
    desk.go("desk")
    phones = desk.page.get_by_role("region", name="Phones")
    row = phones.get_by_role("row").filter(has_text="Ana’s phone")
    expect(row.get_by_role("cell").nth(1)).to_have_text(re.compile(r"\d"))
    expect(row.get_by_role("cell").nth(2)).to_have_text("nothing")
    phones.get_by_role("button", name="Pair a phone").click()
    picture = phones.get_by_role("img", name="A link to scan")
    expect(picture).to_be_visible()
    assert picture.evaluate("drawn => drawn.decode().then(() => drawn.naturalWidth)") > 100
    code = phones.locator(".let-in strong").inner_text()
    phone.close()
    trusting = [f"--ignore-certificate-errors-spki-list={key_to_trust(server.folder)}"]
    third = Window(playwright, tmp_path / "third", server.address, PHONE, trusting)
    third.open()
    third.pair(code, "Bo’s phone")
    third.close()
    desk.go("today")
    desk.go("desk")
    expect(phones.get_by_role("row").filter(has_text="Bo’s phone")).to_be_visible()
    expect(picture).to_have_count(0)

    # It gets another name, on its record and in the desk's own list.
    phones.get_by_text("Rename a phone").click()
    phones.get_by_label("Name of Bo’s phone").fill("Bo’s old phone")
    phones.get_by_label("Name of Bo’s phone").blur()
    expect(phones.get_by_label("Name of Bo’s old phone")).to_have_value("Bo’s old phone")
    expect(phones.get_by_role("row").filter(has_text="Bo’s old phone")).to_be_visible()

    # And a phone that was lost is removed there, by keys: a finger would hold.
    phones.get_by_text("Remove a phone").click()
    remove = phones.get_by_role("button", name=re.compile("to remove Bo’s old phone$"))
    remove.press("Enter")
    expect(remove).to_have_text("Press again to remove Bo’s old phone")
    remove.press("Enter")
    expect(phones.get_by_role("row").filter(has_text="Bo’s old phone")).to_contain_text("removed")
    expect(phones.get_by_role("status")).to_have_text("Bo’s old phone is removed.")
    expect(phones.get_by_role("row").filter(has_text="Ana’s phone")).to_be_visible()
