"""The safety rules in words; reviews are asked like every calculation."""

from typing import Any

from litestar import HttpMethod, Request, Response, route

from ...engine.door import answer
from .calculations import client_of
from .errors import sent
from .open_desk import desk_of


@route("/api/safety/rules", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def safety_rules(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Return every rule with its sources."""
    lane = desk_of(request).lanes.safety
    return sent(await lane.work_out(client_of(request), answer, "safety/rules", b""))
