"""A clock rings where it should, and what one phone heard is silent on the others and at the desk.

No time is asserted: what must fall silent is waited for; benchmarks/heard.py measures how long that
takes. Every moment is brought on by moving the beginning of the clock, so nobody waits for minutes.
"""

import time

import httpx
import pytest
from browser import PHONE
from browsers import HELD, Window, assert_both_hold_the_same
from phone import Phone
from playwright.sync_api import expect
from test_service import Service
from visit import Visit
from waiting import drawn

from basinside.service.records.instants import instant_text

CLIENT = "Wren Aldous"
HOUR_MS = 3_600_000


@pytest.fixture(scope="module")
def ben(playwright, server, tmp_path_factory):
    """A second colourist's phone of the same salon."""
    window = Window(playwright, tmp_path_factory.mktemp("ben") / "its", server.address, PHONE)
    window.open()
    window.pair(server.code(), "Ben’s phone")
    yield window
    window.close()


def rings(window):
    return window.page.locator(".ringing")


def hear(window):
    rings(window).get_by_role("button", name="Heard").click()
    expect(rings(window)).to_have_count(0)


def move_on(window):
    """Moves the beginning of the clock back by a minute; returns once it is on record."""
    minute = window.page.locator(".reading-minute")
    before = minute.inner_text()
    window.page.get_by_role("button", name="+1 min").click()
    expect(minute).not_to_have_text(before)


def move_on_until_it_rings(window, words):
    """Moves the clock on until it rings with these words, and a minute further for the desk."""
    for _ in range(60):
        move_on(window)
        drawn(window.page)
        if rings(window).filter(has_text=words).count() > 0:
            break
    expect(rings(window)).to_contain_text(words)
    move_on(window)
    move_on(window)


def heard_by_record(window):
    """What the desk's copy on this phone says was heard, by what it was heard as."""
    held = window.page.evaluate(HELD)
    fields = [name for state in held["base"] for name in state["fields"]]
    return sorted(name.removeprefix("heard.") for name in fields if name.startswith("heard."))


def open_service(window):
    window.go("today")
    window.page.locator(".day-row", has_text=CLIENT).click()
    expect(window.page.get_by_role("button", name="+1 min")).to_be_visible()


def test_it_rings_where_it_should_and_heard_is_known_to_all(windows, ben):
    ana, desk = windows
    ana.go("today")
    Service(Visit(ana.page, ana.address)).of_a_new_client(CLIENT).to_the_clock()
    open_service(desk)

    # Ana's chair: her phone rings, the desk a minute later, Ben's phone never.
    move_on_until_it_rings(ana, "look again")
    expect(rings(desk)).to_contain_text(f"{CLIENT}, all over: look again")
    ben.go("clients")
    expect(ben.page.locator(".bar-clocks")).to_contain_text(CLIENT)
    expect(rings(ben)).to_have_count(0)
    hear(ana)
    expect(rings(desk)).to_have_count(0)

    # Away from the network she hears an older alarm; meanwhile the rinse is due at the desk.
    ana.when_kept_for_offline()
    ana.lose_the_network()
    move_on(ana)
    expect(rings(ana)).to_contain_text("look again")
    hear(ana)
    move_on_until_it_rings(desk, "rinse now")
    ana.find_the_network()
    expect(rings(ana)).to_contain_text("rinse now")
    assert_both_hold_the_same(ana, desk)
    expect(rings(desk)).to_contain_text("rinse now")
    expect(rings(ana)).to_contain_text("rinse now")

    # The desk hears it for both, and it stays silent after a reload.
    hear(desk)
    expect(rings(ana)).to_have_count(0)
    ana.page.reload()
    expect(ana.page.get_by_role("button", name="+1 min")).to_be_visible()
    expect(rings(ana)).to_have_count(0)
    assert_both_hold_the_same(ana, desk)
    heard = [name.split()[0] for name in heard_by_record(ana)]
    assert [name for name in heard if name != "read"] == ["by", "from", "from"]
    expect(rings(ben)).to_have_count(0)


@pytest.fixture
def put_on_49_hours_ago(server):
    """An alert test of Ona Petrel that a third phone brings in; it has been due for an hour."""
    now_ms = time.time_ns() // 1_000_000
    with httpx.Client(base_url=server.address) as client:
        phone = Phone(client, None, 3, now_ms)
        phone.pair_with(server.code())
        ona, test = next(phone.ids), next(phone.ids)
        told = {"client": ona, "line": "Still", "site": "inside of the elbow"}
        told |= {"applied_by": "salon", "applied_at": instant_text(now_ms - 49 * HOUR_MS)}
        named = phone.op("client.create", ona, {"name": "Ona Petrel"})
        assert phone.push(named, phone.op("alert_test.create", test, told)).status_code == 200
    return instant_text(now_ms - HOUR_MS)[:19] + "Z"


def test_an_alert_test_that_one_heard_is_silent_everywhere(windows, ben, put_on_49_hours_ago):
    everywhere = (*windows, ben)
    for window in everywhere:
        window.go("clients")
        expect(rings(window)).to_contain_text("Read the alert test: Ona Petrel")
    hear(ben)
    for window in windows:
        expect(rings(window)).to_have_count(0)
    assert_both_hold_the_same(*windows)
    assert_both_hold_the_same(windows[0], ben)
    for window in everywhere:
        window.page.reload()
        expect(window.page.get_by_role("link", name="Ona Petrel")).to_be_visible()
        expect(rings(window)).to_have_count(0)
    assert f"read {put_on_49_hours_ago}" in heard_by_record(windows[1])
