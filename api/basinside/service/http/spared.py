"""Spares the network what a program has already: an ETag on what it reads, and gzip.

What is answered to a GET gets a tag of its content (RFC 9110 §8.8.3, weak, as it is the same for
every encoding). Who sends the tag back in `If-None-Match` gets 304 without a body. An answer of
sync is never the same twice, since it tells the time. It is only packed.
"""

import asyncio
import hashlib
import zlib
from typing import Any

from litestar import HttpMethod
from litestar.enums import ScopeType
from litestar.types import ASGIApp, Receive, Scope, Send

# Less is sent in one piece anyway.
_WORTH_PACKING = 1400
# More is packed in a thread, so that the others are answered meanwhile.
_MOST_ON_THE_LOOP = 32 * 1024
# The quickest: at a desk the network is near.
_LEVEL = 1
_TOLD = (b"application/json", b"text/html", b"text/css", b"text/javascript")
_NEVER_THE_SAME = "/api/sync/"


def spare_what_is_held(app: ASGIApp) -> ASGIApp:
    """Return the application with tags and packing on what is read."""

    async def sparing(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP or scope["method"] != HttpMethod.GET:
            await app(scope, receive, send)
            return
        await app(scope, receive, _Sparing(scope, send).send)

    return sparing


def accepts(header: str, coding: str) -> bool:
    """Return whether `Accept-Encoding` takes a coding; a weight of 0 says that it does not."""
    for each in header.split(","):
        name, _, weight = each.replace(" ", "").partition(";q=")
        if name.lower() == coding:
            return not weight or weight.strip("0.") != ""
    return False


class _Sparing:
    """Holds the head of one answer until its body is there."""

    def __init__(self, scope: Scope, send: Send) -> None:
        self._asked = {name: value.decode("latin-1") for name, value in scope["headers"]}
        self._tagged = not scope["path"].startswith(_NEVER_THE_SAME)
        self._send = send
        self._head: Any = None

    async def send(self, message: Any) -> None:
        if message["type"] == "http.response.start" and _may_be_spared(message):
            self._head = {**message}
            return
        if self._head is None:
            await self._send(message)
            return
        head, self._head = self._head, None
        if message["type"] == "http.response.body" and not message.get("more_body"):
            message = await self._spared(head, message)
        await self._send(head)
        await self._send(message)

    async def _spared(self, head: Any, message: Any) -> Any:
        """Return the message to send instead, and change the head to fit it."""
        body: bytes = message["body"]
        headers = [each for each in head["headers"] if each[0] != b"content-length"]
        headers.append((b"vary", b"accept-encoding"))
        if self._tagged:
            tag = f'W/"{hashlib.blake2b(body, digest_size=16).hexdigest()}"'
            headers.append((b"etag", tag.encode()))
            if _names(self._asked.get(b"if-none-match", ""), tag):
                head.update(status=304, headers=headers)
                return {**message, "body": b""}
        if len(body) >= _WORTH_PACKING and accepts(self._asked.get(b"accept-encoding", ""), "gzip"):
            large = len(body) > _MOST_ON_THE_LOOP
            body = await asyncio.to_thread(_packed, body) if large else _packed(body)
            headers.append((b"content-encoding", b"gzip"))
        headers.append((b"content-length", str(len(body)).encode()))
        head["headers"] = headers
        return {**message, "body": body}


def _may_be_spared(message: Any) -> bool:
    """Return whether an answer is whole text without a tag: files of the page have their own."""
    headers = dict(message["headers"])
    return (
        message["status"] == 200
        and b"etag" not in headers
        and headers.get(b"content-type", b"").startswith(_TOLD)
    )


def _names(known: str, tag: str) -> bool:
    """Return whether `If-None-Match` names a tag, compared weakly (RFC 9110 §13.1.2)."""
    if known.strip() == "*":
        return True
    return tag.removeprefix("W/") in (each.strip().removeprefix("W/") for each in known.split(","))


def _packed(body: bytes) -> bytes:
    packing = zlib.compressobj(_LEVEL, wbits=zlib.MAX_WBITS | 16)
    return packing.compress(body) + packing.flush()
