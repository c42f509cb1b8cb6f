"""The built page from the real server in the system's Chromium, and the engine on the device."""

import pytest
from browser import on_our_day
from running import Server


@pytest.fixture
def server_to_stop(tmp_path):
    """A server of the test's own."""
    server = Server(tmp_path).start()
    yield server
    server.stop()


@pytest.fixture
def page(browser):
    """A page of a phone that has kept nothing yet."""
    # Without the service worker, so that what it would hand out can be altered on its way.
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, service_workers="block"
    )
    on_our_day(context)
    yield context.new_page()
    context.close()
