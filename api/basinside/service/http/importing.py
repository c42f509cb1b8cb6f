"""The call that imports a phone's file."""

from typing import Any

from litestar import Request, Response, post

from ...contract.importing import MOST_FILE_BYTES
from ..desk.importing import bring_file_in
from ..desk.record_file import read_packed
from ..sync.refused import Refused, file_too_large
from .asked import asking_device, replied
from .open_desk import desk_of, now_ms

_RETRY_AFTER_S = 10


@post("/api/sync/import", request_max_body_size=MOST_FILE_BYTES + 1, status_code=200)
async def import_file(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Import everything new in a file that a phone saved; one file at a time."""
    device = await asking_device(request)
    desk = desk_of(request)
    if desk.importing:
        said = "Another file is being imported. Send this one again in a moment."
        raise Refused(429, "import_under_way", said, retry_after_s=_RETRY_AFTER_S)
    desk.importing = True
    try:
        whole = bytearray()
        async for part in request.stream():
            whole += part
            if len(whole) > MOST_FILE_BYTES:
                raise file_too_large()
        file = await desk.read(read_packed, bytes(whole))
        imported = await desk.write(bring_file_in, desk.salon, device.device_id, file, now_ms())
    finally:
        desk.importing = False
    if imported.accepted or imported.records:
        desk.changed()
    return replied(imported)
