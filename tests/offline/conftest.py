"""The real server process and a phone that is switched off and on again with what it has kept."""

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Error, expect

ROOT = Path(__file__).resolve().parents[2]
BUILT = ROOT / "web" / "dist"
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
# A busy machine is given time; no test says how long anything may take.
PATIENCE_MS = 120_000

# What `basinside serve` does, with the pages from the folder that is named.
SERVE = """
import functools, importlib, pathlib, sys
serve = importlib.import_module("basinside.cli.serve")
serve.create_app = functools.partial(serve.create_app, web_folder=pathlib.Path(sys.argv[1]))
sys.exit(serve.serve(serve.Settings.from_environment()))
"""


class Server:
    """The whole application on a free port of the loopback interface, until it is killed."""

    def __init__(self, command, data_folder):
        self._process = subprocess.Popen(
            [sys.executable, *command],
            stdout=subprocess.PIPE,
            env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(data_folder)},
            text=True,
        )
        announced = self._process.stdout.readline()
        if "http://127.0.0.1:" not in announced:
            self.kill()
            pytest.fail("the server did not say where it is")
        self.address = announced.split()[-1].rstrip("/")

    def kill(self):
        self._process.send_signal(signal.SIGKILL)
        self._process.wait(timeout=60)
        self._process.stdout.close()


class Phone:
    """A browser with a profile of its own, which stays when it is switched off."""

    def __init__(self, playwright, profile):
        self._playwright = playwright
        self._profile = profile
        self._context = None

    def on(self, **options):
        """Starts the browser anew; returns its page."""
        self.off()
        self._context = self._playwright.chromium.launch_persistent_context(
            self._profile,
            executable_path=CHROMIUM,
            args=FLAGS,
            viewport={"width": 390, "height": 844},
            has_touch=True,
            **options,
        )
        self._context.set_default_timeout(PATIENCE_MS)
        return self._context.pages[0]

    def another_window(self):
        return self._context.new_page()

    def kill(self):
        """Ends the browser with all its processes at once, as a phone that runs out of power."""
        named = f"--user-data-dir={self._profile}"
        for process in Path("/proc").glob("[0-9]*"):
            with contextlib.suppress(OSError):
                if named in (process / "cmdline").read_text().split("\0"):
                    os.kill(int(process.name), signal.SIGKILL)
        with contextlib.suppress(Error):
            self._context.close()
        self._context = None

    def off(self):
        if self._context is not None:
            self._context.close()
            self._context = None


@pytest.fixture(scope="session", autouse=True)
def built_page():
    """The folder of the built page; without it no test here can say anything."""
    if not (BUILT / "sw.js").exists():
        pytest.fail("The page is not built: run `make` once, it builds web/dist.")
    return BUILT


@pytest.fixture
def phone(playwright, tmp_path):
    phone = Phone(playwright, tmp_path / "profile")
    yield phone
    phone.off()


@pytest.fixture
def salon(tmp_path):
    """The data folder of a salon."""
    return tmp_path / "salon"


@pytest.fixture
def server(salon):
    """The server as `make run` starts it."""
    server = Server(["-m", "basinside.cli", "serve"], salon)
    yield server
    server.kill()


@pytest.fixture(scope="module")
def cold_page(playwright, tmp_path_factory):
    """A page on a phone that was set up once and has no server any more, and its old address."""
    folder = tmp_path_factory.mktemp("cold")
    phone = Phone(playwright, folder / "profile")
    try:
        server = Server(["-m", "basinside.cli", "serve"], folder / "salon")
        page = phone.on()
        page.goto(f"{server.address}/#/settings")
        said = page.locator("#offline").get_by_role("status")
        expect(said).to_have_text(re.compile("^Ready offline: "))
        phone.off()
        server.kill()
        yield phone.on(), server.address
    finally:
        phone.off()


class Site:
    """A copy of the built page on a server of its own, which a second build can replace."""

    def __init__(self, folder, data_folder):
        self.folder = folder
        shutil.copytree(BUILT, folder)
        self.server = Server(["-c", SERVE, str(folder)], data_folder)
        self.address = self.server.address

    def change(self, name, alter):
        """Builds the page again with one file changed, and the list of what is kept with it."""
        path = self.folder / name
        self._write(path, alter(path.read_text()))
        worker = self.folder / "sw.js"
        entry = re.compile(rf'\{{"?revision"?:"[^"]+","?url"?:"{re.escape(name)}"\}}')
        listed = entry.search(worker.read_text())
        assert listed, f"{name} is not in the list of what is kept"
        other = listed[0].replace(re.search(r':"(\w+)"', listed[0])[1], "second")
        self._write(worker, worker.read_text().replace(listed[0], other))

    def _write(self, path, text):
        path.with_name(path.name + ".br").unlink(missing_ok=True)
        path.write_text(text)


@pytest.fixture
def site(tmp_path, salon):
    site = Site(tmp_path / "pages", salon)
    yield site
    site.server.kill()
