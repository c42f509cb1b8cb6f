"""Serves the OpenAPI document and the page that shows it, from our own origin only."""

from functools import cache
from importlib.resources import files
from typing import Any

from litestar import HttpMethod, Request, Response, route

from ....engine.door import JSON
from ..calculations import client_of
from ..open_desk import desk_of
from .openapi import openapi_document, openapi_text
from .page import reference_html

_READING = [HttpMethod.GET, HttpMethod.HEAD]
_KEPT = {"cache-control": "no-cache"}


@route("/openapi.json", http_method=_READING)
async def document(request: Request[Any, Any, Any]) -> Response[str]:
    """Return the OpenAPI 3.1 document."""
    lane = desk_of(request).lanes.questions
    text = await lane.work_out(client_of(request), _document_text)
    return Response(text, status_code=200, media_type=JSON, headers=_KEPT)


@route("/docs", http_method=_READING)
async def reference(request: Request[Any, Any, Any]) -> Response[str]:
    """Return the page that shows the document."""
    lane = desk_of(request).lanes.questions
    html = await lane.work_out(client_of(request), _reference_html)
    return Response(html, status_code=200, media_type="text/html", headers=_KEPT)


@route("/docs/reference.css", http_method=_READING)
async def reference_style() -> Response[str]:
    """Return the style of the frame around the viewer."""
    return _page_file("reference.css", "text/css")


@route("/docs/start.js", http_method=_READING)
async def reference_start() -> Response[str]:
    """Return the script that opens the viewer. The viewer itself is a file of the built page."""
    return _page_file("start.js", "text/javascript")


def _page_file(name: str, media_type: str) -> Response[str]:
    text = (files(__package__) / "page_files" / name).read_text("utf-8")
    return Response(text, status_code=200, media_type=media_type, headers=_KEPT)


# Written at the first request, and kept as text.
@cache
def _document_text() -> str:
    return openapi_text()


@cache
def _reference_html() -> str:
    return reference_html(openapi_document())
