"""The call that lists what needs a look."""

from typing import Any

from litestar import HttpMethod, Request, Response, route

from ...contract.matters import AFTER_PATTERN, MOST_MATTERS
from ..sync.matters import read_matters
from .reading import matching
from .salon_calls import asking_device, desk_of, replied
from .sync import whole_in


@route("/api/matters", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def list_matters(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with one page of what a person must settle."""
    await asking_device(request)
    after = matching(request, "after", AFTER_PATTERN, "the `next` of an earlier answer")
    limit = whole_in(request, "limit", MOST_MATTERS, 1, MOST_MATTERS)
    desk = desk_of(request)
    return replied(await desk.read(read_matters, desk.salon, after, limit))
