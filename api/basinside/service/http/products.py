"""The shelf's products: the invented demo's for anyone, the salon's own for its devices."""

from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, route

from ...engine.door import JSON, Reply
from ..desk.export import read_shelf
from .asked import asking_device, replied
from .errors import sent
from .open_desk import desk_of


@route("/api/products", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def products(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Return the shelf the server was started with; with a token, the salon's own."""
    if "authorization" in request.headers:
        await asking_device(request)
        desk = desk_of(request)
        return replied(await desk.read(read_shelf, desk.salon))
    return sent(Reply(200, msgspec.json.encode(request.app.state.shelf), JSON))
