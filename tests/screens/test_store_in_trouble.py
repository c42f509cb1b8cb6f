"""A phone whose store fails, in a real browser: the text stays, a file is offered, "kept" is true.

tests/faults kills the browser; web/src/records/faults.test.ts has the same faults step by step.
"""

import json
import re

import pytest
from playwright.sync_api import expect
from test_service import Service

KEPT = "Kept on this phone."
FIRST = "First it was kept."
ROOM_BYTES = 200_000
TEXT = "Ends took faster, rinsed at 9."

# Every transaction that writes is ended by the browser before it is done, while the flag is up.
ABORTING = """() => {
    const begin = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (stores, mode, options) {
        const begun = begin.call(this, stores, mode, options);
        if (globalThis.aborts && mode === 'readwrite') queueMicrotask(() => begun.abort());
        return begun;
    };
}"""
# The connection is gone, as when the browser's own storage process was ended.
LOSING = """() => {
    const begin = IDBDatabase.prototype.transaction;
    const dead = new WeakSet();
    IDBDatabase.prototype.transaction = function (...given) {
        if (globalThis.lose) { globalThis.lose = false; dead.add(this); }
        if (dead.has(this)) throw new DOMException('The database connection is closing.',
            'InvalidStateError');
        return begin.apply(this, given);
    };
}"""

# A page of the next version, whose store is laid out anew.
NEWER = """() => {
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (name, version) {
        return version ? open.call(this, name, version + 1) : open.call(this, name);
    };
}"""


class Notes:
    """The notes of one client, on one window."""

    def __init__(self, page):
        self.page = page

    @property
    def field(self):
        return self.page.get_by_label("Note", exact=True)

    def write(self, text):
        self.field.fill(text)
        self.page.get_by_role("button", name="Keep the note").tap()

    def are_kept(self, *texts):
        expect(self.page.locator(".note-text")).to_have_text(list(reversed(texts)))

    def stays_and_is_offered(self, words, text=TEXT):
        expect(self.page.get_by_role("alert")).to_contain_text(words)
        expect(self.field).to_have_value(text)
        expect(self.page.get_by_text(KEPT)).to_have_count(0)
        with self.page.expect_download() as downloading:
            self.page.get_by_role("button", name="Save as a file").tap()
        saved = json.loads(downloading.value.path().read_text())
        assert text in json.dumps(saved)


@pytest.fixture
def service(visit):
    return Service(visit())


@pytest.fixture
def notes(service):
    return begin(service)


def begin(service, *scripts):
    for script in scripts:
        service.page.add_init_script(f"({script})()")
    service.open().of_a_new_client()
    return on_notes(service.page)


def on_notes(page):
    page.locator("summary", has_text=re.compile("^Notes")).tap()
    notes = Notes(page)
    notes.write(FIRST)
    expect(page.get_by_text(KEPT)).to_be_visible()
    return notes


def test_a_full_phone_leaves_the_text_and_keeps_it_once_there_is_room(service):
    session = service.page.context.new_cdp_session(service.page)
    quota = {"origin": service.visit.address, "quotaSize": ROOM_BYTES}
    session.send("Storage.overrideQuotaForOrigin", quota)
    notes = begin(service)
    long_text = TEXT + " x" * 20_000
    kept = [FIRST]
    while len(kept) < 2 * ROOM_BYTES / len(long_text):
        notes.write(long_text)
        said = service.page.get_by_text(KEPT).or_(service.page.get_by_role("alert"))
        expect(said.first).to_be_visible()
        if service.page.get_by_role("alert").count():
            break
        kept.append(long_text)
    notes.stays_and_is_offered("This phone is full", long_text)
    session.send("Storage.overrideQuotaForOrigin", {"origin": service.visit.address})
    service.page.reload()
    service.page.locator("summary", has_text=re.compile("^Notes")).tap()
    notes.write(TEXT)
    expect(service.page.get_by_text(KEPT)).to_be_visible()
    notes.are_kept(*kept, TEXT)


