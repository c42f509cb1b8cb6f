"""Gives another program the records of one kind, as a screen shows them, a page at a time.

Pages follow the order of the last change. A record that changes while pages are fetched comes again
later, and none is skipped. So the same call serves a first reading and every later one. A client to
be erased is left out at once. If the erasure is cancelled, they come as a change.
"""

from typing import Any, NamedTuple, get_args

import msgspec

from ...contract.export import ReadKind, ReadRecord, Records
from ...contract.products import Product, PromisedOn, Shelf
from ..records.show import show
from ..records.wire import state_kept
from ..store.reader import NOT_AMONG, Reader
from ..store.rows import Device, Kept
from ..store.salon import Salon
from ..sync.cursor import Cursor, checked, cursor_at
from ..sync.pull import page_of
from ..whole.erasing import hidden_json
from .frozen import starts_of

# The most products that a calculation takes.
_MOST_PRODUCTS = 500
_OF_LINE = ("mix_ratio", "developer_percent", "window", "consistency", "may_mix_with")
_OF_PRODUCT = ("name", "level", "tone", "dyes", "price_per_100g")


class Wanted(NamedTuple):
    """Which records of a kind to give; None or "" narrows nothing."""

    kind: ReadKind
    after: Cursor | None
    limit: int
    client: str = ""
    day: str = ""
    typed: str = ""


def read_records(salon: Salon, device: Device, wanted: Wanted) -> Records:
    """Return one page; raise `Refused` (`epoch_changed`) for a place in another history."""
    with salon.reading() as reading:
        seq = checked(reading, wanted.after, device.acked_through) if wanted.after else 0
        conditions = ["kind = ?", "seq > ?", NOT_AMONG.format("entity_id")]
        values: list[object] = [wanted.kind, seq, hidden_json(reading)]
        if wanted.client:
            conditions.append("client = ?")
            values.append(wanted.client)
        if wanted.day:
            conditions.append("at >= ? AND at < ?")
            values += [wanted.day, f"{wanted.day}~"]
        if wanted.typed:
            condition, asked = reading.holding(wanted.typed, wanted.kind)
            conditions.append(condition)
            values += asked
        rows = reading.where(" AND ".join(conditions), values, "seq", wanted.limit + 1)
        page, more = page_of(rows, wanted.limit)
        end = reading.end()
        place = (reading.position(page[-1].seq) or end) if more else end
        services = [each.entity_id for each in page if each.kind == "service"]
        starts = starts_of(reading, services) if services else {}
        records = [_record(each, starts.get(each.entity_id, [])) for each in page]
        return Records(records, str(cursor_at(reading, place)), more)


def _record(kept: Kept, starts: list[dict[str, Any]]) -> ReadRecord:
    shown = show(state_kept(kept))
    return ReadRecord(
        id=kept.entity_id,
        kind=kept.kind,  # type: ignore[arg-type]
        client=kept.client,
        service=kept.service,
        at=kept.at,
        seq=kept.seq,
        gone=bool(kept.gone),
        complete=not shown.incomplete,
        values=shown.values,
        apart=sorted(shown.heads),
        starts=starts,
    )


def read_shelf(salon: Salon) -> Shelf:
    """Return the salon's own products, ready for a calculation; incomplete ones are left out.

    By their line and name; at most 500, the most that a calculation takes.
    """
    with salon.reading() as reading:
        lines = {line.entity_id: show(state_kept(line)).values for line in _of(reading, "line")}
        products = []
        for kept in _of(reading, "product"):
            own = show(state_kept(kept)).values
            line = lines.get(str(own.get("line")))
            if line is None or own.get("in_stock") is False:
                continue
            described = {"id": kept.entity_id, "line": line.get("name"), "class": line.get("class")}
            described |= {name: line[name] for name in _OF_LINE if name in line}
            if line.get("promised_on") in get_args(PromisedOn):
                described["promised_on"] = line["promised_on"]
            described |= {name: own[name] for name in _OF_PRODUCT if name in own}
            try:
                products.append(msgspec.convert(described, Product))
            except msgspec.ValidationError:
                continue
    products.sort(key=lambda each: (each.line, each.name, each.id))
    return Shelf(products[:_MOST_PRODUCTS])


def _of(reading: Reader, kind: str) -> list[Kept]:
    return reading.where("kind = ? AND gone = 0", [kind], "entity_id", 10 * _MOST_PRODUCTS)
