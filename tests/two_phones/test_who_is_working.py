"""Who is working: said with one tap on a salon's phone, and carried by what is written there."""

import json

import pytest
from browser import PHONE
from browsers import HELD, Window, new_service, to_the_notes, write_notes
from playwright.sync_api import expect


@pytest.fixture
def unnamed(playwright, server, tmp_path):
    """A phone that was just paired, on which nobody has said who is working."""
    window = Window(playwright, tmp_path / "profile", server.address, PHONE)
    window.open()
    window.go(f"pair/{server.code()}")
    window.page.get_by_label("Name of this phone").fill("The tray’s phone")
    window.page.get_by_role("button", name="Pair this phone").click()
    window.page.get_by_role("heading", name="This phone is paired").wait_for()
    yield window
    window.close()


def made_of(window, kind, **fields):
    """The writes that made the desk's records of a kind with these values, once it has them."""
    for _ in range(300):
        found = [
            state
            for state in window.page.evaluate(HELD)["base"]
            if state["kind"] == kind
            and all(state["fields"][name]["heads"][0]["v"] == v for name, v in fields.items())
        ]
        if found:
            return found
        window.page.wait_for_timeout(200)
    raise AssertionError(f"no {kind} with {json.dumps(fields)} came back from the desk")


def it_is(page, name):
    """Types a name that joins the team."""
    page.locator(".names-new input").fill(name)
    page.get_by_role("button", name="It’s me").click()


def author(state):
    return state["created"][0]["by"]


def test_the_first_act_asks_once_and_all_that_follows_carries_the_name(unnamed):
    page = unnamed.page
    unnamed.go("today")
    page.get_by_role("button", name="New service").click()
    page.get_by_label("Client’s name").fill("Lio Fennick")
    page.get_by_role("button", name="New client").click()

    expect(page.get_by_role("heading", name="Who is working?")).to_be_visible()
    expect(page.get_by_role("button", name="Help")).to_be_visible()
    it_is(page, "Mae Orr")

    # What was begun goes on by itself, and nothing asks again.
    expect(page.get_by_role("link", name="Lio Fennick")).to_be_visible()
    to_the_notes(unnamed, "Lio Fennick")
    write_notes(unnamed, ["sits by the window"])
    expect(page.get_by_role("button", name="Working: Mae Orr. Change")).to_be_visible()

    [mae] = made_of(unnamed, "person", name="Mae Orr")
    [note] = made_of(unnamed, "note", text="sits by the window")
    [client] = made_of(unnamed, "client", name="Lio Fennick")
    assert author(note) == author(client) == mae["id"]


def test_one_tap_on_the_name_changes_who_is_working(unnamed):
    page = unnamed.page
    it_is(page, "Ines Vale")
    unnamed.go("settings")
    page.get_by_label("Another name").fill("Bo Larkspur")
    page.get_by_role("button", name="Add", exact=True).click()
    new_service(unnamed, "Tia Moss")

    page.get_by_role("button", name="Working: Ines Vale. Change").click()
    page.get_by_role("button", name="Bo Larkspur").click()

    # The page is where it was left.
    expect(page.get_by_role("link", name="Tia Moss")).to_be_visible()
    to_the_notes(unnamed, "Tia Moss")
    write_notes(unnamed, ["a shade deeper next time"])
    [bo] = made_of(unnamed, "person", name="Bo Larkspur")
    [note] = made_of(unnamed, "note", text="a shade deeper next time")
    assert author(note) == bo["id"]


def test_what_somebody_taken_off_the_team_had_open_goes_on_under_the_phone(unnamed):
    page = unnamed.page
    it_is(page, "Una Reed")
    unnamed.go("settings")
    page.get_by_role("button", name="Take Una Reed off the team").click()
    unnamed.go("today")
    page.get_by_role("button", name="New service").click()
    page.get_by_label("Client’s name").fill("Ivo Lind")
    page.get_by_role("button", name="New client").click()
    page.get_by_role("button", name="Not now").click()
    expect(page.get_by_role("link", name="Ivo Lind")).to_be_visible()

    to_the_notes(unnamed, "Ivo Lind")
    write_notes(unnamed, ["came with a friend"])
    [note] = made_of(unnamed, "note", text="came with a friend")
    phones = made_of(unnamed, "device", name="The tray’s phone")
    assert author(note) in {phone["id"] for phone in phones}
