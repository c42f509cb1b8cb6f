"""The search over all the desk's records."""

from typing import Any

from litestar import HttpMethod, Request, Response, route

from ...contract.record_search import MOST_FOUND
from ..desk.record_search import search
from .asked import asking_device, replied
from .export import typed_in
from .open_desk import desk_of
from .sync import whole_in


@route("/api/search", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def search_records(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with the records that hold every word asked for."""
    await asking_device(request)
    desk = desk_of(request)
    limit = whole_in(request, "limit", 60, 1, MOST_FOUND)
    return replied(await desk.read(search, desk.salon, typed_in(request, "q", needed=True), limit))
