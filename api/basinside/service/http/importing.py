"""The call that imports a phone's file."""

from typing import Any

from litestar import Request, Response, post

from ...contract.importing import MOST_FILE_BYTES, MOST_UNPACKED_BYTES
from ..desk.importing import bring_file_in
from ..desk.record_file import read_file
from ..sync.refused import Refused, misshapen
from .asked import asking_device, inflated, replied
from .open_desk import desk_of, now_ms

_GZIP = b"\x1f\x8b"


@post("/api/sync/import", request_max_body_size=MOST_FILE_BYTES + 1, status_code=200)
async def import_file(request: Request[Any, Any, Any]) -> Response[bytes]:
    """Import everything new in a file that a phone saved."""
    device = await asking_device(request)
    whole = bytearray()
    async for part in request.stream():
        whole += part
        if len(whole) > MOST_FILE_BYTES:
            raise _too_large()
    plain = unpacked(bytes(whole), MOST_UNPACKED_BYTES)
    desk = desk_of(request)
    file = await desk.read(read_file, plain)
    imported = await desk.write(bring_file_in, desk.salon, device.device_id, file, now_ms())
    if imported.accepted or imported.records:
        desk.changed()
    return replied(imported)


def unpacked(packed: bytes, most: int) -> bytes:
    """Return the lines of a file; raise `Refused` for another, cut or too large one."""
    if len(packed) > MOST_FILE_BYTES:
        raise _too_large()
    if not packed.startswith(_GZIP):
        raise misshapen(
            "Basinside did not save this file, or it has a passphrase. Open a sealed file on a"
            " phone, and save it there without a passphrase."
        )
    return inflated(packed, most)


def _too_large() -> Refused:
    most_mib = MOST_FILE_BYTES // 1024**2
    said = f"A file of more than {most_mib} MiB is too large. Save it without photos."
    return Refused(413, "too_large", said, max_bytes=MOST_FILE_BYTES)
