"""The calls by which photos travel."""

from typing import Any

import msgspec
from litestar import HttpMethod, Request, Response, post, route

from ...contract.photos import MOST_MISSING, PhotoSent
from ...contract.sync import MOST_BYTES, SHA256_PATTERN
from ..sync.photos import give_photo, photos_missing, take_photo
from ..sync.refused import misshapen
from .asked import asking_device, replied, told_by_device
from .export import matching
from .open_desk import desk_of
from .sync import whole_in

_photo = msgspec.json.Decoder(PhotoSent)
_READING = [HttpMethod.GET, HttpMethod.HEAD]


@post("/api/sync/photos", request_max_body_size=MOST_BYTES + 1, status_code=200)
async def send_photo(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Store a photo that a record names."""
    desk = desk_of(request)
    sent = await told_by_device(request, _photo)
    return replied(await desk.write(take_photo, desk.salon, sent))


@route("/api/sync/photo", http_method=_READING)
async def fetch_photo(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with a photo."""
    await asking_device(request)
    sha256 = matching(request, "sha256", SHA256_PATTERN, "the SHA-256 of a photo")
    if not sha256:
        raise misshapen("Put the photo's SHA-256 in `sha256`.")
    desk = desk_of(request)
    return replied(await desk.read(give_photo, desk.salon, sha256))


@route("/api/sync/photos/missing", http_method=_READING)
async def list_missing_photos(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Answer with the photos that nobody has sent."""
    await asking_device(request)
    after = matching(request, "after", SHA256_PATTERN, "the `next` of an earlier answer")
    limit = whole_in(request, "limit", MOST_MISSING, 1, MOST_MISSING)
    desk = desk_of(request)
    return replied(await desk.read(photos_missing, desk.salon, after, limit))
