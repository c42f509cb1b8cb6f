"""A clock that never goes back, for stamps that sort as text in the order of writing.

It follows the wall clock while that moves on. It only counts while the wall clock stops or is set
back:

- wall ahead of the last stamp: the wall's time, counter 0;
- wall the same or behind: the last time, counter + 1;
- counter full: the last time + 1 ms, counter 0.

A stamp from elsewhere moves it forward too, so that a write after reading it sorts after it. Hybrid
logical clocks: Kulkarni et al., OPODIS 2014, LNCS 8878. `web/src/outbox/clock.ts` is the same in
TypeScript, and tests/vectors compares the two.
"""

import re
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

_MOST_COUNTED = 0xFFFF
_START = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)
# The last instant whose year has four digits: a longer one would no longer sort as text.
_LATEST_MS = (datetime(9999, 12, 31, 23, 59, 59, 999000, tzinfo=UTC) - _START) // _MILLISECOND
_STAMP = re.compile(r"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)-([0-9a-f]{4})-([0-9a-f-]{36})")


class Clock(NamedTuple):
    """The last stamp's time (ms since 1970, UTC) and its counter."""

    at_ms: int = 0
    counter: int = 0


def tick(last: Clock, wall_ms: int) -> Clock:
    """Return the clock after one more write at the wall's time (ms since 1970, UTC)."""
    wall_ms = min(max(0, wall_ms), _LATEST_MS)
    if wall_ms > last.at_ms:
        return Clock(wall_ms)
    if last.counter < _MOST_COUNTED:
        return Clock(last.at_ms, last.counter + 1)
    return Clock(last.at_ms + 1)


def seen(last: Clock, stamp: str) -> Clock:
    """Return the clock after a stamp from elsewhere was seen: the later of the two."""
    return max(last, read_stamp(stamp)[0])


def stamp_text(clock: Clock, device_id: str) -> str:
    """Return the stamp as text of fixed width: "2026-11-25T10:15:03.120Z-0004-<device>"."""
    at = (_START + clock.at_ms * _MILLISECOND).isoformat(timespec="milliseconds")
    return f"{at.removesuffix('+00:00')}Z-{clock.counter:04x}-{device_id}"


@lru_cache(maxsize=4096)
def read_stamp(stamp: str) -> tuple[Clock, str]:
    """Return the clock and the device in a stamp; raise ValueError if the text is no stamp."""
    found = _STAMP.fullmatch(stamp)
    at = _read_time(found[1]) if found else None
    if not found or at is None:
        raise ValueError(f'A stamp is a time, a counter and a device; got "{stamp}".')
    return Clock((at - _START) // _MILLISECOND, int(found[2], 16)), found[3]


def _read_time(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text)
    except ValueError:  # a thirteenth month
        return None
