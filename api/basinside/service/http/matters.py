"""The call that lists *Needs a look*."""

from typing import Any

from litestar import HttpMethod, Request, Response, route

from ...contract.matters import AFTER_PATTERN, MOST_MATTERS
from ..desk.matters import read_matters
from .asked import asking_device, replied
from .export import matching
from .open_desk import desk_of
from .sync import whole_in


@route("/api/matters", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def list_matters(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with one page of matters that a person must settle."""
    await asking_device(request)
    after = matching(request, "after", AFTER_PATTERN, "the `next` of an earlier answer")
    limit = whole_in(request, "limit", MOST_MATTERS, 1, MOST_MATTERS)
    desk = desk_of(request)
    return replied(await desk.read(read_matters, desk.salon, after, limit))
