"""Says whether the server is ready, and which versions answer."""

import msgspec
from litestar import HttpMethod, Response, route

from ... import __version__
from ...contract.health import Health
from ...engine.door import JSON, Reply, engine_version
from .errors import sent


@route("/api/health", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def health() -> Response[bytes]:
    """Answer from the event loop, so that it is quick while the engine calculates."""
    ready = Health("ok", __version__, engine_version())
    return sent(Reply(200, msgspec.json.encode(ready), JSON))
