"""A phone that is switched off and on again with what it has kept, and a server beside it."""

import contextlib
import hashlib
import json
import re
import shutil
from pathlib import Path

import pytest
from browser import (
    BUILT,
    PHONE,
    copy_profile,
    kill_browser_of,
    need_the_built_page,
    open_profile,
)
from once import made_once
from playwright.sync_api import Error, expect
from running import Server

READY_OFFLINE = re.compile("^Ready offline: ")


class Phone:
    """A browser with a profile of its own, which stays when it is switched off."""

    def __init__(self, playwright, profile):
        self._playwright = playwright
        self._profile = profile
        self._context = None

    def on(self, **options):
        """Starts the browser; returns its page."""
        self.off()
        self._context = open_profile(self._playwright, self._profile, PHONE, **options)
        return self._context.pages[0]

    def another_window(self):
        return self._context.new_page()

    def kill(self):
        """Ends the browser with all its processes at once, as a phone that runs out of power."""
        kill_browser_of(self._profile)
        with contextlib.suppress(Error):
            self._context.close()
        self._context = None

    def off(self):
        if self._context is not None:
            self._context.close()
            self._context = None


@pytest.fixture(scope="session", autouse=True)
def the_page_is_built():
    need_the_built_page()


@pytest.fixture
def phone(playwright, tmp_path):
    """A phone that never opened the page."""
    phone = Phone(playwright, tmp_path / "profile")
    yield phone
    phone.off()


@pytest.fixture(scope="session")
def set_up_once(playwright, tmp_path_factory):
    """The profile of a phone that is ready offline, and the address of a server that is no more."""

    def make():
        folder = tmp_path_factory.mktemp("set up")
        phone, server = Phone(playwright, folder / "profile"), Server(folder / "salon").start()
        try:
            page = phone.on()
            page.goto(f"{server.address}/#/settings")
            expect(page.locator("#offline").get_by_role("status")).to_have_text(READY_OFFLINE)
        finally:
            phone.off()
            server.kill()
        return json.dumps([str(folder / "profile"), server.address])

    profile, address = json.loads(made_once(tmp_path_factory, "set up", make))
    return Path(profile), address


@pytest.fixture
def cold_phone(playwright, set_up_once, tmp_path):
    """A phone that was set up once, is off, and has no server any more; with its address."""
    profile, address = set_up_once
    phone = Phone(playwright, copy_profile(profile, tmp_path / "cold"))
    phone.address = address
    yield phone
    phone.off()


@pytest.fixture(scope="module")
def cold_page(playwright, set_up_once, tmp_path_factory):
    """The page of such a phone, one for a file of tests, and its address."""
    profile, address = set_up_once
    phone = Phone(playwright, copy_profile(profile, tmp_path_factory.mktemp("cold") / "profile"))
    yield phone.on(), address
    phone.off()


@pytest.fixture
def salon(tmp_path):
    """The data folder of a salon."""
    return tmp_path / "salon"


@pytest.fixture
def server(salon):
    """The server as `make run` starts it."""
    server = Server(salon).start()
    yield server
    server.kill()


class Site:
    """A copy of the built page on a server of its own, which a second build can replace."""

    def __init__(self, folder, data_folder):
        self.folder = folder
        shutil.copytree(BUILT, folder)
        self.server = Server(data_folder, pages=folder).start()
        self.address = self.server.address

    def change(self, name, alter):
        """Builds the page again with one file changed, and the list of what is kept with it."""
        path = self.folder / name
        content = alter(path.read_text())
        self._write(path, content)
        worker = self.folder / "sw.js"
        entry = re.compile(rf'\{{"?revision"?:"[^"]+","?url"?:"{re.escape(name)}"\}}')
        listed = entry.search(worker.read_text())
        assert listed, f"{name} is not in the list of what is kept"
        revision = hashlib.sha256(content.encode()).hexdigest()
        other = listed[0].replace(re.search(r':"(\w+)"', listed[0])[1], revision)
        self._write(worker, worker.read_text().replace(listed[0], other))

    def _write(self, path, text):
        path.with_name(path.name + ".br").unlink(missing_ok=True)
        path.write_text(text)


@pytest.fixture
def site(tmp_path, salon):
    site = Site(tmp_path / "pages", salon)
    yield site
    site.server.kill()
