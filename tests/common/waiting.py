"""Waiting for what a browser does in its own time and no locator shows."""

import time

from browser import PATIENCE_MS

EVERY_S = 0.1


def once(read, holds):
    """Return what `read` says as soon as `holds` is true of it.

    After our whole patience it fails, and says what was read last.
    """
    until_s = time.monotonic() + PATIENCE_MS / 1000
    while not holds(said := read()):
        assert time.monotonic() < until_s, f"it still says {said!r}"
        time.sleep(EVERY_S)
    return said
