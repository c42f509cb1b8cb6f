"""Imports a phone's file at the desk: everything new in it, once, in one transaction."""

from typing import get_args

from ...contract.importing import Imported, NotTaken
from ...contract.photos import PhotoType
from ..records.wire import change_of
from ..store.salon import Salon
from ..store.writer import Writer
from ..sync.offer import take_back
from ..sync.push import bring_in
from ..whole.erased import is_erased
from .record_file import RecordFile, is_too_large

_TYPES = get_args(PhotoType)


def bring_file_in(salon: Salon, device_id: str, file: RecordFile, now_ms: int) -> Imported:
    """Take everything new in a file; return the counts. Imported again, it adds nothing.

    Raises `Refused` (409 `schema_ahead`), and then takes nothing.
    """
    with salon.writing() as writing:
        brought = bring_in(writing, device_id, [sent for _, sent in file.operations], now_ms)
        line_of = {sent.op.op_id: line for line, sent in file.operations}
        refused = [
            NotTaken(line_of[each.op_id], each.code, each.message, f"/op{each.pointer}")
            for each in brought.refused
        ]
        records = _lost_here(writing, device_id, file, now_ms)
        photos = 0
        for line, photo in file.photos:
            if photo.type not in _TYPES or is_too_large(photo):
                said = "The desk keeps JPEG, PNG and WebP up to 512 KiB. It stays in the file."
                refused.append(NotTaken(line, "photo_unfit", said, "/photo"))
            elif writing.is_named(photo.sha256):
                photos += writing.keep_photo(photo)
    return Imported(
        v=1,
        accepted=len(brought.accepted),
        known=len(brought.duplicate),
        records=records,
        photos=photos,
        waiting=file.tray,
        refused=sorted(refused, key=lambda each: each.line),
    )


def _lost_here(writing: Writer, device_id: str, file: RecordFile, now_ms: int) -> int:
    """Take the phone's pulled records back, if this desk was put back from an older copy."""
    if writing.epoch() == 1:
        return 0
    taken = 0
    for _, state in file.base:
        values = [head.v for of_field in state.fields.values() for head in of_field.heads]
        if not is_erased(writing, [state.id, *(v for v in values if isinstance(v, str))]):
            taken += take_back(writing, device_id, change_of(state, 0), now_ms)
    return taken
