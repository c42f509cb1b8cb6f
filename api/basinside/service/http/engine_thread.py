"""The one thread that calculates, off the event loop, one question after the other.

More threads would not be faster: they share one interpreter lock, and each would wait for it
between the event loop's turns. With a pool, the health call beside eight formulations was more than
ten times slower. The standard library's executor with one thread would do. But its hand-over takes
twice as long, a tenth of the whole time of a small question.
"""

import asyncio
from collections.abc import Callable
from functools import cache
from queue import SimpleQueue
from threading import Thread
from typing import Any, NamedTuple, TypeVar

from litestar.exceptions import ServiceUnavailableException

Answered = TypeVar("Answered")


class _Task(NamedTuple):
    calculate: Callable[..., Any]
    inputs: tuple[object, ...]
    loop: asyncio.AbstractEventLoop
    answered: asyncio.Future[Any]


_unanswered: set[asyncio.Future[Any]] = set()


@cache
def _questions() -> SimpleQueue[_Task]:
    """Return the queue; the first call starts the thread that works it off."""
    questions: SimpleQueue[_Task] = SimpleQueue()
    # A daemon, so that a stopping server does not wait for an answer that nobody reads.
    Thread(target=_work, args=(questions,), name="engine", daemon=True).start()
    return questions


async def in_engine_thread(calculate: Callable[..., Answered], *inputs: object) -> Answered:
    """Return what `calculate(*inputs)` returns, or raise what it raises, in its turn."""
    loop = asyncio.get_running_loop()
    answered: asyncio.Future[Answered] = loop.create_future()
    _unanswered.add(answered)
    try:
        _questions().put(_Task(calculate, inputs, loop, answered))
        return await answered
    finally:
        _unanswered.discard(answered)


def refuse_unanswered() -> None:
    """Refuse all waiting questions as the server stops. Call it from the event loop."""
    for answered in list(_unanswered):
        if not answered.done():
            answered.set_exception(
                ServiceUnavailableException("The server is stopping. Ask again once it runs.")
            )


def _work(questions: SimpleQueue[_Task]) -> None:
    while True:
        task = questions.get()
        if task.answered.done():  # cancelled or refused while it waited
            continue
        settle: Callable[[Any], None]
        try:
            settle, outcome = task.answered.set_result, task.calculate(*task.inputs)
        except BaseException as error:  # noqa: BLE001 - raised where the answer is awaited
            settle, outcome = task.answered.set_exception, error
        try:
            task.loop.call_soon_threadsafe(_tell, task.answered, settle, outcome)
        except RuntimeError:
            continue  # the loop has closed, and the caller with it


def _tell(answered: asyncio.Future[Any], settle: Callable[[Any], None], outcome: object) -> None:
    if not answered.done():
        settle(outcome)
