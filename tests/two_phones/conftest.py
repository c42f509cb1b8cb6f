"""A real server that can be stopped and started again, and browsers with profiles of their own."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUILT = ROOT / "web" / "dist"
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
PATIENCE_MS = 60_000
PHONE, DESK = (390, 844), (1280, 800)


class Server:
    """The whole application on one port of the loopback interface, there or not."""

    def __init__(self, folder):
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self._process = None

    def start(self):
        self._process = subprocess.Popen(
            [sys.executable, "-m", "basinside.cli", "serve"],
            stdout=subprocess.PIPE,
            env=os.environ | {"PORT": str(self.port), "BASINSIDE_DATA": str(self.folder)},
            text=True,
        )
        assert self.address in self._process.stdout.readline()

    def kill(self):
        if self._process:
            self._process.send_signal(signal.SIGKILL)
            self._process.wait(timeout=60)
            self._process.stdout.close()
            self._process = None

    def code(self):
        """A pairing code, made as the server's machine makes it."""
        kept = pytest.importorskip("basinside.service.store.salon")
        pairing = pytest.importorskip("basinside.service.sync.pairing")
        salon = kept.Salon(self.folder / kept.DATABASE_FILE)
        try:
            return pairing.new_code(salon, time.time_ns() // 1_000_000)
        finally:
            salon.close()


class Window:
    """A browser of one person, whose profile stays when it is closed."""

    def __init__(self, playwright, profile, address, size):
        self._playwright, self._profile, self._size = playwright, profile, size
        self.address = address
        self._context = None

    def open(self, place="today"):
        self.close()
        width, height = self._size
        self._context = self._playwright.chromium.launch_persistent_context(
            self._profile,
            executable_path=CHROMIUM,
            args=FLAGS,
            viewport={"width": width, "height": height},
            has_touch=width < 1000,
        )
        self._context.set_default_timeout(PATIENCE_MS)
        self.page = self._context.pages[0]
        self.page.goto(f"{self.address}/#/{place}")
        return self.page

    def go(self, place):
        self.page.evaluate("place => { location.hash = '#/' + place }", place)

    def pair(self, code, name):
        self.go(f"pair/{code}")
        self.page.get_by_label("Name of this phone").fill(name)
        self.page.get_by_role("button", name="Pair this phone").click()
        self.page.get_by_role("heading", name="This phone is the salon’s").wait_for()

    def when_kept_for_offline(self):
        self.page.wait_for_function("navigator.serviceWorker.controller !== null")

    def texts(self):
        """The notes on the page, the latest first."""
        return self.page.locator(".note-text").all_text_contents()

    def close(self):
        if self._context:
            self._context.close()
            self._context = None


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    if not (BUILT / "sw.js").exists():
        pytest.fail("The page is not built: run `make` once, it builds web/dist.")
    server = Server(tmp_path_factory.mktemp("salon"))
    server.start()
    yield server
    server.kill()


@pytest.fixture(scope="module")
def windows(playwright, server, tmp_path_factory):
    """Ana's phone and the desk, both the salon's."""
    made = []
    for name, size in (("Ana’s phone", PHONE), ("The desk", DESK)):
        window = Window(playwright, tmp_path_factory.mktemp("profile"), server.address, size)
        window.open()
        window.pair(server.code(), name)
        made.append(window)
    yield made
    for window in made:
        window.close()
