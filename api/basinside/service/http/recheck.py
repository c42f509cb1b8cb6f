"""Has the safety rules check started services again, in the engine's thread, as records come."""

import asyncio
import logging

from litestar.exceptions import HTTPException

from ...engine.door import answer
from ..desk.recheck import Reviewed, in_turns, keep, look_again, next_piece
from ..store.rows import Started
from ..sync.refused import Refused
from .open_desk import Desk

EVERY_S = 1.0
# The desk itself, beside the addresses of those who ask.
_OWN = ""

_log = logging.getLogger("basinside")


async def keep_looking_again(desk: Desk) -> None:
    """Check what has come in, each second, until cancelled.

    The log says how far it was checked, so a piece that fails is checked again.
    """
    while True:
        await asyncio.sleep(EVERY_S)
        try:
            await _look_at_all(desk)
        except (Refused, HTTPException):  # no room, held by another process, or stopping
            continue
        except Exception as error:  # noqa: BLE001 - what it looks at must not end the looking
            _log.error("Checking started services again: %s", type(error).__name__)


async def _look_at_all(desk: Desk) -> None:
    while piece := await desk.read(next_piece, desk.salon):
        started: list[Started] = []
        for turn in in_turns(piece.asked):
            started += await desk.lanes.safety.work_out(_OWN, look_again, turn, _reviewed)
        await desk.write(keep, desk.salon, piece, started)


def _reviewed(request: bytes) -> Reviewed:
    reply = answer("safety/services", request)
    return reply.status, reply.body
