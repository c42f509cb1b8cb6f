"""What stands at the desk: everything that can be found, a client's whole history, what is open."""

import pytest
from browsers import (
    new_service,
    put_a_test_on,
    rename_apart,
    to_the_client,
    to_the_notes,
    write_notes,
)
from playwright.sync_api import expect


def search(desk, words):
    desk.go("today")
    expect(desk.page.get_by_role("heading", name="Floor")).to_have_count(0)
    desk.go("desk")
    field = desk.page.get_by_label("Find a client")
    expect(field).to_be_visible()
    expect(desk.page.get_by_role("heading", name="Floor")).to_be_visible()
    desk.page.keyboard.press("/")
    expect(field).to_be_focused()
    field.fill(words)
    return desk.page.get_by_role("region", name="Notes, and the search").get_by_role("link")


def test_what_only_the_server_holds_is_found_with_whose_it_is(windows):
    phone, desk = windows
    desk.hear_nothing()
    new_service(phone, "Juniper Fold")
    to_the_notes(phone, "Juniper Fold")
    write_notes(phone, ["Heather under the lamp, café rinse"])
    to_the_client(phone, "Juniper Fold")
    phone.page.locator("summary", has_text="Add to the history").click()
    phone.page.get_by_role("button", name="permed", exact=True).click()
    phone.go("today")
    expect(phone.page.get_by_text("All sent")).to_be_visible()

    found = search(desk, "juniper")
    expect(found.filter(has_text="client")).to_contain_text("Juniper Fold")
    expect(search(desk, "heather cafe")).to_contain_text("note, Juniper Fold")
    expect(search(desk, "permed")).to_contain_text("history, Juniper Fold")
    expect(search(desk, "juniper nobody")).to_have_count(0)
    expect(desk.page.get_by_text("Nothing found.")).to_be_visible()
    search(desk, "heather").click()
    expect(desk.page.get_by_text("is not on this phone")).to_be_visible()

    desk.hear_again()
    expect(search(desk, "heather")).to_have_count(1)
    search(desk, "heather").click()
    expect(desk.page.get_by_role("heading", name="Juniper Fold")).to_be_visible()


@pytest.fixture(scope="module")
def told(windows):
    """A client on whom both have done something."""
    phone, desk = windows
    new_service(phone, "Wren Aldous")
    to_the_notes(phone, "Wren Aldous")
    write_notes(phone, ["Ends drink it up"])
    desk.go("today")
    desk.page.locator(".day-row", has_text="Wren Aldous").click()
    desk.page.get_by_role("button", name="Take it over").click()
    put_a_test_on(desk, "Wren Aldous")
    to_the_client(desk, "Wren Aldous")
    desk.page.locator("summary", has_text="Add to the history").click()
    desk.page.get_by_role("button", name="lightened elsewhere", exact=True).click()
    return phone, desk


def test_a_clients_whole_history_stands_beside_them_whoever_wrote_it(told):
    _, desk = told
    to_the_client(desk, "Wren Aldous")
    rows = desk.page.get_by_role("region", name="Everything, newest first").get_by_role("row")
    for what, words, who in (
        ("note", "Ends drink it up", "Ana"),
        ("service", "planned", "Ilse"),
        ("step", "taken over", "Ilse"),
        ("alert test", "read it from", "Ilse"),
        ("hair’s history", "lightened elsewhere", "Ilse"),
    ):
        row = rows.filter(has_text=words)
        expect(row).to_have_count(1)
        expect(row.get_by_role("cell").nth(1)).to_have_text(what)
        expect(row.get_by_role("cell").nth(3)).to_have_text(who)
    # The note was written before it was taken over.
    told_of = rows.all_inner_texts()
    at = {
        words: next(n for n, row in enumerate(told_of) if words in row)
        for words in ("Ends drink it up", "taken over")
    }
    assert at["taken over"] < at["Ends drink it up"]


def test_what_two_wrote_apart_is_listed_at_the_desk_until_it_is_decided(told, server):
    phone, desk = told
    desk.go("desk")
    phone.go("clients")
    expect(phone.page.get_by_role("link", name="Wren Aldous")).to_be_visible()
    rename_apart(told, server, "Wren Aldous", "Wren A.", "W. Aldous")
    desk.go("desk")
    open_ = desk.page.get_by_role("region", name="Needs a look, 1")
    expect(open_).to_contain_text("name: two people wrote it")
    open_.get_by_role("link").click()
    desk.page.get_by_role("button", name="Wren A.").click()
    desk.go("desk")
    expect(desk.page.get_by_role("heading", name="Floor")).to_be_visible()
    expect(desk.page.get_by_role("heading", name="Needs a look")).to_have_count(0)
