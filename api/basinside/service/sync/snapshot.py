"""Gives everything to a device that has nothing yet, today's records first.

The first page fixes the place in the log. A record that changes while pages are fetched has a
greater number, so it comes again with the pull after the last page.
"""

from datetime import UTC, datetime, timedelta

import msgspec

from ...contract.sync import Page
from ..records.instants import instant_text
from ..store.reader import Reader
from ..store.rows import Device, Kept
from ..store.salon import Salon
from .cursor import Cursor, checked, cursor_at, read_cursor
from .pull import ledger_after, page_of
from .refused import misshapen

_FIRST = "('line', 'product', 'tube', 'setting', 'person', 'device')"
_EVERYONE = "('client', 'alert_test')"
_OLDEST_RANK = 4
# After every instant, in the order of the later ranks: newest first.
_BEFORE_ALL = "~"


def snapshot(
    salon: Salon, device: Device, bookmark: str | None, limit: int, erase_seq: int, now_ms: int
) -> Page:
    """Return one page of everything; without a bookmark, the first.

    Raises `Refused` (`epoch_changed`) for a bookmark of another history.
    """
    with salon.reading() as reading:
        if bookmark:
            cursor, rank, after = _read(bookmark)
            checked(reading, cursor, device.acked_through)
        else:
            cursor, rank, after = cursor_at(reading, reading.end()), 0, ""
        records: list[Kept] = []
        more = False
        while True:
            found = _of_rank(reading, rank, after, limit + 1, now_ms)
            records, more = page_of(found, limit)
            if records or rank == _OLDEST_RANK:
                break
            rank, after = rank + 1, ""
        if more:
            following: str | None = f"{cursor}~{rank}~{_key(rank, records[-1])}"
        else:
            following = f"{cursor}~{rank + 1}~" if rank < _OLDEST_RANK else None
        return Page(
            v=1,
            epoch=f"e{reading.epoch()}",
            erased=ledger_after(reading, erase_seq),
            changes=[msgspec.Raw(record.change) for record in records],
            rank=rank,
            cursor=str(cursor),
            next=following,
            left=_left(reading, rank, _key(rank, records[-1]) if records else "", now_ms),
            acked_through=device.acked_through,
            server_time=instant_text(now_ms),
        )


def _read(bookmark: str) -> tuple[Cursor, int, str]:
    try:
        cursor, rank, after = bookmark.split("~", 2)
        return read_cursor(cursor), int(rank), after
    except ValueError:
        raise misshapen(f'"{bookmark}" is no bookmark. Begin without one.', "/after") from None


def _key(rank: int, record: Kept) -> str:
    return record.entity_id if rank <= 2 else f"{record.at}.{record.entity_id}"


def _condition(rank: int, now_ms: int) -> tuple[str, list[object]]:
    """Return the condition of a rank; a record may be in two, and is then sent twice.

    Rank 1 holds the services of yesterday, today and tomorrow: the salon's day begins at another
    moment in each time zone.
    """
    today = datetime.fromtimestamp(now_ms / 1000, UTC).date()
    days = [str(today - timedelta(days=1)), str(today + timedelta(days=2))]
    year_ago = str(today - timedelta(days=365))
    match rank:
        case 0:
            return f"kind IN {_FIRST}", []
        case 1:
            about = "SELECT {} FROM record WHERE kind = 'service' AND at >= ? AND at < ?"
            return (
                f"(service IN ({about.format('service')})"
                f" OR entity_id IN ({about.format('client')}))",
                [*days, *days],
            )
        case 2:
            return f"kind IN {_EVERYONE}", []
    sign = ">=" if rank == 3 else "<"
    return f"kind NOT IN {_FIRST} AND kind NOT IN {_EVERYONE} AND at {sign} ?", [year_ago]


def _of_rank(reading: Reader, rank: int, after: str, most: int, now_ms: int) -> list[Kept]:
    condition, values = _condition(rank, now_ms)
    if rank <= 2:
        return reading.where(f"{condition} AND entity_id > ?", [*values, after], "entity_id", most)
    at, _, entity_id = after.rpartition(".") if after else (_BEFORE_ALL, "", "")
    return reading.where(
        f"{condition} AND (at, entity_id) < (?, ?)",
        [*values, at, entity_id],
        "at DESC, entity_id DESC",
        most,
    )


def _left(reading: Reader, rank: int, after: str, now_ms: int) -> int:
    """Return how many records the later pages hold, those of today counted once."""
    left = 0
    for later in range(rank, _OLDEST_RANK + 1):
        condition, values = _condition(later, now_ms)
        if later > rank or not after:
            left += reading.count(condition, values) if later != 1 else 0
        elif later <= 2:
            left += reading.count(f"{condition} AND entity_id > ?", [*values, after])
        else:
            at, _, entity_id = after.rpartition(".")
            left += reading.count(
                f"{condition} AND (at, entity_id) < (?, ?)", [*values, at, entity_id]
            )
    return left
