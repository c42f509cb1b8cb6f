"""The calculations: a question goes to the engine's door, its reply comes back untouched."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

from litestar import Request, Response, post
from litestar.handlers import HTTPRouteHandler

from ...engine.door import QUESTIONS, answer
from .errors import sent

Answered = TypeVar("Answered")

# Exactly one thread calculates. More would not be faster, as one interpreter lock is shared,
# and each would wait for it between the event loop's turns: with the framework's own thread
# pool the health call beside eight formulations was more than ten times slower.
_ENGINE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="engine")


async def in_engine_thread(calculate: Callable[..., Answered], *inputs: object) -> Answered:
    """Return what `calculate(*inputs)` returns, worked out in turn, off the event loop."""
    return await asyncio.get_running_loop().run_in_executor(_ENGINE, calculate, *inputs)


def _handler(question: str) -> HTTPRouteHandler:
    async def ask(request: Request[Any, Any, Any]) -> Response[bytes]:
        return sent(await in_engine_thread(answer, question, await request.body()))

    return post(f"/api/{question}", name=question)(ask)


calculations = [_handler(question) for question in QUESTIONS]
