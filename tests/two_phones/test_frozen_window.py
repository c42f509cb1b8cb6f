"""Two windows of one phone, of which the one that sends is frozen by the phone's system."""

from browsers import new_service, to_the_notes, write_notes
from playwright.sync_api import expect
from waiting import once

CLIENT = "Wren Aldous"
WAITING = """() => new Promise((done) => {
    const opening = indexedDB.open('basinside');
    opening.onsuccess = () => {
        const waiting = opening.result.transaction('outbox').objectStore('outbox').getAll();
        waiting.onsuccess = () => {
            opening.result.close();
            done(waiting.result.map((op) => op.fields?.text).filter(Boolean));
        };
    };
})"""


def test_a_frozen_window_that_sends_is_taken_over_from_and_sends_nothing_twice(windows):
    phone, desk = windows
    new_service(phone, CLIENT)
    to_the_notes(phone, CLIENT)
    write_notes(phone, ["Before the frost"])
    desk.go("desk")
    expect(desk.page.get_by_role("link", name="Before the frost")).to_be_visible()
    # The first window leads, since it was there first. Then the phone's system freezes it.
    first = phone.page
    phone.freeze()
    phone.page = phone.another_page("today")
    to_the_notes(phone, CLIENT)
    write_notes(phone, ["While it is frozen"])
    expect(desk.page.get_by_role("link", name="While it is frozen")).to_be_visible()

    second, phone.page = phone.page, first
    phone.freeze("active")
    write_notes(phone, ["After the thaw"])
    expect(desk.page.get_by_role("link", name="After the thaw")).to_be_visible()
    second.close()
    write_notes(phone, ["Alone again"])
    expect(desk.page.get_by_role("link", name="Alone again")).to_be_visible()
    to_the_notes(desk, CLIENT)
    expect(desk.page.locator(".note-text")).to_have_count(4)
    assert desk.texts() == phone.texts()
    # The desk may show the last of them before the phone has read that it was taken.
    once(lambda: phone.page.evaluate(WAITING), lambda waiting: waiting == [])
