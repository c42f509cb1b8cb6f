"""The built page from the real server in the system's Chromium, and the engine on the device."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUILT = ROOT / "web" / "dist"
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
# A busy machine is given time; no test says how long anything may take.
PATIENCE_MS = 120_000


@pytest.fixture(scope="session", autouse=True)
def built_page():
    """The folder of the built page; without it no test here can say anything."""
    if not (BUILT / "engine.json").exists():
        pytest.fail("The engine is not packed: run `make` once, it builds web/dist.")
    return BUILT


class Server:
    """The whole application on a free port of the loopback interface, until it is stopped."""

    def __init__(self, folder):
        self._process = subprocess.Popen(
            [sys.executable, "-m", "basinside.cli", "serve"],
            stdout=subprocess.PIPE,
            env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(folder)},
            text=True,
        )
        announced = self._process.stdout.readline()
        assert "http://127.0.0.1:" in announced, "the server did not say where it is"
        self.address = announced.split()[-1].rstrip("/")

    def stop(self):
        if self._process.poll() is None:
            self._process.send_signal(signal.SIGINT)
            assert self._process.wait(timeout=60) == 0
            self._process.stdout.close()


@pytest.fixture(scope="session")
def address(tmp_path_factory):
    server = Server(tmp_path_factory.mktemp("salon"))
    yield server.address
    server.stop()


@pytest.fixture
def server_to_stop(tmp_path):
    """A server of the test's own."""
    server = Server(tmp_path)
    yield server
    server.stop()


@pytest.fixture(scope="session")
def browser(playwright):
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def page(browser):
    """A page of a phone that has kept nothing yet."""
    # Without the service worker, so that what it would hand out can be altered on its way.
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, service_workers="block"
    )
    context.set_default_timeout(PATIENCE_MS)
    yield context.new_page()
    context.close()
