"""Backs the salon's records up once a day, beside the calls."""

import asyncio
import logging

from ..sync.refused import Refused
from ..whole.backups import back_up, holds_erased, is_due
from .open_desk import Desk, now_ms

# A desk that just started has calls to answer first.
FIRST_LOOK_AFTER_S = 300.0
_LOOK_EVERY_S = 600.0

_log = logging.getLogger("basinside")


async def keep_backing_up(desk: Desk) -> None:
    """Back up whenever a day went by since the last proven backup, until cancelled.

    It also does once somebody was erased, so that no copy holds them for longer than the time
    between two looks. A try that failed is made again at the next.
    """
    wait_s = FIRST_LOOK_AFTER_S
    while True:
        await asyncio.sleep(wait_s)
        wait_s = _LOOK_EVERY_S
        try:
            due = is_due(desk.backups, now_ms()) or await desk.read(holds_erased, desk.salon)
            if not due:
                continue
            desk.backups = await desk.back_up(back_up, desk.salon, now_ms())
        except Refused:  # damaged, or stopping: the health call keeps what it said
            continue
        except Exception as error:  # noqa: BLE001 - a fault here must not end the backups
            _log.error("The backup failed: %s", type(error).__name__)
        if desk.backups.failed:
            _log.error("%s", desk.backups.failed)
