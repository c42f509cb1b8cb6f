"""Runs what needs an event loop of its own beside a browser test's, which keeps this thread's."""

from concurrent.futures import ThreadPoolExecutor


def in_its_own_thread(call, *arguments):
    """Return what a call returns, or raise what it raises, from a thread without a loop."""
    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(call, *arguments).result()
