"""Sends changes as they come: server-sent events, each chained to the place before it.

A client applies a change only if its `from` is the client's own cursor, and else pulls. So a lost
event leaves no hole. https://html.spec.whatwg.org/multipage/server-sent-events.html
"""

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import suppress
from typing import Any

import msgspec
from litestar import Request, get
from litestar.response import Stream

from ...contract.sync import CURSOR_PATTERN, Live
from ..records.instants import instant_text
from ..store.rows import Device
from ..sync.cursor import read_cursor
from ..sync.pull import pull
from ..sync.refused import Refused, misshapen
from .asked import asking_device
from .open_desk import Desk, desk_of, now_ms

# A pull fetches more than this at once: it comes packed and in pages.
_MOST_AT_ONCE = 100
# Other processes may write too, so a sleeper also looks by itself.
_LOOK_EVERY_S = 1.0
_HEARTBEAT_EVERY_S = 20.0
# How often the desk notes that a device is still there.
_KEPT_EVERY_MS = 60_000
_cursor = re.compile(CURSOR_PATTERN)


@get("/api/sync/live")
async def follow_live(request: Request[Any, Any, Any]) -> Stream:
    """Answer with a stream of events that ends when the client leaves or the server stops."""
    device = await asking_device(request)
    desk = desk_of(request)
    text = request.query_params.get("cursor") or request.headers.get("last-event-id") or ""
    if text and not _cursor.fullmatch(text):
        raise misshapen(f'"{text[:80]}" is no cursor. Pull first, then use its `next`.')
    if not text:
        pulled = await desk.read(pull, desk.salon, device, None, 1, 0, now_ms())
        text = pulled.next if not pulled.more else f"{pulled.epoch}.0.00000000"
    return Stream(
        _events(request, desk, device, text),
        media_type="text/event-stream",
        # A proxy that gathers an answer before it passes it on would hold every event back.
        headers={"cache-control": "no-store, no-transform", "x-accel-buffering": "no"},
    )


async def _events(
    request: Request[Any, Any, Any], desk: Desk, device: Device, cursor: str
) -> AsyncIterator[bytes]:
    woken = asyncio.Event()
    desk.waiting.add(woken)
    loop = asyncio.get_running_loop()
    said_at = loop.time()
    erase_seq: int | None = None
    kept_ms = 0
    hidden: list[str] | None = None
    try:
        yield b"retry: 3000\n\n: hb\n\n"
        while not desk.closing:
            woken.clear()
            try:
                known = 0 if erase_seq is None else erase_seq
                await asking_device(request)  # it may have been revoked since
                if now_ms() - kept_ms >= _KEPT_EVERY_MS:
                    kept_ms = await _keep_seen(desk, device, now_ms()) or kept_ms
                pulled = await desk.read(
                    pull, desk.salon, device, read_cursor(cursor), _MOST_AT_ONCE, known, now_ms()
                )
            except Refused as refusal:
                # Of any other refusal, the pull that this asks for says why.
                name = "epoch" if refusal.code == "epoch_changed" else "poke"
                yield _event(name, "", b"{}")
                return
            newest = max((entry.n for entry in pulled.erased), default=known)
            if erase_seq is not None and pulled.erased:
                yield _event("erase", "", msgspec.json.encode(pulled.erased))
            erase_seq = newest
            if pulled.more or (hidden is not None and pulled.hidden != hidden):
                yield _event("poke", "", b"{}")
                return
            hidden = pulled.hidden
            if pulled.changes:
                change = msgspec.json.encode(Live(cursor, pulled.changes))
                yield _event("change", pulled.next, change)
                said_at = loop.time()
            cursor = pulled.next
            if loop.time() - said_at >= _HEARTBEAT_EVERY_S:
                yield b": hb\n\n"
                said_at = loop.time()
            try:
                async with asyncio.timeout(_LOOK_EVERY_S):
                    await woken.wait()
            except TimeoutError:
                pass
    finally:
        desk.waiting.discard(woken)


async def _keep_seen(desk: Desk, device: Device, at_ms: int) -> int | None:
    """Note when a device was there; return that, or None if it could not be stored now."""

    def seen() -> None:
        with desk.salon.writing() as writing:
            writing.seen(device.device_id, instant_text(at_ms))

    with suppress(Refused):  # busy or full
        await desk.write(seen)
        return at_ms
    return None


def _event(name: str, at: str, value: bytes) -> bytes:
    place = f"id: {at}\n" if at else ""
    return f"{place}event: {name}\ndata: ".encode() + value + b"\n\n"
