"""Lists *Needs a look*: everything that a person must settle, of every kind.

One rank comes after the other. Inside a rank the longest waiting comes first, by a key that only
grows. So a matter that opens while pages are fetched comes later, and none is skipped.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec
from msgspec.structs import replace

from ...contract.matters import MOST_STOOD, Apart, Matter, Matters, ShouldHold
from ...contract.sync import RefusedOperation, StandingWrite
from ..records.fields import KINDS
from ..records.fold import GONE, State, Write, merge_of
from ..records.ids import matter_id
from ..records.show import Shown, show
from ..records.wire import state_kept
from ..store.reader import NOT_AMONG, Reader
from ..store.rows import Aside, Kept, NotTaken, Started
from ..store.salon import Salon
from ..sync.refused import misshapen
from ..whole.erasing import hidden_json
from .frozen import starts_of

_ASKS = f"asks = 1 AND {NOT_AMONG.format('entity_id')}"
_receipt = msgspec.json.Decoder(RefusedOperation)
_findings = msgspec.json.Decoder(list[ShouldHold])


class Rank(NamedTuple):
    """One kind of matter: its page after a key, with each one's key, and their count.

    Both leave out matters about hidden records, given as a JSON list.
    """

    page: Callable[[Reader, str, int, str], list[tuple[str, Matter]]]
    in_all: Callable[[Reader, str], int]


def read_matters(salon: Salon, after: str, limit: int) -> Matters:
    """Return one page of the open matters, and how many there are in all; "" is the beginning."""
    rank, _, key = after.partition("~")
    first = int(rank or 0)
    found: list[tuple[str, Matter]] = []
    with salon.reading() as reading:
        unseen = hidden_json(reading)
        for number in range(first, len(RANKS)):
            wanted = limit + 1 - len(found)
            rows = RANKS[number].page(reading, key if number == first else "", wanted, unseen)
            found += [(f"{number}~{at}", matter) for at, matter in rows]
            if len(found) > limit:
                break
        matters = _with_names(reading, [matter for _, matter in found[:limit]])
        count = sum(rank.in_all(reading, unseen) for rank in RANKS)
    return Matters(matters, found[limit - 1][0] if len(found) > limit else None, count)


def _with_names(reading: Reader, matters: list[Matter]) -> list[Matter]:
    clients = reading.kept({matter.client for matter in matters if matter.client})
    names = {id_: show(state_kept(kept)).values.get("name") for id_, kept in clients.items()}
    return [
        replace(matter, client_name=str(names.get(matter.client or "") or "")) for matter in matters
    ]


def _records_that_ask(
    reading: Reader, after: str, most: int, unseen: str
) -> list[tuple[str, Matter]]:
    if after and not after.isdigit():
        raise misshapen(f'`after` must be the `next` of an earlier answer; got "{after[:80]}".')
    rows = reading.where(f"{_ASKS} AND seq > ?", [unseen, int(after or 0)], "seq", most)
    return [(str(kept.seq), _of_record(kept)) for kept in rows]


def _of_record(kept: Kept) -> Matter:
    state = state_kept(kept)
    shown = show(state)
    if shown.unread and not shown.edited_meanwhile:
        return _of_unread(kept, state, shown)
    heads = [head for name in shown.heads for head in shown.heads[name]]
    deletions = [head for head in state.fields[GONE].heads if head.v] if shown.gone else []
    stamps = sorted(head.eff for head in (deletions if shown.edited_meanwhile else heads))
    return Matter(
        id=matter_id("asks", [kept.entity_id, *(head.op for head in [*deletions, *heads])]),
        why="edited_meanwhile" if shown.edited_meanwhile else "apart",
        settle="restore_or_delete" if shown.edited_meanwhile else "choose",
        entity_id=kept.entity_id,
        kind=kept.kind,
        client=kept.client,
        client_name="",
        service=kept.service,
        at=stamps[-1][:24] if stamps else "",
        words=_words(state, shown),
        apart=[
            Apart(name, [_standing(head) for head in shown.heads[name]])
            for name in sorted(shown.heads)
        ],
        findings=[],
    )


def _of_unread(kept: Kept, state: State, shown: Shown) -> Matter:
    writes = [write for name in sorted(shown.unread) for write in shown.unread[name].writes]
    kind = KINDS[state.kind].words if state.kind in KINDS else "record"
    said = " ".join(shown.unread[name].fault.said for name in sorted(shown.unread))
    stood = msgspec.json.encode({name: shown.unread[name].writes[-1].v for name in shown.unread})
    return Matter(
        id=matter_id("unread", [kept.entity_id, *(write.op for write in writes)]),
        why="unreadable",
        settle="write_or_delete",
        entity_id=kept.entity_id,
        kind=kept.kind,
        client=kept.client,
        client_name="",
        service=kept.service,
        at=max(write.eff for write in writes)[:24],
        words=f"Part of a {kind} cannot be read, and does not show. {said}",
        apart=[
            Apart(name, [_standing(write) for write in shown.unread[name].writes])
            for name in sorted(shown.unread)
        ],
        findings=[],
        stood=stood.decode()[:MOST_STOOD],
    )


def _words(state: State, shown: Shown) -> str:
    kind = KINDS[state.kind].words if state.kind in KINDS else "record"
    if shown.edited_meanwhile:
        return f"Someone deleted this {kind} without seeing its last change."
    names = " and ".join(sorted(name.replace("_", " ") for name in shown.heads))
    if any(merge_of(state.kind, name) == "safety" for name in shown.heads):
        return f"Two people wrote different {names}. The most cautious counts until you decide."
    return f"Two people wrote the {names} of this {kind} without seeing each other's."


def _standing(head: Write) -> StandingWrite:
    return StandingWrite(head.v, head.op, head.eff, head.by, head.clock)


def _services_held(reading: Reader, after: str, most: int, unseen: str) -> list[tuple[str, Matter]]:
    held_at, _, service = after.rpartition("_")
    rows = reading.held(held_at, service, most, unseen)
    starts = starts_of(reading, [each.service for each in rows])
    return [
        (f"{each.held_at}_{each.service}", _of_held(each, starts.get(each.service, [])))
        for each in rows
    ]


def _of_held(started: Started, starts: list[dict[str, Any]]) -> Matter:
    findings = _findings.decode(started.found or b"[]")
    return Matter(
        id=started.matter or "",
        why="held",
        settle="close",
        entity_id=started.service,
        kind="service",
        client=started.client,
        client_name="",
        service=started.service,
        at=started.held_at or "",
        words="Somebody started a clock while the safety rules held the service, by everything"
        " written down by then.",
        apart=[],
        findings=findings,
        starts=starts,
    )


def _rows_aside(reading: Reader, after: str, most: int, unseen: str) -> list[tuple[str, Matter]]:
    return [(each.matter, _of_aside(each)) for each in reading.aside(after, most, unseen)]


def _of_aside(aside: Aside) -> Matter:
    words = {
        "record": "A record's row was damaged. The desk set it aside and made the record again"
        " from its operations.",
        "operation": "The desk cannot read an operation any more and set it aside. A backup may"
        " hold it.",
    }
    return Matter(
        id=aside.matter,
        why="unreadable",
        settle="close",
        entity_id=aside.entity_id,
        kind="",
        client=None,
        client_name="",
        service=None,
        at=aside.found_at,
        words=f"{words[aside.what]} Its number is {aside.seq}.",
        apart=[],
        findings=[],
        stood=aside.row.decode(errors="replace")[:MOST_STOOD],
    )


def _operations_refused(
    reading: Reader, after: str, most: int, unseen: str
) -> list[tuple[str, Matter]]:
    rows = reading.refused(after, most, unseen)
    return [(each.matter, _of_refused(reading, each)) for each in rows]


def _of_refused(reading: Reader, each: NotTaken) -> Matter:
    receipt = _receipt.decode(each.receipt)
    device = reading.device(each.device_id)
    record = reading.kept([each.entity_id]).get(each.entity_id)
    return Matter(
        id=each.matter,
        why="refused",
        settle="close",
        entity_id=each.entity_id,
        kind=record.kind if record else "",
        client=record.client if record else None,
        client_name="",
        service=record.service if record else None,
        at=each.received_at,
        words=f"The desk refused an entry from {device.name if device else 'a device'}."
        f" {receipt.message} Its number there is {receipt.device_seq}, the place"
        f' "{receipt.pointer}", the reason {receipt.code}.',
        apart=[],
        findings=[],
    )


# A start that may have hurt somebody comes first.
RANKS = (
    Rank(_services_held, Reader.count_held),
    Rank(_records_that_ask, lambda reading, unseen: reading.count(_ASKS, [unseen])),
    Rank(_rows_aside, Reader.count_aside),
    Rank(_operations_refused, Reader.count_refused),
)
