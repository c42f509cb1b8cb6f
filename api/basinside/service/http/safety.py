"""The safety rules in words; reviews are asked like every calculation."""

from litestar import HttpMethod, Response, route

from ...engine.door import answer
from .engine_thread import in_engine_thread
from .errors import sent


@route("/api/safety/rules", http_method=[HttpMethod.GET, HttpMethod.HEAD])
async def safety_rules() -> Response[bytes]:
    """Return every rule with its sources."""
    return sent(await in_engine_thread(answer, "safety/rules", b""))