def test_a_store_that_aborts_leaves_the_text_and_keeps_it_when_it_works_again(service):
    notes = begin(service, ABORTING)
    service.page.evaluate("globalThis.aborts = true")
    notes.write(TEXT)
    notes.stays_and_is_offered("did not answer")
    service.page.evaluate("globalThis.aborts = false")
    notes.write(TEXT)
    notes.are_kept(FIRST, TEXT)


def test_a_connection_that_is_lost_is_opened_anew_and_the_note_kept_once(service):
    notes = begin(service, LOSING)
    service.page.evaluate("globalThis.lose = true")
    notes.write(TEXT)
    expect(service.page.get_by_text(KEPT)).to_be_visible()
    notes.are_kept(FIRST, TEXT)
    service.page.reload()
    service.page.locator("summary", has_text=re.compile("^Notes")).tap()
    notes.are_kept(FIRST, TEXT)


def test_two_windows_write_by_turns_and_show_the_same(service, notes):
    other_page = service.page.context.new_page()
    other_page.goto(service.page.url)
    other_page.locator("summary", has_text=re.compile("^Notes")).tap()
    other = Notes(other_page)
    texts = [FIRST]
    for number in range(6):
        window = (notes, other)[number % 2]
        texts.append(f"note {number}")
        window.write(texts[-1])
        for each in (notes, other):
            each.are_kept(*texts)
    numbers = [op["device_seq"] for op in service.records("outbox")]
    assert numbers == list(range(1, len(numbers) + 1))


def test_a_window_that_is_frozen_stops_no_other_and_has_it_all_when_it_thaws(service, notes):
    other_page = service.page.context.new_page()
    other_page.goto(service.page.url)
    other_page.locator("summary", has_text=re.compile("^Notes")).tap()
    other = Notes(other_page)
    notes.field.fill("typed and not kept yet")
    session = service.page.context.new_cdp_session(service.page)
    session.send("Page.setWebLifecycleState", {"state": "frozen"})
    other.write(TEXT)
    other.are_kept(FIRST, TEXT)
    session.send("Page.setWebLifecycleState", {"state": "active"})
    notes.are_kept(FIRST, TEXT)
    expect(notes.field).to_have_value("typed and not kept yet")


def test_a_newer_window_is_let_in_and_the_older_one_says_so(service, notes):
    other_page = service.page.context.new_page()
    other_page.add_init_script(f"({NEWER})()")
    other_page.goto(service.page.url)
    other_page.locator("summary", has_text=re.compile("^Notes")).tap()
    other = Notes(other_page)
    other.are_kept(FIRST)
    notes.write(TEXT)
    notes.stays_and_is_offered("was updated in another window")


def test_an_older_window_in_the_way_is_said_and_the_text_kept_once_it_closes(service):
    begin(service)
    old = service.page.context.new_page()
    old.goto(f"{service.visit.address}/icon.svg")
    old.evaluate(
        """() => new Promise((done) => {
            const opening = indexedDB.open('basinside');
            opening.onsuccess = () => { globalThis.held = opening.result; done(); };
        })"""
    )
    url = service.page.url
    service.page.close()
    page = old.context.new_page()
    page.add_init_script(f"({NEWER})()")
    page.goto(f"{service.visit.address}/#/today")
    page.get_by_role("button", name="New service").tap()
    page.get_by_label("Client’s name").fill("Wren Aldous")
    page.get_by_role("button", name="New client").tap()
    expect(page.get_by_role("alert")).to_contain_text("Another window of Basinside blocks this")
    expect(page.get_by_role("button", name="Save as a file")).to_be_visible()
    old.close()
    expect(page.get_by_role("alert")).to_have_count(0)
    page.goto(url)
    page.locator("summary", has_text=re.compile("^Notes")).tap()
    Notes(page).are_kept(FIRST)
