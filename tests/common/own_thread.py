"""Runs what needs an event loop of its own beside a browser test's, which keeps this thread's."""

import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

import uvicorn
from running import PATIENCE_S
from waiting import once


def in_its_own_thread(call, *arguments):
    """Return what a call returns, or raise what it raises, from a thread without a loop."""
    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(call, *arguments).result()


@contextmanager
def served_in_a_thread(app, **settings):
    """Serve an application at a free port of the loopback interface; gives its address.

    The settings are uvicorn's own.
    """
    server = uvicorn.Server(uvicorn.Config(app, "127.0.0.1", 0, log_level="critical", **settings))
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        once(lambda: server.started, bool)
        yield server.servers[0].sockets[0].getsockname()
    finally:
        server.should_exit = True
        thread.join(PATIENCE_S)
