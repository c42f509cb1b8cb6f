"""Reads the file in which a phone saves everything, whole, before any of it is taken.

It holds lines of JSON: a header that counts the rest, then records, operations, refused operations
and photos. The last line is the SHA-256 of every byte before. `web/src/records/files/format.ts`
writes it.
"""

import base64
import binascii
import hashlib
import zlib
from collections.abc import Iterator
from typing import Any, NamedTuple

import msgspec

from ...contract.importing import MOST_FILE_BYTES, MOST_UNPACKED_BYTES
from ...contract.photos import MOST_PHOTO_BYTES
from ...contract.sync import MOST_BYTES
from ..records.fold import State
from ..store.rows import Photo
from ..sync.refused import MOST_RATIO, Refused, file_too_large, misshapen, unpacks_too_large
from ..sync.sent import Sent, read_operation

FORMAT, VERSION = "basinside records", 1
_SAVE_AGAIN = "Save it again where it came from."
_GZIP = b"\x1f\x8b"
_PIECE_BYTES = 64 * 1024
_COUNTED = ("base", "operations", "tray", "photos")


class _Header(msgspec.Struct):
    format: str
    version: int
    counts: dict[str, int]


class _Line(msgspec.Struct):
    op: msgspec.Raw = msgspec.Raw()
    base: State | None = None
    tray: Any = None
    photo: str | None = None
    sha256: str = ""
    type: str = ""


class _Trailer(msgspec.Struct):
    sha256: str


_header = msgspec.json.Decoder(_Header)
_line = msgspec.json.Decoder(_Line)
_trailer = msgspec.json.Decoder(_Trailer)


class RecordFile(NamedTuple):
    """The content of a file, each part with the number of its line; `tray` counts the refused."""

    base: list[tuple[int, State]]
    operations: list[tuple[int, Sent]]
    photos: list[tuple[int, Photo]]
    tray: int


def read_packed(packed: bytes) -> RecordFile:
    """Return the content of a packed file; raise `Refused` if it is not sound.

    That is 400, with the line, or 413 for one that would fill the memory. The file is unpacked a
    piece at a time, twice: no line is looked at before the whole is known to be as it was saved.
    """
    if len(packed) > MOST_FILE_BYTES:
        raise file_too_large()
    if not packed.startswith(_GZIP):
        raise misshapen(
            "Basinside did not save this file, or it has a passphrase. Open a sealed file on a"
            " phone, and save it there without a passphrase."
        )
    header, last = _as_saved(packed)
    read = RecordFile([], [], [], 0)
    for number, line in enumerate(_lines(packed), start=1):
        if 1 < number < last:
            read = _with_line(read, _read(_line, line, number), number)
    found = dict(
        zip(
            _COUNTED,
            (len(read.base), len(read.operations), read.tray, len(read.photos)),
            strict=True,
        )
    )
    for name, count in found.items():
        if header.counts.get(name) != count:
            raise _wrong(1, f"it promises {header.counts.get(name)} {name}, but there are {count}.")
    return read


def _as_saved(packed: bytes) -> tuple[_Header, int]:
    """Return the header and the number of the last line, once the last vouches for the rest."""
    header, last, line, digest = None, 0, b"", hashlib.sha256()
    for last, following in enumerate(_lines(packed), start=1):  # noqa: B007 - used after it
        if header is None:
            header = _read(_header, following, 1)
            if (header.format, header.version) != (FORMAT, VERSION):
                raise _wrong(1, "this is no file of Basinside's records.")
        else:
            digest.update(line + b"\n")
        line = following
    if header is None:
        raise _wrong(1, "the file is empty.")
    try:
        saved = _trailer.decode(line).sha256
    except (msgspec.DecodeError, UnicodeDecodeError):
        raise _wrong(last, "the file is cut there.") from None
    if digest.hexdigest() != saved:
        raise misshapen(f"This file is not as it was saved. {_SAVE_AGAIN}")
    return header, last


def _lines(packed: bytes) -> Iterator[bytes]:
    """Yield each line of a gzip without its end; raise `Refused` if it is not whole, or a bomb."""
    inflating = zlib.decompressobj(zlib.MAX_WBITS | 16)
    left = min(MOST_UNPACKED_BYTES, MOST_RATIO * len(packed))
    rest, begun = packed, b""
    while not inflating.eof:
        try:
            piece = inflating.decompress(rest, _PIECE_BYTES)
        except zlib.error:
            raise misshapen(f"This file is no whole gzip. {_SAVE_AGAIN}") from None
        rest = inflating.unconsumed_tail
        left -= len(piece)
        if left < 0:
            raise unpacks_too_large()
        if not piece and not rest and not inflating.eof:
            raise misshapen(f"This file is no whole gzip. {_SAVE_AGAIN}")
        *whole, begun = (begun + piece).split(b"\n")
        if any(len(line) > MOST_BYTES for line in (*whole, begun)):
            raise unpacks_too_large()
        yield from whole
    if inflating.unused_data:
        raise misshapen(f"This file is no whole gzip. {_SAVE_AGAIN}")
    if begun:
        yield begun


def _with_line(read: RecordFile, line: _Line, number: int) -> RecordFile:
    if bytes(line.op):
        sent = read_operation(line.op, f"The operation on line {number}", f"/lines/{number}/op")
        read.operations.append((number, sent))
    elif line.base is not None:
        read.base.append((number, line.base))
    elif line.photo is not None:
        read.photos.append((number, _photo_of(line, number)))
    elif line.tray is not None:
        return read._replace(tray=read.tray + 1)
    else:
        raise _wrong(number, "the desk knows nothing in it.")
    return read


def _photo_of(line: _Line, number: int) -> Photo:
    try:
        picture = base64.b64decode(line.photo or "", validate=True)
    except binascii.Error:
        picture = b""
    if hashlib.sha256(picture).hexdigest() != line.sha256:
        raise _wrong(number, "a photo is not the one that was saved.")
    return Photo(line.sha256, line.type, picture)


def is_too_large(photo: Photo) -> bool:
    """Return whether a photo is larger than the desk takes."""
    return len(photo.bytes) > MOST_PHOTO_BYTES


def _read(decoder: msgspec.json.Decoder[Any], line: bytes, number: int) -> Any:
    try:
        return decoder.decode(line)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        raise _wrong(number, "it is cut or was changed.") from None


def _wrong(number: int, what: str) -> Refused:
    return misshapen(f"Line {number}: {what} {_SAVE_AGAIN}", f"/lines/{number}")
