"""A phone whose clock is moved while a zone runs: the minutes go on by the time that has passed."""

import re

import pytest
from playwright.sync_api import expect
from test_service import Service
from visit import pause_at

# The clock alone jumps, as when somebody sets it: what counts elapsed time goes on as it was.
JUMP = """by_ms => {
    const RealDate = Date;
    const jumped = () => RealDate.now() + by_ms;
    globalThis.Date = class extends RealDate {
        constructor(...given) { given.length ? super(...given) : super(jumped()); }
        static now() { return jumped(); }
    };
}"""
HOUR_MS = 3_600_000
# Between two taps a busy machine takes minutes, and none that is an hour off.
SOON = r"\d"


@pytest.fixture
def service(begun):
    return begun()


def test_set_back_by_an_hour_the_minute_stays_right_and_it_is_said(service):
    service.page.evaluate(JUMP, -HOUR_MS)
    notice = service.page.locator(".page-notice")
    expect(notice).to_contain_text("was set back by 1 h")
    expect(service.page.locator(".reading-minute")).to_have_text(re.compile(f"^{SOON}$"))
    expect(service.page.locator(".order-words")).to_contain_text("Wait")
    # The basin has no room for it: its bar leads there.
    service.button("Last section on").button("Clock moved").button("I have read this")
    expect(notice).to_have_count(0)
    service.button("Back to the basin")
    expect(service.page.locator(".basin-order")).to_contain_text("Wait")
    service.rinsed()
    steps = [
        op["fields"]["what"] for op in service.records("outbox") if op["kind"] == "step.create"
    ]
    assert len(steps) == 1
    assert re.fullmatch(f"all over rinsed at minute {SOON}", steps[0])


def test_jumped_ahead_a_person_says_whether_the_phone_slept(service):
    service.page.evaluate(JUMP, HOUR_MS)
    notice = service.page.locator(".page-notice")
    expect(notice).to_contain_text("jumped ahead by 1 h")
    # Until then the time counts: minutes counted short would leave the mix on for too long.
    expect(service.page.locator(".order-words")).to_have_text("Rinse now")
    service.button("The clock was moved")
    expect(notice).to_have_count(0)
    expect(service.page.locator(".order-words")).to_contain_text("Wait")
    expect(service.page.locator(".reading-minute")).to_have_text(re.compile(f"^{SOON}$"))


def test_set_back_while_the_page_is_closed_it_is_said_when_it_opens(service):
    service.page.add_init_script(f"({JUMP})({-HOUR_MS})")
    service.page.reload()
    expect(service.page.locator(".page-notice")).to_contain_text("while Basinside was closed")
    expect(service.page.locator(".order-words")).to_contain_text("Wait")


@pytest.mark.parametrize(
    ("now", "said"),
    [
        # The clocks go back at 01:00 UTC on the last Sunday of October (Directive 2000/84/EC).
        ("2026-10-25T00:55:00Z", "after the clocks go back"),
        ("2026-11-25T23:55:00Z", "tomorrow"),
    ],
)
def test_a_clock_goes_on_through_midnight_and_through_the_hour_that_comes_twice(visit, now, said):
    zone = "Europe/London"
    shown = visit(timezone_id=zone)
    shown.page.clock.install(time=now)
    service = Service(shown).open().of_a_new_client().to_the_clock()
    expect(service.countdown).to_contain_text(said)
    pause_at(shown.page, (service.began_ms + 630_000) / 1000)
    expect(service.page.locator(".reading-minute")).to_have_text("10")
    expect(service.page.locator(".page-notice")).to_have_count(0)
