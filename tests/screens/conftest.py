"""The real page from the real server, in the system's own Chromium."""

import pytest
from browser import on_our_day
from visit import PHONE, Visit


def new_context(browser, size, **options):
    """A phone's or desk's browser with a memory of its own, whose questions go to the server."""
    context = browser.new_context(
        viewport=dict(zip(("width", "height"), size, strict=True)),
        # What passes a service worker cannot be held or altered on its way; tests/offline is
        # about that worker, as tests/agreement is about the engine on the device.
        service_workers="block",
        **options,
    )
    on_our_day(context)
    context.route("**/engine.json", lambda route: route.fulfill(status=404))
    return context


@pytest.fixture
def visit(browser, served):
    """Opens the page as somebody with such a screen does; returns the `Visit`."""
    contexts = []

    def opened(size=PHONE, memory=None, **options):
        width, _ = size
        context = new_context(
            browser, size, has_touch=width < 1000, storage_state=memory, **options
        )
        contexts.append(context)
        return Visit(context.new_page(), served)

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture(scope="session")
def memory(browser, served):
    """What a phone holds after a walk to the strip of hair with ends, partly coloured before."""
    context = new_context(browser, PHONE)
    page = Visit(context.new_page(), served).with_all_there_is_to_say().to_the_strip().page
    page.wait_for_function("localStorage.getItem('basinside.1.answer.strip') !== null")
    state = context.storage_state()
    context.close()
    return state
