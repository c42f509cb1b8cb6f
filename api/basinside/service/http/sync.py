"""The sync calls: operations in, changes out. `service/sync/` makes every decision."""

import re
from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, post, route

from ...contract.sync import CURSOR_PATTERN, MOST_BYTES, Push
from ..sync.cursor import begin_anew_behind, read_cursor
from ..sync.pull import MOST_CHANGES, pull
from ..sync.push import push, read_operations
from ..sync.refused import Refused, misshapen
from ..sync.snapshot import snapshot
from .asked import asking_device, replied, told_by_device
from .open_desk import desk_of, now_ms

_push = msgspec.json.Decoder(Push)
_cursor = re.compile(CURSOR_PATTERN)
_READING = [HttpMethod.GET, HttpMethod.HEAD]


@post("/api/sync/push", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def push_operations(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Take a device's operations; answer with a receipt for each."""
    received_ms = now_ms()
    desk = desk_of(request)
    body = await told_by_device(request, _push)
    operations = read_operations(body.ops)
    pushed = await desk.write(push, desk.salon, body, operations, received_ms)
    if pushed.accepted:
        desk.changed()
    return replied(pushed)


@route("/api/sync/pull", http_method=_READING)
async def pull_changes(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with the changes after a cursor."""
    device = await asking_device(request)
    desk = desk_of(request)
    text = request.query_params.get("cursor")
    cursor = None
    if text is not None:
        if not _cursor.fullmatch(text):
            raise misshapen(f'"{text[:80]}" is no cursor. Pull without one, or take a snapshot.')
        cursor = read_cursor(text)
    limit, erase_seq = page_asked(request)
    try:
        pulled = await desk.read(pull, desk.salon, device, cursor, limit, erase_seq, now_ms())
    except Refused as refusal:
        if cursor is None or refusal.code != "epoch_changed":
            raise
        # If that begins a new epoch, the refusal names it.
        await desk.write(begin_anew_behind, desk.salon, cursor, now_ms())
        pulled = await desk.read(pull, desk.salon, device, cursor, limit, erase_seq, now_ms())
    return replied(pulled)


@route("/api/sync/snapshot", http_method=_READING)
async def take_snapshot(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with one page of everything, today's first."""
    device = await asking_device(request)
    desk = desk_of(request)
    after = request.query_params.get("after")
    limit, erase_seq = page_asked(request)
    page = await desk.read(snapshot, desk.salon, device, after, limit, erase_seq, now_ms())
    return replied(page)


def page_asked(request: Request[Any, Any, Any]) -> tuple[int, int]:
    """Return how many changes a page may hold, and the last erasure the device knows."""
    return (
        whole_in(request, "limit", MOST_CHANGES, 1, MOST_CHANGES),
        whole_in(request, "erase_seq", 0, 0, 2**53),
    )


def whole_in(request: Request[Any, Any, Any], name: str, usual: int, least: int, most: int) -> int:
    """Return a whole number of the query; raise `Refused` (400) if it is not one within bounds."""
    text = request.query_params.get(name)
    if text is None:
        return usual
    if text.isascii() and text.isdigit() and len(text) <= 16 and least <= int(text) <= most:
        return int(text)
    raise misshapen(f'`{name}` must be a whole number from {least} to {most}; got "{text[:40]}".')
