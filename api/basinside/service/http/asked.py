"""Reads the caller, the body and writes the reply, for every call on records."""

import re
import zlib
from typing import Any, Protocol, TypeVar

import msgspec
from litestar import Request, Response

from ...contract.sync import MOST_BYTES
from ...engine.door import JSON, Reply, fault_of_shape
from ..store.rows import Device
from ..sync.pairing import device_of
from ..sync.refused import MOST_RATIO, Refused, misshapen, too_large, too_long, too_many
from .errors import sent
from .open_desk import desk_of, now_ms
from .query import refuse_unknown

_Answered = TypeVar("_Answered")


class _NamesDevice(Protocol):
    """A body that says which device wrote it."""

    @property
    def device_id(self) -> str: ...


_Told = TypeVar("_Told", bound=_NamesDevice)
# As msgspec says it of a list, and of a photo.
_TOO_MUCH = re.compile(r"Expected `(array|bytes)` of length <= (\d+)")


async def asking_device(request: Request[Any, Any, Any]) -> Device:
    """Return the device whose token the call carries; raise `Refused` (401, 403) otherwise.

    A token that only reads is let in where nothing is sent. Then raise `Refused` (400) if the call
    has a parameter that it does not take.
    """
    scheme, _, token = request.headers.get("authorization", "").partition(" ")
    desk = desk_of(request)
    known = token.strip() if scheme.lower() == "bearer" else None
    writes = request.method not in ("GET", "HEAD")
    device = await desk.read(device_of, desk.salon, known or None, now_ms(), writes=writes)
    refuse_unknown(request)
    return device


async def body_of(request: Request[Any, Any, Any]) -> bytes:
    """Return the body, inflated if it is gzip; raise `Refused` (400, 413) for a bad one."""
    whole = bytearray()
    async for part in request.stream():
        whole += part
        if len(whole) > MOST_BYTES:
            raise too_large()
    coding = request.headers.get("content-encoding", "").strip().lower()
    if coding in ("", "identity"):
        return bytes(whole)
    if coding != "gzip":
        raise misshapen(f'The encoding of the body is "{coding}". Send it plain or as gzip.')
    return inflated(bytes(whole), min(MOST_BYTES, MOST_RATIO * len(whole)))


def inflated(packed: bytes, most: int) -> bytes:
    """Return the content of a gzip; raise `Refused`: 400 if it is not whole, 413 if too large."""
    inflating = zlib.decompressobj(zlib.MAX_WBITS | 16)
    try:
        plain = inflating.decompress(packed, most + 1)
    except zlib.error:
        raise misshapen("The body is no whole gzip. Pack and send it again.") from None
    if len(plain) > most:
        raise too_large()
    if not inflating.eof or inflating.unused_data:
        raise misshapen("The body is no whole gzip. Pack and send it again.")
    return plain


def decoded(body: bytes, decoder: msgspec.json.Decoder[_Answered]) -> _Answered:
    """Return a body as its shape; raise `Refused` (400, 413) if it does not fit.

    It is 413 only for a list or a photo of the body itself that is too large: a smaller one would
    be taken.
    """
    try:
        return decoder.decode(body)
    except (msgspec.DecodeError, RecursionError, UnicodeDecodeError) as error:
        fault = fault_of_shape(error, body, decoder.type)
        much = _TOO_MUCH.match(str(error))
        if much and fault.pointer.count("/") == 1:
            name, most = fault.pointer.removeprefix("/"), int(much[2])
            raise too_many(most, name) if much[1] == "array" else too_long(most, name) from None
        raise misshapen(fault.message, fault.pointer) from None


async def told_by_device(
    request: Request[Any, Any, Any], decoder: msgspec.json.Decoder[_Told]
) -> _Told:
    """Return the body of a device that speaks for itself.

    Raises `Refused`: 401 and 403 for the token, 400 and 413 for the body, 403 `other_device` if the
    body names another device than the token.
    """
    device = await asking_device(request)
    body = decoded(await body_of(request), decoder)
    if body.device_id != device.device_id:
        said = "This token belongs to another device. Pair this one with a code of its own."
        raise Refused(403, "other_device", said)
    return body


def replied(answer: msgspec.Struct) -> Response[bytes]:
    """Return the response that carries an answer."""
    return sent(Reply(200, msgspec.json.encode(answer), JSON))
