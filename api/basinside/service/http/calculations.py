"""The calculations: a question goes to the engine's door, and its reply comes back unchanged."""

from typing import Any

from litestar import Request, Response, post
from litestar.handlers import HTTPRouteHandler

from ...engine.door import QUESTIONS, answer
from .engine_thread import in_engine_thread
from .errors import sent


def _handler(question: str) -> HTTPRouteHandler:
    async def ask(request: Request[Any, Any, Any]) -> Response[bytes]:
        return sent(await in_engine_thread(answer, question, await request.body()))

    return post(f"/api/{question}", name=question)(ask)


calculations = [_handler(question) for question in QUESTIONS]
