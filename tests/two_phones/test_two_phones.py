"""Two people with a browser profile each, on a real server that comes and goes."""

from browsers import new_service, rename_apart, to_the_notes, write_notes
from playwright.sync_api import expect


def test_all_that_was_written_apart_is_on_both_once_and_in_order(windows, server):
    phone, desk = windows
    new_service(desk, "Wren Aldous")
    to_the_notes(phone, "Wren Aldous")
    phone.when_kept_for_offline()

    server.kill()
    written = [f"Note {n} of the day" for n in range(1, 6)]
    write_notes(phone, written[:3])
    phone.open()  # killed, and cold with no server
    to_the_notes(phone, "Wren Aldous")
    write_notes(phone, written[3:])
    phone.go("today")
    expect(phone.page.get_by_text("entries waiting")).to_be_visible()
    to_the_notes(desk, "Wren Aldous")
    write_notes(desk, ["The desk’s own"])

    server.start()
    to_the_notes(phone, "Wren Aldous")
    for window in windows:
        expect(window.page.locator(".note-text")).to_have_count(6)
    assert phone.texts() == desk.texts()
    assert [text for text in reversed(phone.texts()) if text in written] == written
    phone.go("today")
    expect(phone.page.get_by_text("All sent")).to_be_visible()


def test_two_who_wrote_at_once_are_both_shown_and_one_tap_decides(windows, server):
    phone, desk = windows
    new_service(desk, "Tamsin Orrery")
    phone.go("today")
    expect(phone.page.get_by_role("link", name="Tamsin Orrery")).to_be_visible()
    rename_apart(windows, server, "Tamsin Orrery", "Tamsin O.", "T. Orrery")
    for window in windows:
        window.go("look")
        expect(window.page.get_by_role("button", name="Tamsin O.")).to_be_visible()
        expect(window.page.get_by_role("button", name="T. Orrery")).to_be_visible()
    sides = phone.page.locator(".side").all_text_contents()
    assert any("Ana" in side for side in sides), sides
    assert any("Ilse" in side for side in sides), sides
    phone.page.get_by_role("button", name="T. Orrery").click()
    for window in windows:
        expect(window.page.get_by_text("Nothing now.")).to_be_visible()
        window.go("clients")
        expect(window.page.get_by_role("link", name="T. Orrery")).to_be_visible()


def test_a_note_from_the_phone_arrives_at_the_desk_and_is_found_there(windows):
    phone, desk = windows
    desk.go("desk")
    new_service(phone, "Juniper Fold")
    to_the_notes(phone, "Juniper Fold")
    write_notes(phone, ["Ends drink it up, heather under the lamp"])
    note = desk.page.get_by_role("link", name="Ends drink it up")
    expect(note).to_contain_text("Juniper Fold · Ana")
    expect(desk.page.get_by_role("cell", name="Juniper Fold")).to_be_visible()
    desk.page.keyboard.press("/")
    desk.page.keyboard.type("heather juniper")
    expect(desk.page.get_by_text("1 found")).to_be_visible()
    expect(note).to_be_visible()
