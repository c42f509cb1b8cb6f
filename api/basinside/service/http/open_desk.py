"""The open salon, as every call on records finds it.

The database is read and written off the event loop. One thread writes, so that pushes queue here
and not at the file's lock. A few threads read.
"""

import asyncio
import errno
import logging
import sqlite3
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import Any, ParamSpec, TypeVar

from litestar import Request

from ..store.salon import Salon
from ..sync.pairing import Gate
from ..sync.refused import Refused
from ..whole.backups import backup_state
from ..whole.ledger import Ledger
from ..whole.repair import mend
from .engine_thread import Lanes

_Asked = ParamSpec("_Asked")
_Answered = TypeVar("_Answered")


_READERS = 2
_RETRY_AFTER_S = 5

_log = logging.getLogger("basinside")


class Desk:
    """The open salon, its threads, and the streams that wait for changes."""

    def __init__(self, salon: Salon) -> None:
        self.salon = salon
        self.gate = Gate()
        self.ledger = Ledger(salon.path.parent)
        self.backups = backup_state(salon.path.parent)
        self.lanes = Lanes()
        self.waiting: set[asyncio.Event] = set()
        self.closing = False
        # A file takes memory and the one thread that writes, so there is one at a time.
        self.importing = False
        # The address at which phones reach this desk over its own TLS; empty without it.
        self.address_for_phones = ""
        self._closed = False
        self._under_way = 0
        self._idle = asyncio.Event()
        self._idle.set()
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="salon-write")
        self._readers = ThreadPoolExecutor(_READERS, thread_name_prefix="salon-read")
        # A backup of a large salon takes minutes.
        self._backups = ThreadPoolExecutor(1, thread_name_prefix="salon-backup")

    async def write(
        self, work: Callable[_Asked, _Answered], *inputs: _Asked.args, **named: _Asked.kwargs
    ) -> _Answered:
        """Return what the work returns; the one thread that writes does it.

        Raises `Refused` (503) once the desk is closing; it then does nothing.
        """
        with self._taken():
            return await _in(self._writer, work, *inputs, **named)

    async def read(
        self, work: Callable[_Asked, _Answered], *inputs: _Asked.args, **named: _Asked.kwargs
    ) -> _Answered:
        """Return what the work returns; a thread that reads does it.

        If the work meets an unsound row, the row is repaired and the work done again. Raises
        `Refused` (503) once the desk is closing.
        """
        with self._taken():
            answer = await _in(self._readers, work, *inputs, **named)
            if not self.salon.unsound:
                return answer
            try:
                await _in(self._writer, mend, self.salon, now_ms())
            except Refused:
                # No room, or held by another process: the rest is answered all the same.
                return answer
            return await _in(self._readers, work, *inputs, **named)

    async def back_up(
        self, work: Callable[_Asked, _Answered], *inputs: _Asked.args, **named: _Asked.kwargs
    ) -> _Answered:
        """Return what the work returns; it keeps no call waiting.

        Raises `Refused` (503) once the desk is closing.
        """
        with self._taken():
            return await _in(self._backups, work, *inputs, **named)

    @contextmanager
    def _taken(self) -> Iterator[None]:
        """Count one call as taken, so that closing waits for it; refuse it once it is too late."""
        if self._closed:
            said = "The desk is stopping. Ask again once it runs."
            raise Refused(503, "busy", said, retry_after_s=_RETRY_AFTER_S)
        self._under_way += 1
        self._idle.clear()
        try:
            yield
        finally:
            self._under_way -= 1
            if not self._under_way:
                self._idle.set()

    def changed(self) -> None:
        """Wake the streams that wait for changes. Call it from the event loop."""
        for event in self.waiting:
            event.set()

    def stop_following(self) -> None:
        """Let the streams of changes end, so that the server can stop."""
        self.closing = True
        self.changed()

    async def close(self) -> None:
        """Refuse new calls, let the taken ones end, then close the files."""
        self._closed = True
        self.lanes.close()
        await self._idle.wait()
        # The caller may be gone, but the work in a thread runs on.
        await asyncio.to_thread(self._writer.shutdown)
        await asyncio.to_thread(self._readers.shutdown)
        await asyncio.to_thread(self._backups.shutdown)
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
    said = "The desk's disk is full, so it stored nothing. Make room there; this phone waits."
    return Refused(507, "disk_full", said, retry_after_s=60)


def _not_now(error: sqlite3.DatabaseError) -> Exception:
    """Return a call's refusal; a fault of our own, such as a broken rule, stays one."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    if code == sqlite3.SQLITE_FULL:
        return _disk_full()
    if code & 0xFF in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        _log.error("The salon's database is damaged: %s", error.sqlite_errorname)
        said = (
            "The desk's records are damaged, so it stored nothing. All waits on this phone. Run"
            " `basinside doctor` at the desk: it says how to repair them."
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


def now_ms() -> int:
    """Return the wall clock, ms since 1970."""
    return time.time_ns() // 1_000_000
