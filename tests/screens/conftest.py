"""The real page from the real server, in the system's own Chromium."""

import datetime as dt
import json

import pytest
from browser import on_our_day
from once import made_once
from test_service import Service
from visit import PHONE, Visit

PREPARED_BEFORE = dt.timedelta(minutes=10)
# Stands for the address of the server, of which each worker has its own.
ANY_SERVER = "http://any-server.invalid"


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
def made_by_one(served, tmp_path_factory):
    """Returns what one worker makes for all of them, told of the server that this worker has."""

    def made(name, make):
        text = made_once(
            tmp_path_factory, name, lambda: json.dumps(make()).replace(served, ANY_SERVER)
        )
        return json.loads(text.replace(ANY_SERVER, served))

    return made


@pytest.fixture(scope="session")
def memory(browser, served, made_by_one):
    """What a phone holds after a walk to the strip of hair with ends, partly coloured before."""

    def make():
        context = new_context(browser, PHONE)
        page = Visit(context.new_page(), served).with_all_there_is_to_say().to_the_strip().page
        page.wait_for_function("localStorage.getItem('basinside.1.answer.strip') !== null")
        state = context.storage_state()
        context.close()
        return state

    return made_by_one("memory", make)


@pytest.fixture(scope="session")
def prepared(browser, served, made_by_one):
    """Walks once on a phone for all tests and workers that need its end.

    Returns what the phone then holds, and what the walk returned, which JSON can hold; `at` sets
    the page's clock before the first record.
    """

    def held(name, walk, at=None):
        def make():
            context = new_context(browser, PHONE, has_touch=True)
            page = context.new_page()
            if at is not None:
                page.clock.install(time=at)
            told = walk(Visit(page, served))
            state = context.storage_state(indexed_db=True)
            context.close()
            return state, told

        return made_by_one(name, make)

    return held


@pytest.fixture(scope="session")
def kept_when_cleared(prepared):
    """What a phone holds, and where its page is, once nothing holds a new client's service."""

    def walk(shown):
        return Service(shown).open().of_a_new_client().to_the_mix().cleared().page.url

    def held(at):
        before = at and dt.datetime.fromisoformat(at) - PREPARED_BEFORE
        return prepared(f"cleared at {at}", walk, before)

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
