"""What every call on records shares: the salon, the device that asks, the body, the refusal.

The database is read and written off the event loop: one thread writes, so that pushes stand in
line here and not at the file's lock, and a few read.
"""

import asyncio
import errno
import logging
import sqlite3
import time
import zlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any, ParamSpec, Protocol, TypeVar

import msgspec
from litestar import Request, Response

from ...contract.sync import MOST_BYTES
from ...engine.door import JSON, Reply
from ..store.rows import Device
from ..store.salon import Salon
from ..sync.ledger import Ledger
from ..sync.mending import mend
from ..sync.pairing import Gate, device_of
from ..sync.refused import Refused, misshapen, too_large
from .errors import sent

_Asked = ParamSpec("_Asked")
_Answered = TypeVar("_Answered")


class _NamesDevice(Protocol):
    """A body that says which device wrote it."""

    @property
    def device_id(self) -> str: ...


_Told = TypeVar("_Told", bound=_NamesDevice)
_READERS = 2
# Text does not shrink like this; what would is made to fill a memory.
_MOST_RATIO = 50
_RETRY_AFTER_S = 5

_log = logging.getLogger("basinside")


class Desk:
    """The open salon, its threads, and who waits for changes."""

    def __init__(self, salon: Salon) -> None:
        self.salon = salon
        self.gate = Gate()
        self.ledger = Ledger(salon.path.parent)
        self.waiting: set[asyncio.Event] = set()
        self.closing = False
        # Where phones reach this desk over its own TLS; empty where nobody but a proxy can.
        self.address_for_phones = ""
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="salon-write")
        self._readers = ThreadPoolExecutor(_READERS, thread_name_prefix="salon-read")

    async def write(
        self, work: Callable[_Asked, _Answered], *inputs: _Asked.args, **named: _Asked.kwargs
    ) -> _Answered:
        """Return what the work returns, done in the one thread that writes."""
        return await _in(self._writer, work, *inputs, **named)

    async def read(
        self, work: Callable[_Asked, _Answered], *inputs: _Asked.args, **named: _Asked.kwargs
    ) -> _Answered:
        """Return what the work returns, done in a thread that reads.

        Where a row was found unsound on the way, it is mended and the work done anew.
        """
        answer = await _in(self._readers, work, *inputs, **named)
        if not self.salon.unsound:
            return answer
        try:
            await self.write(mend, self.salon, now_ms())
        except Refused:  # no room, or held by another process: the rest is answered all the same
            return answer
        return await _in(self._readers, work, *inputs, **named)

    def changed(self) -> None:
        """Wake those who wait for changes. Call it from the event loop."""
        for event in self.waiting:
            event.set()

    def stop_following(self) -> None:
        """Let the streams of changes end, so that the server can stop."""
        self.closing = True
        self.changed()

    def close(self) -> None:
        """Let the work that runs end, then close the files."""
        self._writer.shutdown()
        self._readers.shutdown()
        self.salon.close()


async def _in(
    pool: ThreadPoolExecutor,
    work: Callable[_Asked, _Answered],
    *inputs: _Asked.args,
    **named: _Asked.kwargs,
) -> _Answered:
    try:
        return await asyncio.get_running_loop().run_in_executor(
            pool, lambda: work(*inputs, **named)
        )
    except sqlite3.DatabaseError as error:
        raise _not_now(error) from error
    except OSError as error:  # the ledger's file, beside the database
        if error.errno != errno.ENOSPC:
            raise
        raise _disk_full() from error


def _disk_full() -> Refused:
    said = "The desk's disk is full, so nothing was taken. Make room there; this phone waits."
    return Refused(507, "disk_full", said, retry_after_s=60)


def _not_now(error: sqlite3.DatabaseError) -> Exception:
    """Return what a call is refused with; a fault of our own, such as a broken rule, stays one."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    if code == sqlite3.SQLITE_FULL:
        return _disk_full()
    if code & 0xFF in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        _log.error("The salon's database is damaged: %s", error.sqlite_errorname)
        said = (
            "The desk's records are damaged, so nothing was taken; all waits on this phone. Run"
            " `basinside doctor` at the desk: it names the way back."
        )
        return Refused(503, "damaged", said, retry_after_s=60)
    if not isinstance(error, sqlite3.OperationalError):
        return error
    _log.error("The salon's database: %s", error.sqlite_errorname)
    said = "The desk's records are busy. Send again in a moment."
    return Refused(503, "busy", said, retry_after_s=_RETRY_AFTER_S)


def desk_of(request: Request[Any, Any, Any]) -> Desk:
    """Return the open salon."""
    desk: Desk = request.app.state.desk
    return desk


async def asking_device(request: Request[Any, Any, Any]) -> Device:
    """Return the device whose token the call carries; raise `Refused` (401, 403) otherwise."""
    scheme, _, token = request.headers.get("authorization", "").partition(" ")
    desk = desk_of(request)
    known = token.strip() if scheme.lower() == "bearer" else None
    return await desk.read(device_of, desk.salon, known or None)


def now_ms() -> int:
    """Return the wall clock, ms since 1970."""
    return time.time_ns() // 1_000_000


async def body_of(request: Request[Any, Any, Any]) -> bytes:
    """Return the body, inflated where it is gzip; raise `Refused` (400, 413) for a bad one."""
    whole = bytearray()
    async for part in request.stream():
        whole += part
        if len(whole) > MOST_BYTES:
            raise too_large()
    coding = request.headers.get("content-encoding", "").strip().lower()
    if coding in ("", "identity"):
        return bytes(whole)
    if coding != "gzip":
        raise misshapen(f'The body is packed as "{coding}". Send it plain or as gzip.')
    return inflated(bytes(whole), min(MOST_BYTES, _MOST_RATIO * len(whole)))


def inflated(packed: bytes, most: int) -> bytes:
    """Return what a gzip holds; raise `Refused`: 400 where it is not whole, 413 for more."""
    inflating = zlib.decompressobj(zlib.MAX_WBITS | 16)
    try:
        plain = inflating.decompress(packed, most + 1)
    except zlib.error:
        raise misshapen("The body is no whole gzip. Pack it again and send it.") from None
    if len(plain) > most:
        raise too_large()
    if not inflating.eof or inflating.unused_data:
        raise misshapen("The body is no whole gzip. Pack it again and send it.")
    return plain


def decoded(body: bytes, decoder: msgspec.json.Decoder[_Answered]) -> _Answered:
    """Return a body as its shape; raise `Refused` (400, 413) where it is none."""
    try:
        return decoder.decode(body)
    except (msgspec.DecodeError, RecursionError, UnicodeDecodeError) as error:
        said = str(error)
        if "length <=" in said:
            raise too_large() from None
        raise misshapen(f"The body cannot be read: {said}. Send it as the document says.") from None


async def told_by_device(
    request: Request[Any, Any, Any], decoder: msgspec.json.Decoder[_Told]
) -> _Told:
    """Return the body of a device that speaks for itself.

    Raises `Refused`: 401 and 403 for the token, 400 and 413 for the body, 403 `other_device`
    where the body names another device than the token.
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
