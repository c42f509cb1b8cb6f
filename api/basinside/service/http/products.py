"""The shelf's products. Until shelves are kept as records, the demo's, read-only."""

from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, route

from ...engine.door import JSON, Reply
from .errors import sent


@route("/api/products", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def products(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Return the shelf the server was started with."""
    return sent(Reply(200, msgspec.json.encode(request.app.state.shelf), JSON))
