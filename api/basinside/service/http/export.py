"""The calls by which another program reads records, one kind at a time."""

import re
from typing import Any

from litestar import HttpMethod, Request, Response, route
from litestar.handlers import HTTPRouteHandler

from ...contract.export import DAY_PATTERN, MOST_READ, MOST_TYPED, ReadKind
from ...contract.sync import CURSOR_PATTERN, UUID_PATTERN
from ..desk.export import Wanted, read_records
from ..store.search_index import asked_of
from ..sync.cursor import read_cursor
from ..sync.refused import misshapen
from .asked import asking_device, replied
from .open_desk import desk_of
from .sync import whole_in

READ: dict[str, ReadKind] = {
    "/api/clients": "client",
    "/api/services": "service",
    "/api/starts": "start",
    "/api/notes": "note",
    "/api/formulas": "formula",
}


def _reading(path: str, kind: ReadKind) -> HTTPRouteHandler:
    @route(path, http_method=[HttpMethod.GET, HttpMethod.HEAD], name=f"read_{kind}")
    async def read(request: Request[Any, Any, Any]) -> Response[bytes]:
        device = await asking_device(request)
        cursor = matching(request, "after", CURSOR_PATTERN, "the `next` of an earlier answer")
        wanted = Wanted(
            kind,
            read_cursor(cursor) if cursor else None,
            whole_in(request, "limit", MOST_READ, 1, MOST_READ),
            matching(request, "client", UUID_PATTERN, "a client's id"),
            matching(request, "day", DAY_PATTERN, "a day, such as 2026-11-25"),
            typed_in(request, "text", needed=False),
        )
        desk = desk_of(request)
        return replied(await desk.read(read_records, desk.salon, device, wanted))

    return read


readings = [_reading(path, kind) for path, kind in READ.items()]


def matching(request: Request[Any, Any, Any], name: str, pattern: str, what: str) -> str:
    """Return a text of the query, "" if it is absent; raise `Refused` (400) for a bad one."""
    text = request.query_params.get(name)
    if text is None:
        return ""
    if re.fullmatch(pattern, text):
        return str(text)
    raise misshapen(f'`{name}` must be {what}; got "{text[:80]}".')


def typed_in(request: Request[Any, Any, Any], name: str, *, needed: bool) -> str:
    """Return the words to look for; raise `Refused` (400) for none, or for too many."""
    text = str(request.query_params.get(name) or "")
    absent = name not in request.query_params
    if absent and not needed:
        return ""
    if len(text) > MOST_TYPED or not asked_of(text):
        raise misshapen(f"`{name}` must hold a word, in at most {MOST_TYPED} letters.")
    return text
