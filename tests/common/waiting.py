"""Waiting for what a browser does in its own time and no locator shows."""

import time

from browser import PATIENCE_MS

EVERY_S = 0.1
# What was set by then is drawn in the first frame, and laid out before the second.
TWO_FRAMES = """() => new Promise((done) =>
    requestAnimationFrame(() => requestAnimationFrame(() => done())))"""


def drawn(page):
    """Waits until the page has drawn what it knows, for a look at what must not be there yet."""
    page.evaluate(TWO_FRAMES)


def once(read, holds):
    """Return what `read` says as soon as `holds` is true of it.

    After our whole patience it fails, and says what was read last.
    """
    until_s = time.monotonic() + PATIENCE_MS / 1000
    while not holds(said := read()):
        assert time.monotonic() < until_s, f"it still says {said!r}"
        time.sleep(EVERY_S)
    return said
