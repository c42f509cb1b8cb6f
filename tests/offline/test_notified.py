"""A tap on a notification of an alarm opens the service that rings, in the browser's own worker.

The browser shows the notification and hands it to the worker; only the tap on it is made by us, as
no browser lets a program tap one. The same goes for what a page out of sight says of itself.
"""

import pytest
from browser import NOTIFYING
from playwright.sync_api import expect
from test_service import Service
from visit import Visit
from waiting import drawn, once

CLIENT = "Wren Aldous"

# As while another app is in front: the page is told so by the browser.
OUT_OF_SIGHT = """() => {
    Object.defineProperty(document, 'hidden', { configurable: true, get: () => true });
    document.dispatchEvent(new Event('visibilitychange'));
}"""
SHOWN = """async () => (await registration.getNotifications())
    .map(({ title, tag, data, actions }) => ({ title, tag, data, actions }))"""
TAPPED = """async (action) => {
    const [notification] = await registration.getNotifications();
    dispatchEvent(new NotificationEvent('notificationclick', { notification, action }));
}"""
PAGES = """() => clients.matchAll({ type: "window", includeUncontrolled: true })
    .then((all) => all.map(({ url }) => url))"""
# A browser opens a window only for a real tap. So the test looks at what the worker asks for.
KEEP_WHAT_IS_OPENED = """() => {
    self.opened = [];
    clients.openWindow = async (address) => { self.opened.push(address); return null; };
}"""


@pytest.fixture
def ringing(phone, server):
    """A phone that may notify, whose clock rings while another app is in front; and its worker."""
    page = phone.on(chromium=NOTIFYING, permissions=["notifications"])
    service = Service(Visit(page, server.address)).open()
    page.evaluate("navigator.serviceWorker.ready.then(() => {})")
    service.of_a_new_client(CLIENT).to_the_clock()
    worker = page.context.service_workers[0]
    where = page.evaluate("location.hash")
    service.open("shelf")
    page.evaluate(OUT_OF_SIGHT)
    service.open(where.removeprefix("#/"))
    minute = page.locator(".reading-minute")
    for _ in range(60):
        before = minute.text_content()
        service.button("+1 min")
        # On record before the next: a minute further, another moment would ring in its place.
        expect(minute).not_to_have_text(before)
        drawn(page)
        if page.locator(".ringing").count() > 0:
            break
    expect(page.locator(".ringing")).to_be_visible()
    service.open("shelf")
    return page, worker, where


def count_of(worker, asked, count):
    """What the worker answers, as soon as it is so many."""
    return once(lambda: worker.evaluate(asked), lambda answered: len(answered) == count)


def shown(worker):
    """The one notification that stands, once it does."""
    return count_of(worker, SHOWN, 1)[0]


def test_a_tap_on_it_takes_the_open_page_to_the_service(ringing):
    page, worker, where = ringing
    only = shown(worker)
    assert only["title"] == f"{CLIENT}, all over: look again, you can rinse from here"
    assert only["data"]["address"] == where
    worker.evaluate(TAPPED, "")
    expect(page.get_by_role("button", name="Last section on")).to_be_visible()
    assert page.evaluate("location.hash") == where
    # It still rings: nobody has said that they heard it.
    expect(page.locator(".ringing")).to_be_visible()
    # The browser closes a notification in its own time.
    count_of(worker, SHOWN, 0)


def test_its_own_button_hears_the_alarm_and_leaves_the_page_where_it_is(ringing):
    page, worker, _ = ringing
    assert [action["action"] for action in shown(worker)["actions"]] == ["heard"]
    worker.evaluate(TAPPED, "heard")
    expect(page.locator(".ringing")).to_have_count(0)
    assert page.evaluate("location.hash") == "#/shelf"


def test_it_goes_once_the_alarm_is_heard_on_the_page(ringing):
    page, worker, _ = ringing
    shown(worker)
    page.get_by_role("button", name="Heard").tap()
    count_of(worker, SHOWN, 0)


def test_with_no_page_open_a_tap_opens_one_at_the_service(ringing):
    page, worker, where = ringing
    shown(worker)
    worker.evaluate(KEEP_WHAT_IS_OPENED)
    page.goto("about:blank")
    # The browser lets go of a page that was left a moment later.
    count_of(worker, PAGES, 0)
    worker.evaluate(TAPPED, "")
    assert count_of(worker, "self.opened", 1) == [f"/{where}"]
