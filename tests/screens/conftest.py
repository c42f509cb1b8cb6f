"""The real page from the real server, in the system's own Chromium."""

import os
from pathlib import Path

import pytest
from visit import PHONE, Visit

ROOT = Path(__file__).resolve().parents[2]
BUILT = ROOT / "web" / "dist"
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # So that a pixel of the picture is the colour the page asked for.
    "--force-color-profile=srgb",
]


@pytest.fixture(scope="session", autouse=True)
def built_page():
    """The folder of the built page; without it no test here can say anything."""
    if not (BUILT / "index.html").exists():
        pytest.fail("The page is not built: run `make` once, it builds web/dist.")
    return BUILT


@pytest.fixture(scope="session")
def browser(playwright):
    """One browser for every test; each test gets a context, and so a memory, of its own."""
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def visit(browser, served):
    """Opens the page as somebody with such a screen does; returns the `Visit`."""
    contexts = []

    def opened(size=PHONE, memory=None, **context_options):
        width, height = size
        context = browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=width < 1000,
            storage_state=memory,
            # What passes a service worker cannot be held or altered on its way; tests/offline
            # is about that worker.
            service_workers="block",
            **context_options,
        )
        context.set_default_timeout(20_000)
        # The server works out: tests/agreement is about the engine on the device.
        context.route("**/engine.json", lambda route: route.fulfill(status=404))
        contexts.append(context)
        return Visit(context.new_page(), served)

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture(scope="session")
def memory(browser, served):
    """What a phone holds after a walk to the strip of hair with ends, partly coloured before."""
    context = browser.new_context(viewport=dict(zip(("width", "height"), PHONE, strict=True)))
    page = Visit(context.new_page(), served).with_all_there_is_to_say().to_the_strip().page
    page.wait_for_function("localStorage.getItem('basinside.1.answer.strip') !== null")
    state = context.storage_state()
    context.close()
    return state
