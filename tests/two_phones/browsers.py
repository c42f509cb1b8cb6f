"""Browsers with profiles on one server that comes and goes, and what people do with them."""

import json
import re
import time
from contextlib import contextmanager, suppress

from browser import NOTIFYING, PATIENCE_MS, kill_browser_of, open_profile
from playwright.sync_api import Error, expect
from running import Server

# The worker takes the page once all of it is in its cache.
CONTROLLED = """async () => {
    while (!navigator.serviceWorker.controller)
        await new Promise((done) => setTimeout(done, 50));
}"""

# What the desk last gave, with what waits here and what was refused, read from the store itself.
HELD = """async () => {
    const opened = await new Promise((done, fail) => {
        const opening = indexedDB.open('basinside');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => done(opening.result);
    });
    const all = (store) => new Promise((done) => {
        opened.transaction(store).objectStore(store).getAll().onsuccess =
            ({ target }) => done(target.result);
    });
    const [base, outbox, tray] = await Promise.all(['base', 'outbox', 'tray'].map(all));
    opened.close();
    return { base, waiting: outbox.length + tray.length };
}"""


@contextmanager
def running_over_tls(folder):
    """A server with a certificate of the salon's own."""
    server = Server(folder, tls=True).start()
    try:
        yield server
    finally:
        server.kill()


class Window:
    """A browser of one person, whose profile stays when it is closed."""

    def __init__(self, playwright, profile, address, size, flags=()):
        self._playwright, self.profile, self._size = playwright, profile, size
        self.address = address
        self._flags = flags
        self._context = None

    def open(self, place="today"):
        self.close()
        # As people have it: these tests also read what is left in the profile's files.
        self._context = open_profile(
            self._playwright, self.profile, self._size, self._flags, chromium=NOTIFYING
        )
        self.page = self._context.pages[0]
        self.page.goto(f"{self.address}/#/{place}")
        return self.page

    def another_page(self, place):
        """Opens a second window of the same browser."""
        page = self._context.new_page()
        page.goto(f"{self.address}/#/{place}")
        return page

    def freeze(self, state="frozen"):
        """Freezes this page as a phone's system does with one in the background, or thaws it."""
        session = self._context.new_cdp_session(self.page)
        session.send("Page.setWebLifecycleState", {"state": state})

    def go(self, place):
        self.page.evaluate("place => { location.hash = '#/' + place }", place)

    def pair(self, code, name, who=None):
        """Pairs under a name of the phone's; nobody is named as working on it unless `who` is."""
        self.go(f"pair/{code}")
        self.page.get_by_label("Name of this phone").fill(name)
        self.page.get_by_role("button", name="Pair this phone").click()
        self.page.get_by_role("heading", name="This phone is paired").wait_for()
        if who is None:
            self.page.get_by_role("button", name="Not now").click()
        else:
            self.page.locator(".names-new input").fill(who)
            self.page.get_by_role("button", name="It’s me").click()

    def when_kept_for_offline(self):
        self.page.evaluate(CONTROLLED)

    def when_ready_offline(self):
        """Waits until the engine too is kept, so that the next start brings nothing in."""
        self.go("settings")
        said = self.page.locator("#offline").get_by_role("status")
        expect(said).to_have_text(re.compile("^Ready offline: "))

    def lose_the_network(self):
        self._context.set_offline(True)

    def find_the_network(self):
        self._context.set_offline(False)

    def hear_nothing(self):
        """The desk answers, but no record comes in or goes out, as while all is still to come."""
        self._context.route("**/api/sync/**", lambda route: route.abort())
        self.page.reload()

    def hear_again(self):
        self._context.unroute("**/api/sync/**")
        self.page.reload()

    def hear_one_a_page(self, path):
        """The desk is asked for pages of one of what a call lists."""

        def narrowed(route):
            url = route.request.url
            route.continue_(url=f"{url}{'&' if '?' in url else '?'}limit=1")

        self._context.route(f"**{path}*", narrowed)

    def texts(self):
        """The notes on the page, the latest first."""
        return self.page.locator(".note-text").all_text_contents()

    def kill(self):
        """Ends the browser as a phone that runs out of power."""
        kill_browser_of(self.profile)
        with suppress(Error):
            self._context.close()
        self._context = None

    def close(self):
        if self._context:
            self._context.close()
            self._context = None


def new_service(window, name):
    page = window.page
    window.go("today")
    page.get_by_role("button", name="New service").click()
    page.get_by_label("Client’s name").fill(name)
    page.get_by_role("button", name="New client").click()
    expect(page.get_by_role("link", name=name)).to_be_visible()


def write_notes(window, texts):
    page = window.page
    for text in texts:
        page.get_by_label("Note", exact=True).fill(text)
        page.get_by_role("button", name="Keep the note").click()
        expect(page.get_by_text("Kept on this phone.")).to_be_visible()


def to_the_notes(window, name):
    """Opens the notes of a service of today."""
    window.go("today")
    window.page.locator(".day-row", has_text=name).click()
    notes = window.page.locator("summary", has_text="Notes")
    basin = window.page.get_by_role("button", name="Whole strip", exact=True)
    expect(notes.or_(basin).first).to_be_visible()
    if basin.is_visible():
        basin.click()
    notes.click()


def rename(window, name, other):
    window.go("clients")
    window.page.get_by_role("link", name=name).click()
    window.page.locator("summary", has_text="Name and number").click()
    field = window.page.get_by_label("Name", exact=True)
    field.fill(other)
    field.press("Enter")
    expect(window.page.get_by_role("heading", name=other)).to_be_visible()


def rename_apart(windows, server, name, *others):
    """Each gives a client a name of their own, with no desk between them; then it is back."""
    server.kill()
    for window, other in zip(windows, others, strict=True):
        rename(window, name, other)
    server.start()


def to_the_client(window, name):
    window.go("clients")
    window.page.get_by_role("link", name=name).click()
    expect(window.page.locator("#client-heading", has_text=name)).to_be_visible()


def put_a_test_on(window, name):
    to_the_client(window, name)
    window.page.get_by_role("link", name="New alert test").click()
    line = window.page.get_by_role("group", name="Which line").get_by_role("radio").first
    line.click()
    window.page.get_by_role("radio", name="behind the ear").click()
    window.page.get_by_role("button", name="It is on").click()
    expect(window.page.locator(".test-standing")).to_be_visible()


def assert_both_hold_the_same(*windows):
    """Waits until nothing waits and each holds, byte for byte, what the other does."""
    until = time.monotonic() + PATIENCE_MS / 1000
    while True:
        held = [window.page.evaluate(HELD) for window in windows]
        records = [
            {state["id"]: json.dumps(state, sort_keys=True) for state in each["base"]}
            for each in held
        ]
        alike = records[0] == records[1] and not any(each["waiting"] for each in held)
        if alike or time.monotonic() > until:
            break
        windows[0].page.wait_for_timeout(200)
    assert records[0] == records[1]
    assert [each["waiting"] for each in held] == [0, 0]
    assert len(records[0]) > 3, "nothing came to either"
