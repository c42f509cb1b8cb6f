"""The calculations: a question goes to the engine's door, and its reply comes back unchanged."""

import asyncio
from typing import Any

from litestar import Request, Response, post
from litestar.handlers import HTTPRouteHandler

from ...engine.door import QUESTIONS, Reply, answer
from .errors import sent
from .open_desk import desk_of

_GONE = 499
# Most answers are there sooner, and watching who hangs up costs a small one a tenth of its time.
_WATCHED_AFTER_S = 0.02
_SAFETY = "safety/"


def _handler(question: str) -> HTTPRouteHandler:
    async def ask(request: Request[Any, Any, Any]) -> Response[bytes]:
        reply = await worked_out(request, question, await request.body())
        return sent(reply) if reply else Response(b"", status_code=_GONE)

    return post(f"/api/{question}", name=question)(ask)


calculations = [_handler(question) for question in QUESTIONS]


async def worked_out(request: Request[Any, Any, Any], question: str, body: bytes) -> Reply | None:
    """Return the engine's reply in its turn, or None if the caller hung up meanwhile.

    Questions about safety have a lane of their own.
    """
    lanes = desk_of(request).lanes
    lane = lanes.safety if question.startswith(_SAFETY) else lanes.questions
    asking = asyncio.current_task()
    leaving: asyncio.Task[None] | None = None

    def watch() -> None:
        nonlocal leaving
        leaving = asyncio.create_task(_give_up_when_gone(request, asking))

    later = asyncio.get_running_loop().call_later(_WATCHED_AFTER_S, watch)
    try:
        return await lane.work_out(client_of(request), answer, question, body)
    except asyncio.CancelledError:
        gone = leaving and leaving.done() and not leaving.cancelled()
        if asking and gone and not asking.uncancel():
            return None
        raise
    finally:
        later.cancel()
        if leaving:
            leaving.cancel()


def client_of(request: Request[Any, Any, Any]) -> str:
    """Return the address that a question came from."""
    return request.client.host if request.client else "?"


async def _give_up_when_gone(
    request: Request[Any, Any, Any], asking: asyncio.Task[Any] | None
) -> None:
    """Cancel the asking once the caller's connection closes."""
    while (await request.receive())["type"] != "http.disconnect":
        pass
    if asking:
        asking.cancel()
