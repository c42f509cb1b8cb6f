"""Ends connections that hold a place and ask nothing, so that everybody else is answered.

A head must have come whole within 10 s. Of a body, 30 KiB must come every 30 s. One address
may hold 64 connections. Where a new one finds no room, the one that has been silent longest makes
room for it. A connection whose question is being answered is never ended, nor is a stream of
changes.
"""

import asyncio
import logging
import time

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_WITHIN_S = 10.0
BODY_WITHIN_S = 30.0
LEAST_BYTES_PER_S = 1024
MOST_OF_ONE = 64
"""The most connections of one address."""
# How many a loop accepts at a time: they take files before they can be counted.
ACCEPTED_AT_ONCE = 32
# Databases, certificates, what was accepted and is not counted yet, and what closes just now.
_FILES_FOR_OTHERS = 64 + 3 * ACCEPTED_AT_ONCE
_LEAST = 16
_SAID_EVERY_S = 60.0

_log = logging.getLogger("basinside")


def most_connections(files: int) -> int:
    """Return how many connections a process may hold that may open so many files."""
    return max(_LEAST, files - _FILES_FOR_OTHERS)


class Room:
    """The connections of one server: how many of each address, and which of them are silent."""

    def __init__(
        self,
        most: int,
        most_of_one: int = MOST_OF_ONE,
        head_s: float = HEAD_WITHIN_S,
        body_s: float = BODY_WITHIN_S,
    ) -> None:
        self._most = most
        self._most_of_one = most_of_one
        self.within_s = {"head": head_s, "body": body_s}
        self._of: dict[str, set[Guarded]] = {}
        self._open = 0
        self._said_at = float("-inf")
        self.silent: dict[Guarded, None] = {}
        """Those that we wait for, the longest first."""

    def admit(self, new: "Guarded") -> None:
        """Count a new connection, and end another, or this one, if there is no room for it."""
        of_one = self._of.setdefault(new.address, set())
        of_one.add(new)
        self._open += 1
        if len(of_one) > self._most_of_one:
            self._end_one(new, of_one)
        if self._open > self._most:
            self._say_that_it_is_full()
            self._end_one(new, None)

    def gone(self, closed: "Guarded") -> None:
        """Count a connection no more; it may have been counted out before."""
        self.silent.pop(closed, None)
        of_one = self._of.get(closed.address, set())
        if closed in of_one:
            of_one.remove(closed)
            self._open -= 1
            if not of_one:
                del self._of[closed.address]

    def _end_one(self, new: "Guarded", among: "set[Guarded] | None") -> None:
        silent = (each for each in self.silent if each is not new)
        oldest = next((each for each in silent if among is None or each in among), new)
        self.gone(oldest)
        oldest.end()

    def _say_that_it_is_full(self) -> None:
        now_s = time.monotonic()
        if now_s - self._said_at >= _SAID_EVERY_S:
            self._said_at = now_s
            _log.warning(
                "%d connections at once, the most that fit: silent ones are closed.", self._most
            )


class Guarded(H11Protocol):
    """A connection that has a time limit for each part of a question; `guarded` gives its room."""

    room: Room

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a first question."""
        super().connection_made(transport)
        self.address = self.client[0] if self.client else ""
        self._phase = ""
        self._limit: asyncio.TimerHandle | None = None
        self._came = 0
        self._look()
        self.room.admit(self)

    def data_received(self, data: bytes) -> None:
        """Take what came, and see what we wait for now."""
        self._came += len(data)
        super().data_received(data)
        self._look()

    def on_response_complete(self) -> None:
        """Wait for the next question."""
        super().on_response_complete()
        self._look()

    def connection_lost(self, exc: Exception | None) -> None:
        """Give up the place."""
        self.room.gone(self)
        self._phase = "lost"
        self._no_limit()
        super().connection_lost(exc)

    def end(self) -> None:
        """Close at once, and say nothing."""
        self._no_limit()
        self.transport.abort()

    def _look(self) -> None:
        """Start the time limit of a new phase: a head or a body is to come, or we answer."""
        cycle = self.cycle
        if self._phase == "lost":
            return
        if cycle is None or cycle.response_complete:
            phase = "head"
        else:
            phase = "body" if cycle.more_body else "answer"
        if phase == self._phase:
            return
        self._phase = phase
        self._no_limit()
        self.room.silent.pop(self, None)
        if phase != "answer":
            self.room.silent[self] = None
            self._begin_limit()

    def _begin_limit(self) -> None:
        self._came = 0
        self._limit = self.loop.call_later(self.room.within_s[self._phase], self._at_limit)

    def _at_limit(self) -> None:
        """End it, unless a body comes on, or waits because we have not read on."""
        enough = LEAST_BYTES_PER_S * self.room.within_s[self._phase]
        if self._phase == "body" and (self._came >= enough or self.flow.read_paused):
            self._begin_limit()
        else:
            self.end()

    def _no_limit(self) -> None:
        if self._limit:
            self._limit.cancel()
            self._limit = None


def guarded(in_room: Room) -> type[Guarded]:
    """Return the kind of connection that a server makes, with the room it has for them."""

    class InRoom(Guarded):
        room = in_room

    return InRoom
