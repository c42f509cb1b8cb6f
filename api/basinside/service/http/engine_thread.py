"""The threads that calculate, off the event loop: one for questions, one for safety.

More threads for questions would not be faster: they share one interpreter lock, and each would wait
for it between the event loop's turns. With a pool, the health call beside eight formulations was
more than ten times slower. The standard library's executor with one thread would do. But its
hand-over takes twice as long, a tenth of the whole time of a small question.

Safety has a thread of its own, so that no queue of mixes holds up what keeps somebody from harm.
"""

import asyncio
from collections import deque
from collections.abc import Callable
from queue import SimpleQueue
from threading import Thread
from typing import Any, NamedTuple, TypeVar

from litestar.exceptions import ServiceUnavailableException

Answered = TypeVar("Answered")

MOST_WAITING = 128
"""The most questions that wait at once, of all clients together."""
MOST_OF_ONE = 32
"""The most that wait for one client: a page that opens asks several things at once."""
RETRY_AFTER_S = 2
# One is worked on, and the next is at hand when it ends: the thread never waits for the loop.
_AT_HAND = 2


class _Task(NamedTuple):
    calculate: Callable[..., Any]
    inputs: tuple[object, ...]
    loop: asyncio.AbstractEventLoop
    answered: asyncio.Future[Any]


class Lane:
    """One thread and the questions that wait for it, each client's in turn.

    All but the thread's own work happens on the event loop.
    """

    def __init__(self, name: str) -> None:
        self._name = name
        self._at_hand: SimpleQueue[_Task | None] = SimpleQueue()
        self._handed = 0
        self._waiting: dict[str, deque[_Task]] = {}
        self._unanswered: set[asyncio.Future[Any]] = set()
        self._thread: Thread | None = None

    async def work_out(
        self, client: str, calculate: Callable[..., Answered], *inputs: object
    ) -> Answered:
        """Return what `calculate(*inputs)` returns, or raise what it raises, in its turn.

        Raises `ServiceUnavailableException` (503) if too many questions wait. A caller that is
        cancelled gives up its place.
        """
        mine = self._waiting.get(client, ())
        if len(mine) >= MOST_OF_ONE or sum(map(len, self._waiting.values())) >= MOST_WAITING:
            raise ServiceUnavailableException(
                "Too many questions wait already. Ask again in a moment.",
                headers={"retry-after": str(RETRY_AFTER_S)},
            )
        loop = asyncio.get_running_loop()
        answered: asyncio.Future[Answered] = loop.create_future()
        task = _Task(calculate, inputs, loop, answered)
        self._unanswered.add(answered)
        self._waiting.setdefault(client, deque()).append(task)
        self._hand_on()
        try:
            return await answered
        finally:
            self._unanswered.discard(answered)
            self._give_up(client, task)

    def refuse_unanswered(self) -> None:
        """Refuse all waiting questions as the server stops."""
        for answered in list(self._unanswered):
            if not answered.done():
                answered.set_exception(
                    ServiceUnavailableException("The server is stopping. Ask again once it runs.")
                )

    def close(self) -> None:
        """Let the thread end once it has worked out what it is at."""
        self.refuse_unanswered()
        if self._thread:
            self._at_hand.put(None)

    def _hand_on(self) -> None:
        """Hand the thread its next questions, one client after the other."""
        if self._thread is None:
            # A daemon, so that a stopping server does not wait for an answer that nobody reads.
            self._thread = Thread(target=self._work, name=self._name, daemon=True)
            self._thread.start()
        while self._waiting and self._handed < _AT_HAND:
            client, tasks = next(iter(self._waiting.items()))
            task = tasks.popleft()
            del self._waiting[client]
            if tasks:  # behind every other client
                self._waiting[client] = tasks
            self._handed += 1
            self._at_hand.put(task)

    def _give_up(self, client: str, task: _Task) -> None:
        tasks = self._waiting.get(client)
        if tasks and task in tasks:
            tasks.remove(task)
            if not tasks:
                del self._waiting[client]

    def _work(self) -> None:
        while task := self._at_hand.get():
            settle: Callable[[Any], None]
            if task.answered.done():  # cancelled or refused while it waited
                settle, outcome = task.answered.set_result, None
            else:
                try:
                    settle, outcome = task.answered.set_result, task.calculate(*task.inputs)
                except BaseException as error:  # noqa: BLE001 - raised where it is awaited
                    settle, outcome = task.answered.set_exception, error
            try:
                task.loop.call_soon_threadsafe(self._tell, task.answered, settle, outcome)
            except RuntimeError:
                continue  # the loop has closed, and the caller with it

    def _tell(
        self, answered: asyncio.Future[Any], settle: Callable[[Any], None], outcome: object
    ) -> None:
        self._handed -= 1
        self._hand_on()
        if not answered.done():
            settle(outcome)


class Lanes:
    """The two threads of one desk."""

    def __init__(self) -> None:
        self.questions = Lane("engine")
        self.safety = Lane("safety")

    def refuse_unanswered(self) -> None:
        """Refuse all waiting questions as the server stops. Call it from the event loop."""
        self.questions.refuse_unanswered()
        self.safety.refuse_unanswered()

    def close(self) -> None:
        """Let both threads end."""
        self.questions.close()
        self.safety.close()
