"""Gives a device every change after its cursor: current states, each once, in order."""

from collections.abc import Iterator

import msgspec

from ...contract.sync import ErasedEntry, Pulled
from ..records.instants import instant_text
from ..store.reader import Reader
from ..store.rows import Device, Kept
from ..store.salon import Salon
from ..whole.erasing import hidden
from .cursor import Cursor, checked, cursor_at

MOST_CHANGES = 500
MOST_PAGE_BYTES = 1024 * 1024


def pull(
    salon: Salon, device: Device, cursor: Cursor | None, limit: int, erase_seq: int, now_ms: int
) -> Pulled:
    """Return the changes after a cursor, or from the beginning without one.

    Raises `Refused` (`epoch_changed`) for a cursor of another history.
    """
    with salon.reading() as reading:
        seq = checked(reading, cursor, device.acked_through) if cursor else 0
        records, more = page_of(reading.changed_after(seq, limit + 1), limit)
        end = reading.end()
        place = end
        if more:
            place = reading.position(records[-1].seq) or end
        return Pulled(
            v=1,
            epoch=f"e{reading.epoch()}",
            erased=ledger_after(reading, erase_seq),
            hidden=sorted(hidden(reading)),
            changes=[msgspec.Raw(record.change) for record in records],
            next=str(cursor_at(reading, place)),
            more=more,
            head_seq=end.seq,
            acked_through=device.acked_through,
            server_time=instant_text(now_ms),
        )


def page_of(records: list[Kept], limit: int) -> tuple[list[Kept], bool]:
    """Return as many of the records as one page holds, at least one, and whether some are left."""
    page = list(_within(records[:limit]))
    return page, len(page) < len(records)


def _within(records: list[Kept]) -> Iterator[Kept]:
    left = MOST_PAGE_BYTES
    for place, record in enumerate(records):
        left -= len(record.change)
        if left < 0 and place:
            return
        yield record


def ledger_after(reading: Reader, n: int) -> list[ErasedEntry]:
    """Return the entries of the ledger of erasures after the nth."""
    return [ErasedEntry(*entry) for entry in reading.erasures_after(n)]
