"""The questions that the page had to ask before it started a service's clocks.

Each is asked of the records as they were known at that start, wherever they were written: what came
later counts for nothing, and what another phone had written by then counts although it came late.
"""

from collections.abc import Iterator
from typing import NamedTuple, get_args

import msgspec

from ...contract.safety import Profile
from ...contract.sync import Change
from ..records.fold import State
from ..records.gate.asking import request_of
from ..records.show import show
from ..records.wire import state_kept
from ..store.reading import Reading
from ..store.rows import Kept
from .refold import folded_anew, read_entry

_MOST = 10_000
_PROFILES = get_args(Profile)


class Start(NamedTuple):
    """A zone's first section: the stamp of the write that says so, and the moment it says."""

    stamp: str
    at: str


class Asked(NamedTuple):
    """A service that was started: its starts in order, each with what was to be asked before it.

    A request of None stands for records that no question can be made of.
    """

    service: str
    client: str
    starts: list[tuple[Start, bytes | None]]


def asked_of(reading: Reading, service_id: str) -> Asked | None:
    """Return what was to be asked, or None for a service that was not started by a clock.

    A service whose own record or whose client has not come yet is not asked about: their coming
    is a change that asks again.
    """
    kept = reading.kept([service_id]).get(service_id)
    if kept is None or kept.gone or not kept.client:
        return None
    service = show(state_kept(kept))
    client = reading.kept([kept.client]).get(kept.client)
    if service.incomplete or client is None or show(state_kept(client)).incomplete:
        return None
    zones = reading.where("kind = 'zone' AND service = ? AND gone = 0", [service_id], "seq", _MOST)
    starts = sorted(filter(None, (_start_of(reading, zone) for zone in zones)))
    if not starts:
        return None
    around = [client, *_around(reading, service_id, kept.client)]
    said = service.values.get("profile")
    profile = said if isinstance(said, str) and said in _PROFILES else "other"
    asked = []
    for start in starts:
        states = [as_of(reading, each, start.stamp) for each in around]
        asked.append((start, _request(states, service_id, start.at, profile)))
    return Asked(service_id, kept.client, asked)


def _request(states: list[State | None], service: str, at: str, profile: str) -> bytes | None:
    try:
        request = request_of([state for state in states if state], service, at, profile, "UTC")
        return msgspec.json.encode(request) if request else None
    except (AttributeError, KeyError, TypeError, ValueError):
        # A record may hold anything; the page finds no answer in such a one either, and holds.
        return None


def _around(reading: Reading, service: str, client: str) -> Iterator[Kept]:
    """Yield all records that a review of this client's services reads."""
    for condition, values in (
        ("client = ? AND kind IN ('alert_test', 'history_entry', 'service')", [client]),
        (
            "kind = 'zone' AND service IN"
            " (SELECT entity_id FROM record WHERE kind = 'service' AND client = ?)",
            [client],
        ),
        ("kind = 'decision' AND service = ?", [service]),
        ("kind IN ('line', 'setting')", []),
    ):
        yield from reading.where(condition, values, "seq", _MOST)


def _start_of(reading: Reading, zone: Kept) -> Start | None:
    """Return when a tap first started a zone's clock; a zone that was made with one has no tap."""
    at = show(state_kept(zone)).values.get("first_section_at")
    if not isinstance(at, str):
        return None
    for logged in reading.log_of(zone.entity_id):
        read = read_entry(logged)
        if isinstance(read, Change):
            head = read.fields.get("first_section_at")
            if head and isinstance(head.v, str) and head.op not in {m.op for m in read.created}:
                return Start(head.eff, head.v)
        elif read and read.kind == "zone.set":
            first = read.fields.get("first_section_at")
            if isinstance(first, str):
                return Start(logged.eff, first)
    return None


def as_of(reading: Reading, kept: Kept, stamp: str) -> State | None:
    """Return a record as all that was written before a stamp makes it, or None for nothing."""
    state = state_kept(kept)
    heads = [head for of_field in state.fields.values() for head in of_field.heads]
    if all(write.eff < stamp for write in (*state.created, *heads)):
        return state
    return folded_anew(reading.log_of(kept.entity_id), stamp).state
