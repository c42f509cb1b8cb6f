"""Reads the file in which a phone saves everything, whole, before any of it is taken.

It holds lines of JSON: a header that counts the rest, then records, operations, refused operations
and photos. The last line is the SHA-256 of every byte before. `web/src/records/files/format.ts`
writes it.
"""

import base64
import binascii
import hashlib
from typing import Any, NamedTuple

import msgspec

from ...contract.photos import MOST_PHOTO_BYTES
from ..records.fold import State
from ..store.rows import Photo
from ..sync.refused import Refused, misshapen
from ..sync.sent import Sent, read_operation

FORMAT, VERSION = "basinside records", 1
_SAVE_AGAIN = "Save it again where it came from."
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


def read_file(plain: bytes) -> RecordFile:
    """Return the content of a file; raise `Refused` (400), with the line, if it is not sound."""
    body, _, last = plain.removesuffix(b"\n").rpartition(b"\n")
    lines = body.split(b"\n")
    header = _read(_header, lines[0], 1)
    if (header.format, header.version) != (FORMAT, VERSION):
        raise _wrong(1, "this is no file of Basinside's records.")
    try:
        saved = _trailer.decode(last).sha256
    except (msgspec.DecodeError, UnicodeDecodeError):
        raise _wrong(len(lines) + 1, "the file is cut there.") from None
    if hashlib.sha256(body + b"\n").hexdigest() != saved:
        raise misshapen(f"This file is not as it was saved. {_SAVE_AGAIN}")
    read = RecordFile([], [], [], 0)
    for number, line in enumerate(lines[1:], start=2):
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
