"""The one exception handler: every error leaves as problem details (RFC 9457)."""

import logging
import secrets
import traceback
from http import HTTPStatus
from typing import Any

import msgspec
from litestar import Request, Response
from litestar.exceptions import HTTPException

from ...contract.problems import Fault
from ...contract.sync import SyncProblem
from ...engine.door import PROBLEM_JSON, Reply, refusal
from ..sync.refused import Refused, file_too_large, too_large

BODY_LIMIT_BYTES = 1024 * 1024
_LONGEST_PATH_SHOWN = 100

# The titles of refusals of calls on records.
_TITLES = {
    400: "Cannot be read",
    401: "Not paired",
    403: "Not let in",
    404: "Not there",
    409: "Another history or another place in it",
    413: "Too large",
    429: "Too often",
    507: "The disk is full",
}

_log = logging.getLogger("basinside")


def on_any_error(request: Request[Any, Any, Any], error: Exception) -> Response[bytes]:
    """Return the refusal a caller gets for an error raised anywhere in the service."""
    if isinstance(error, Refused):
        return refused(error)
    if getattr(error, "status_code", 0) == 413 and request.url.path.startswith("/api/sync/"):
        is_file = request.url.path == "/api/sync/import"
        return refused(file_too_large() if is_file else too_large())
    if not isinstance(error, HTTPException):
        fault = _log_own_fault(request, error)
        return sent(refusal(500, f"The server failed. Its log says where, under {fault}."))
    headers = dict(error.headers or {})
    if "allow" in headers:  # the framework gives a set, in any order
        headers["allow"] = ", ".join(sorted(headers["allow"].split(", ")))
    return sent(refusal(error.status_code, _sentence(request, error, headers)), headers)


def sent(reply: Reply, headers: dict[str, str] | None = None) -> Response[bytes]:
    """Return the HTTP response that carries a reply of the engine's door."""
    return Response(
        reply.body, status_code=reply.status, media_type=reply.media_type, headers=headers
    )


def refused(refusal: Refused) -> Response[bytes]:
    """Return the response that carries a refusal of a call on records: it has a code."""
    needs = dict(refusal.needs)
    pointer = needs.pop("pointer", None)
    problem = SyncProblem(
        type=f"/docs#refusal-{refusal.status}",
        title=_TITLES.get(refusal.status, "Not now"),
        status=refusal.status,
        detail=refusal.detail,
        errors=[] if pointer is None else [Fault(str(pointer), refusal.detail)],
        code=refusal.code,
        **needs,  # type: ignore[arg-type]
    )
    headers = {}
    if refusal.retry_after_s is not None:
        headers["retry-after"] = str(refusal.retry_after_s)
    if refusal.status == 401:
        headers["www-authenticate"] = "Bearer"
    return sent(Reply(refusal.status, msgspec.json.encode(problem), PROBLEM_JSON), headers)


def _sentence(
    request: Request[Any, Any, Any], error: HTTPException, headers: dict[str, str]
) -> str:
    path = request.url.path[:_LONGEST_PATH_SHOWN]
    match error.status_code:
        case 404 if error.detail == HTTPStatus.NOT_FOUND.phrase:
            return f"Nothing is at {path}. /docs lists the calls."
        case 405:
            return f"{request.method} does not work at {path}. Use {headers['allow']}."
        case 413:
            return "The body is larger than 1 MiB (1,048,576 bytes). Send fewer products."
    return error.detail


def _log_own_fault(request: Request[Any, Any, Any], error: Exception) -> str:
    """Log where it broke; return the id under which the log has it.

    It logs none of the values: an error's own text may hold a client's words.
    """
    fault = secrets.token_hex(4)
    where = "".join(traceback.format_tb(error.__traceback__))
    # Shown as Python writes a text, so that a path with line breaks in it forges no line.
    path = repr(request.url.path[:_LONGEST_PATH_SHOWN])
    _log.error("%s: %s %s: %s\n%s", fault, request.method, path, type(error).__name__, where)
    return fault
