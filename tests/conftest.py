"""What tests of every kind share: the order, a real server, and the driver of the browsers."""

import os

import pytest
from browser import PATIENCE_MS, open_browser
from drawing import LONG, seed_of_the_day
from order import LongestFirst, longest_first
from playwright.sync_api import expect, sync_playwright
from running import Server
from spent import Spent

# Most of a browser test is waiting, so each processor has two of them, where there is room.
WORKERS_EACH, WORKER_BYTES = 2, 2 * 1024**3


def pytest_configure(config):
    # Workers are started from here: all of them draw alike, also over midnight.
    os.environ["TEST_SEED"] = str(seed_of_the_day())
    if file := os.environ.get("SPENT"):
        config.pluginmanager.register(Spent(file))


def pytest_report_header():
    drawn = "all of it" if LONG else f"a tenth, TEST_SEED={seed_of_the_day()} draws it again"
    return f"of what is repeated: {drawn}"


def pytest_terminal_summary(terminalreporter):
    terminalreporter.write_line(pytest_report_header())


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers():
    cores = len(os.sched_getaffinity(0))
    room = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") // WORKER_BYTES
    return max(1, min(WORKERS_EACH * cores, max(cores, room)))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    return LongestFirst(config, log)


def pytest_collection_modifyitems(items):
    longest_first(items)


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """The address of a real server, one for all tests that leave it as it is."""
    server = Server(tmp_path_factory.mktemp("served")).start()
    yield server.address
    server.stop()


@pytest.fixture(scope="session")
def playwright():
    """What drives the browsers: one, since two do not run in one process."""
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playwright):
    """One browser; each test gets a context, and so a memory, of its own."""
    with open_browser(playwright) as browser:
        yield browser
