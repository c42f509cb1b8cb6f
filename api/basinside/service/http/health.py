"""Says whether the server is ready, and which versions answer."""

from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, route

from ... import __version__
from ...contract.health import Health
from ...engine.door import JSON, Reply, engine_version
from .errors import sent
from .open_desk import desk_of


@route("/api/health", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def health(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer from the event loop, so that it is quick while the engine calculates."""
    backups = desk_of(request).backups
    ready = Health("ok", __version__, engine_version(), backups.proven_at or None, backups.failed)
    return sent(Reply(200, msgspec.json.encode(ready), JSON))
