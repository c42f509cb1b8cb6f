"""Serves the page's own files, as its build left them, already compressed."""

from email.utils import formatdate
from pathlib import Path
from typing import Any, NamedTuple

from anyio import to_thread
from litestar import HttpMethod, Request, Response, route
from litestar.exceptions import MethodNotAllowedException, NotFoundException

from .spared import accepts

# Named here, since each system has a table of its own. The framework adds the character set to
# text.
_MEDIA_TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".ico": "image/x-icon",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
}
# The build puts a hash of the content into the name of every file in this folder.
_HASHED_FOLDER = "assets"
_KEPT_FOR_GOOD = "public, max-age=31536000, immutable"
_ASKED_EACH_TIME = "no-cache"
_READING = ("GET", "HEAD")
_INDEX = "index.html"
# What these begin belongs to programs and to the page's own parts: a missing one is never the page.
_NOT_THE_PAGE = ("api", "assets", "docs", "openapi")
# Where a phone's share sheet posts a file to. The page's own worker takes it and keeps it there.
_SHARED = "shared"


class _File(NamedTuple):
    path: Path
    encoding: str | None
    media_type: str
    etag: str
    modified: str
    cache: str


# Every method is caught here, so that an unknown path is 404 for any of them.
@route(["/", "/{file:path}"], http_method=list(HttpMethod), name="pages")
async def pages(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Return a file of the built page; `/` is its index.

    A browser that opens an unknown path gets the page too, so an old bookmark still works. A file
    that is shared reaches this only where no worker took it: it is not read, and the page says so.
    """
    wanted = request.path_params.get("file", "").strip("/") or _INDEX
    if request.method == HttpMethod.POST and wanted == _SHARED:
        return Response(b"", status_code=303, headers={"location": f"/#/{_SHARED}"})
    if _opens_the_page(request, wanted):
        wanted = _INDEX
    built: Path = request.app.state.web_folder
    found = await to_thread.run_sync(
        _find, built, wanted, accepts(request.headers.get("accept-encoding", ""), "br")
    )
    if found is None and wanted == _INDEX:
        raise NotFoundException(detail="The page is not built yet. Run `make run` to build it.")
    if found is None:
        raise NotFoundException
    if request.method not in _READING:
        raise MethodNotAllowedException(headers={"allow": ", ".join(_READING)})
    headers = {
        "cache-control": found.cache,
        "etag": found.etag,
        "last-modified": found.modified,
        "vary": "accept-encoding",
    }
    if found.encoding:
        headers["content-encoding"] = found.encoding
    if found.etag in request.headers.get("if-none-match", ""):
        return Response(b"", status_code=304, headers=headers)
    content = await to_thread.run_sync(found.path.read_bytes)
    return Response(content, status_code=200, headers=headers, media_type=found.media_type)


def _opens_the_page(request: Request[Any, Any, Any], wanted: str) -> bool:
    """Return whether a browser goes to a path that names no file and no call of the API."""
    *_, last = parts = wanted.split("/")
    return (
        request.method in _READING
        and "text/html" in request.headers.get("accept", "").lower()
        and parts[0] not in _NOT_THE_PAGE
        and "." not in last
    )


def _find(built: Path, wanted: str, brotli: bool) -> _File | None:
    """Return the file, its compressed twin if there is one and it is welcome, or None."""
    if "\0" in wanted:
        return None
    try:
        path = (built / wanted).resolve()
        if not path.is_relative_to(built.resolve()) or not path.is_file():
            return None
    except OSError:  # a name that no file can have, such as one of 256 letters
        return None
    twin = path.with_name(path.name + ".br")
    compressed = brotli and twin.is_file()
    sent_path = twin if compressed else path
    stat = sent_path.stat()
    hashed = path.relative_to(built.resolve()).parts[0] == _HASHED_FOLDER
    return _File(
        sent_path,
        "br" if compressed else None,
        _MEDIA_TYPES.get(path.suffix, "application/octet-stream"),
        f'"{stat.st_mtime_ns:x}-{stat.st_size:x}"',
        formatdate(stat.st_mtime, usegmt=True),
        _KEPT_FOR_GOOD if hashed else _ASKED_EACH_TIME,
    )
