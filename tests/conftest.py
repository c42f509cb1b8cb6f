"""What tests of every kind share: a real server, and the driver of the browsers."""

import os
import signal
import subprocess
import sys

import pytest
from playwright.sync_api import expect, sync_playwright


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """The address of a real server on a free port of the loopback interface."""
    process = subprocess.Popen(
        [sys.executable, "-m", "basinside.cli", "serve"],
        stdout=subprocess.PIPE,
        env=os.environ | {"PORT": "0", "BASINSIDE_DATA": str(tmp_path_factory.mktemp("served"))},
        text=True,
    )
    announced = process.stdout.readline()
    assert "http://127.0.0.1:" in announced, "the server did not say where it is"
    yield announced.split()[-1].rstrip("/")
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=30) == 0
    process.stdout.close()


@pytest.fixture(scope="session")
def playwright():
    """What drives the browsers: one, since two do not run in one process."""
    # A busy machine is given time; no test says how long anything may take.
    expect.set_options(timeout=120_000)
    with sync_playwright() as playwright:
        yield playwright
