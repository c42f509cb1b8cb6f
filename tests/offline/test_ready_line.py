"""The day's screen says how much is there until this device works without a signal."""

import json
import re

import pytest
from playwright.sync_api import expect

READY_OFFLINE = re.compile("^Ready offline: ")
MB_HERE = re.compile(r"([\d.]+) of ([\d.]+)\sMB is here")


@pytest.fixture
def without_a_piece(site):
    """A server that lacks the engine's largest piece, and what puts it back."""
    pack = json.loads((site.folder / "engine.json").read_text())
    pieces = [piece for file in pack["files"] for piece in file["pieces"]]
    name = max(pieces, key=lambda piece: piece["sent_bytes"])["name"]
    whole = sorted((site.folder / pack["folder"].strip("/")).glob(f"{name}*"))
    away = [path.rename(site.folder / f"away-{path.name}") for path in whole]

    def put_back():
        for path, gone in zip(whole, away, strict=True):
            gone.rename(path)

    return site, put_back


def test_a_download_that_broke_off_says_how_far_it_came_and_goes_on(phone, without_a_piece):
    site, put_back = without_a_piece
    page = phone.on()
    page.goto(site.address)
    line = page.locator(".signal-line")
    expect(line).to_contain_text("cannot calculate")
    expect(line).to_contain_text(MB_HERE)
    here, of = MB_HERE.search(line.inner_text()).groups()
    assert 0 < float(here) < float(of)

    put_back()
    line.get_by_role("button", name="Try again").tap()
    expect(line).to_have_count(0)
    is_ready(page)

    # Opened again with no server, it says nothing: all of it was kept and tested before.
    site.server.kill()
    phone.off()
    page = phone.on()
    page.goto(site.address)
    is_ready(page)
    page.get_by_role("button", name="Done").tap()
    expect(page.get_by_role("heading", name="Basinside")).to_be_visible()
    expect(page.locator(".signal-line")).to_have_count(0)


def is_ready(page):
    """Waits until the settings, which read the state itself, say so as well."""
    page.get_by_role("link", name="Settings").tap()
    expect(page.locator("#offline").get_by_role("status")).to_have_text(READY_OFFLINE)
