"""The real page from the real server, in the system's own Chromium."""

import datetime as dt

import pytest
from browser import on_our_day
from test_service import Service
from visit import PHONE, Visit

PREPARED_BEFORE = dt.timedelta(minutes=10)


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


@pytest.fixture(scope="session")
def kept_when_cleared(browser, served):
    """What a phone holds, and where its page is, once nothing holds a new client's service."""
    kept = {}

    def held(at):
        if at not in kept:
            context = new_context(browser, PHONE, has_touch=True)
            page = context.new_page()
            if at is not None:
                page.clock.install(time=dt.datetime.fromisoformat(at) - PREPARED_BEFORE)
            Service(Visit(page, served)).open().of_a_new_client().to_the_mix().cleared()
            kept[at] = context.storage_state(indexed_db=True), page.url
            context.close()
        return kept[at]

    return held


@pytest.fixture
def cleared(visit, kept_when_cleared):
    """A new client's service at its mix, with nothing that holds it, on a phone of the test's own.

    As after `Service(visit()).open().of_a_new_client().to_the_mix().cleared()`, whose answers are
    given once for all tests; `at` sets the page's clock, before the first record of all.
    """

    def opened(size=PHONE, at=None, **options):
        memory, place = kept_when_cleared(at)
        shown = visit(size, memory, **options)
        if at is not None:
            shown.page.clock.install(time=at)
        shown.page.goto(place)
        return Service(shown).may_begin()

    return opened


@pytest.fixture
def begun(cleared):
    """The same with its first clock running."""
    return lambda *given, **options: cleared(*given, **options).begun()
