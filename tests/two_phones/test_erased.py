"""A person who was erased is in no byte of the desk's folder, the phones' profiles or their files.

What is looked for is on the disk, and read with nothing of ours. LevelDB, in which Chromium keeps
the records, leaves what was deleted in its log until it is made to tidy (web/src/outbox/sweep.ts);
a file that it had open meanwhile goes when the browser starts next.
"""

import gzip
import os
import subprocess
import sys
import time

import pytest
from browser import PATIENCE_MS
from browsers import new_service, to_the_client, to_the_notes, write_notes
from playwright.sync_api import expect
from waiting import once

CANARY = "quillfeather"
KEPT_SIMPLY = "JSON.stringify(localStorage)"
# Text in a browser's files is either; the first is also what the desk's files hold.
WRITTEN = [CANARY.encode(encoding) for encoding in ("utf-8", "utf-16-le", "utf-16-be")]
# A half-typed note lies here. It is let go at once, but no page can have this log tidied.
LEFT_TO_THE_BROWSER = "Local Storage"

# Whether a page's own records hold a text.
HOLDS = """async (text) => {
    const opened = await new Promise((done, fail) => {
        const opening = indexedDB.open('basinside');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => done(opening.result);
    });
    const names = [...opened.objectStoreNames];
    const all = await Promise.all(names.map((name) => new Promise((done) => {
        opened.transaction(name).objectStore(name).getAll().onsuccess =
            ({ target }) => done(target.result);
    })));
    opened.close();
    return JSON.stringify([all, { ...localStorage }]).includes(text);
}"""

# Whether a page's files are yet to be tidied.
IS_TO_TIDY = """async () => {
    const opened = await new Promise((done, fail) => {
        const opening = indexedDB.open('basinside');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => done(opening.result);
    });
    const due = await new Promise((done) => {
        opened.transaction('meta').objectStore('meta').get('sweep_due').onsuccess =
            ({ target }) => done(target.result);
    });
    opened.close();
    return Boolean(due);
}"""

HANGS = "() => { indexedDB.deleteDatabase = () => new EventTarget(); }"


def basinside(server, *command):
    subprocess.run(
        [sys.executable, "-m", "basinside.cli", *command],
        env=os.environ | {"BASINSIDE_DATA": str(server.folder)},
        check=True,
        capture_output=True,
    )


def holding(folder, pattern="*"):
    """The files under a folder in which the canary can be read."""
    files = (path for path in folder.rglob(pattern) if path.is_file())
    return [
        str(path.relative_to(folder))
        for path in files
        if LEFT_TO_THE_BROWSER not in path.parts
        and any(text in path.read_bytes() for text in WRITTEN)
    ]


@pytest.fixture(scope="module")
def known(windows, server, tmp_path_factory):
    """A client with records of both, and a copy of the desk that holds them."""
    phone, desk = windows
    new_service(phone, f"Ona {CANARY}")
    to_the_notes(phone, CANARY)
    write_notes(phone, [f"{CANARY} on the ends"])
    to_the_notes(desk, CANARY)
    write_notes(desk, [f"as {CANARY} said"])
    desk.page.get_by_label("Note", exact=True).fill(f"half typed of {CANARY}")
    new_service(phone, "Wren Aldous")
    to_the_client(phone, CANARY)
    client = phone.page.url.rsplit("/", 1)[-1]
    phone.go("today")
    expect(phone.page.get_by_text("All sent")).to_be_visible()
    assert holding(phone.profile), "the canary is looked for where it never was"
    assert holding(server.folder)
    older = tmp_path_factory.mktemp("copies") / "copy.db"
    basinside(server, "backup", str(older))
    return phone, desk, older, client


@pytest.fixture(scope="module")
def asked(known, server):
    """The same once their erasure was asked for: it can be called off for three days yet."""
    basinside(server, "erase", known[-1])
    return known


@pytest.fixture(scope="module")
def erased(asked, server):
    """The same once they are erased for good."""
    # The desk's browser is made to hang where it tidies, as one that is closed over it.
    asked[1].page.evaluate(HANGS)
    basinside(server, "erase", asked[-1], "--now")
    # Hidden they are since it was asked for; that they are gone, each hears when it exchanges next.
    for window in asked[:2]:
        window.page.evaluate("dispatchEvent(new Event('online'))")
        until = time.monotonic() + PATIENCE_MS / 1000
        while window.page.evaluate(HOLDS, CANARY):
            assert time.monotonic() < until, "they are still on a phone"
            window.page.wait_for_timeout(200)
    asked[1].page.reload()
    return asked


def test_every_screen_shows_them_no_more_once_it_is_asked_for(asked):
    is_hidden(*asked)


def test_called_off_they_are_shown_as_before(asked, server):
    phone, desk, _, client = asked
    basinside(server, "erase", client, "--keep")
    for window in (phone, desk):
        to_the_notes(window, CANARY)
        expect(window.page.locator(".note-text")).to_have_count(2)


def test_erased_they_are_shown_nowhere(erased):
    is_hidden(*erased)
    once(lambda: erased[1].page.evaluate(KEPT_SIMPLY), lambda kept: CANARY not in kept)


def is_hidden(phone, desk, _, client):
    for window in (phone, desk):
        for place in ("today", "clients", "desk", "look", "formulas"):
            window.go(place)
            expect(window.page.get_by_text(CANARY)).to_have_count(0)
            expect(window.page.get_by_role("heading").first).to_be_visible()
        window.go(f"client/{client}")
        expect(window.page.get_by_text("is not on this phone")).to_be_visible()
    desk.go("desk")
    desk.page.get_by_label("Find a client").fill(CANARY)
    expect(desk.page.get_by_text("Nothing found.")).to_be_visible()
    desk.page.get_by_label("Find a client").fill("")


def test_the_file_of_everything_holds_nothing_of_them(erased):
    for window in erased[:2]:
        window.go("settings")
        with window.page.expect_download() as download:
            window.page.get_by_role("button", name="Save everything as a file").click()
        saved = gzip.decompress(download.value.path().read_bytes())
        assert b"Wren Aldous" in saved
        assert CANARY.encode() not in saved


def test_no_byte_of_them_is_left_on_the_desk_or_the_phones(erased, server):
    assert holding(server.folder) == []
    until = time.monotonic() + PATIENCE_MS / 1000
    for window in erased[:2]:
        # The log is clean before the tidying has ended; a browser closed in between has more to do.
        while window.page.evaluate(IS_TO_TIDY):
            assert time.monotonic() < until, "it is not tidied"
            window.page.wait_for_timeout(200)
        assert holding(window.profile, "*.log") == []
        window.open("clients")
        expect(window.page.get_by_role("link", name="Wren Aldous")).to_be_visible()
        window.close()
        assert holding(window.profile) == []


def test_an_older_copy_that_is_put_back_does_not_bring_them_back(erased, server):
    older = erased[2]
    assert CANARY.encode() in older.read_bytes(), (
        "a copy made before holds them until it is deleted"
    )
    server.kill()
    basinside(server, "restore", str(older))
    server.start()
    for window in erased[:2]:
        window.open("clients")
        expect(window.page.get_by_role("link", name="Wren Aldous")).to_be_visible()
        window.go("today")
        expect(window.page.get_by_text("All sent")).to_be_visible()
        expect(window.page.get_by_text(CANARY)).to_have_count(0)
        window.close()
        assert holding(window.profile) == []
    assert holding(server.folder) == []
