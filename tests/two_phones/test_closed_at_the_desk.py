"""What only the server sees is shown at the desk with what to do, and closed by a named person."""

import sqlite3
import time
from contextlib import closing

import httpx
import pytest
from browser import DESK
from browsers import Window
from phone import Phone
from playwright.sync_api import expect
from started_services import Visit

from basinside.service.store.salon import DATABASE_FILE, Salon


@pytest.fixture
def sender(new_salon):
    """A phone whose operations a test writes."""
    salon = Salon(new_salon.folder / DATABASE_FILE)
    with httpx.Client(base_url=new_salon.address) as client:
        phone = Phone(client, salon, 1, time.time_ns() // 1_000_000)
        phone.pair(phone.now_ms)
        yield phone
    salon.close()


@pytest.fixture
def desk(playwright, new_salon, tmp_path):
    window = Window(playwright, tmp_path / "profile", new_salon.address, DESK)
    window.open()
    window.pair(new_salon.code(), "The desk")
    yield window
    window.close()


def one_row_spoilt(new_salon, phone):
    """A letter of a client's row is another on the disk than was written."""
    made = phone.op("client.create", next(phone.ids), {"name": "Tamsin Orrery"})
    made["device_seq"] = phone.sent = phone.sent + 1
    assert phone.push(made).json()["accepted"]
    with closing(sqlite3.connect(new_salon.folder / DATABASE_FILE)) as disk, disk:
        change = "CAST(replace(CAST(change AS TEXT), 'Tamsin', 'Tomsin') AS BLOB)"
        disk.execute(
            f"UPDATE record SET change = {change} WHERE entity_id = ?", [made["entity_id"]]
        )
    phone.all_changes()


def known_at_the_start(phone, visit):
    """What the phone kept as the first section went on."""
    fields = {
        "service": visit.service,
        "client": visit.client,
        "worker": "Mae Orr",
        "answers": [
            {"fact": "scalp", "value": "sound"},
            {"fact": "dye_allergy", "value": "not_asked"},
        ],
        "tests": [{"line": "Cobble", "result": "redness"}],
    }
    kept = phone.op("start.create", next(phone.ids), fields)
    kept["device_seq"] = phone.sent = phone.sent + 1
    assert phone.push(kept).json()["accepted"]


def one_refused(phone, client):
    """What a phone wrote is none of what the field may hold."""
    bad = phone.op("client.set", client, {"name": 5})
    bad["device_seq"] = phone.sent = phone.sent + 1
    assert phone.push(bad).json()["refused"]


def close_by(matter, by):
    """Closes it as a person does; the button waits for a name and both reasons."""
    matter.locator("summary", has_text="Close this").click()
    button = matter.get_by_role("button", name="Close it")
    name = matter.get_by_label("Checked by, by name")
    another = matter.get_by_role("radio", name="another name")
    expect(name.or_(another).first).to_be_visible()
    if not name.is_visible():
        another.click()
    name.fill(by)
    matter.get_by_role("radio", name="in charge today").click()
    matter.get_by_label("What you saw").fill("The client came by, her skin is calm")
    expect(button).to_be_disabled()
    matter.get_by_label("Why it may close").fill("Asked twice, nothing since")
    button.click()
    expect(matter).to_have_count(0)


def test_what_only_the_server_sees_is_closed_by_name(new_salon, sender, desk):
    visit = Visit(sender)
    visit.push(visit.client_and_salon(), visit.planned(), visit.started())
    known_at_the_start(sender, visit)
    one_row_spoilt(new_salon, sender)
    one_refused(sender, visit.client)
    desk.hear_one_a_page("/api/matters")
    desk.go("desk")
    desk.page.get_by_role("region", name="Needs a look, 3").wait_for()
    desk.page.get_by_role("link", name="service: Ona Petrel").click()

    held = desk.page.get_by_role("article", name="Started against the safety rules Ona Petrel")
    expect(held.get_by_role("listitem").first).to_contain_text("alert test")
    expect(held.get_by_role("link", name="Open the service")).to_have_attribute(
        "href", f"#/service/{visit.service}"
    )
    # What its phone knew stands beside what the desk found: the block of that moment says it.
    expect(held).to_contain_text(
        "Mae Orr started it and knew of: 1 answer, alert test of Cobble: redness, 0 decisions."
    )
    close_by(held, "Ona Vale")
    unread = desk.page.get_by_role("article", name="Cannot be read")
    unread.locator("summary", has_text="What the row says").click()
    expect(unread).to_contain_text("Tomsin Orrery")
    close_by(unread, "Ana Reed")
    refused = desk.page.get_by_role("article", name="Refused from a phone Ona Petrel")
    expect(refused).to_contain_text("The desk refused an entry from Phone 1")
    expect(refused).to_contain_text("/fields/name")
    close_by(refused, "Ana Reed")

    def open_at_the_server():
        return sender.client.get("/api/matters", headers=sender.headers).json()["in_all"]

    desk.go("today")
    expect(desk.page.get_by_text("All sent")).to_be_visible()
    assert open_at_the_server() == 0
    kept = [each for each in sender.all_changes()[0].values() if each["kind"] == "closing"]
    assert {each["fields"]["by"]["v"] for each in kept} == {"Ona Vale", "Ana Reed"}
    assert visit.service in {each["fields"].get("service", {}).get("v") for each in kept}
