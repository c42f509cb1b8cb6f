"""Builds the questions that the page had to ask before it started a service's clocks.

Each reads the records as they were known at that start, on any phone. Later writes count for
nothing. A write that another phone had made by then counts, although it came late.
"""

from typing import NamedTuple, get_args

import msgspec

from ...contract.safety import Profile
from ...contract.sync import Change
from ..records.fold import State
from ..records.put_forward import records_of_review
from ..records.show import show
from ..records.wire import state_kept
from ..store.reader import Reader
from ..store.rows import Kept
from ..whole.refold import folded_anew, read_entry

_MOST = 10_000
_PROFILES = get_args(Profile)


class Start(NamedTuple):
    """A zone's first section: the stamp of the write that says so, and the moment it says."""

    stamp: str
    at: str


class Asked(NamedTuple):
    """A started service: its starts in order, each with the question that was due before it."""

    service: str
    client: str
    starts: list[tuple[Start, bytes]]


class Starts:
    """Builds the questions before each start, from one view of the records; it reads them once.

    A regular's later services share almost all of what they are asked about.
    """

    def __init__(self, reading: Reader) -> None:
        self._reading = reading
        self._read: dict[str, tuple[State, str]] = {}
        self._of_client: dict[str, list[Kept]] = {}
        self._of_salon: list[Kept] | None = None

    def asked_of(self, service_id: str) -> Asked | None:
        """Return the questions, or None for a service that no clock started.

        A service is left out until its own record and its client's have come. When they come, that
        is a change that asks again. A service or zone that was deleted after its start is asked
        about all the same: the mix was on a head.
        """
        kept = self._reading.kept([service_id]).get(service_id)
        if kept is None or not kept.client:
            return None
        service = show(state_kept(kept))
        client = self._reading.kept([kept.client]).get(kept.client)
        if service.incomplete or client is None or show(state_kept(client)).incomplete:
            return None
        zones = self._where("kind = 'zone' AND service = ?", service_id)
        starts = sorted(filter(None, (_start_of(self._reading, zone) for zone in zones)))
        if not starts:
            return None
        around = [client, *self._around(service_id, kept.client)]
        said = service.values.get("profile")
        profile = said if isinstance(said, str) and said in _PROFILES else "other"
        asked = []
        for start in starts:
            states = [self._as_of(each, start.stamp) for each in around]
            asked.append((start, _request(states, service_id, start.at, profile)))
        return Asked(service_id, kept.client, asked)

    def _where(self, condition: str, *values: object) -> list[Kept]:
        return self._reading.where(condition, values, "seq", _MOST)

    def _around(self, service: str, client: str) -> list[Kept]:
        """Return all records that a review of a client's service reads."""
        if self._of_salon is None:
            self._of_salon = self._where("kind IN ('line', 'setting')")
        if client not in self._of_client:
            services = "SELECT entity_id FROM record WHERE kind = 'service' AND client = ?"
            of_client = "client = ? AND kind IN ('alert_test', 'history_entry', 'service')"
            self._of_client[client] = [
                *self._where(of_client, client),
                *self._where(f"kind = 'zone' AND service IN ({services})", client),
            ]
        decisions = self._where("kind = 'decision' AND service = ?", service)
        return [*self._of_salon, *self._of_client[client], *decisions]

    def _as_of(self, kept: Kept, stamp: str) -> State | None:
        """Return a record from the writes before a stamp, or None if there were none."""
        if kept.entity_id not in self._read:
            state = state_kept(kept)
            heads = [head.eff for of_field in state.fields.values() for head in of_field.heads]
            newest = max([*heads, *(write.eff for write in state.created)], default="")
            self._read[kept.entity_id] = state, newest
        state, newest = self._read[kept.entity_id]
        if newest < stamp:
            return state
        return folded_anew(self._reading.log_of(kept.entity_id), stamp).state


def _request(states: list[State | None], service: str, at: str, profile: str) -> bytes:
    """Return the question about a service, as the page puts it to the rules before a start."""
    return msgspec.json.encode(
        {
            "records": records_of_review(state for state in states if state),
            "service": service,
            "now": at,
            "time_zone": "UTC",
            "profile": profile,
        }
    )


def _start_of(reading: Reader, zone: Kept) -> Start | None:
    """Return when a zone's clock was first started, by a tap or in the zone's own making."""
    at = show(state_kept(zone)).values.get("first_section_at")
    if not isinstance(at, str):
        return None
    for logged in reading.log_of(zone.entity_id):
        read = read_entry(logged)
        if isinstance(read, Change):
            head = read.fields.get("first_section_at")
            if head and isinstance(head.v, str):
                return Start(head.eff, head.v)
        elif read and read.kind in ("zone.set", "zone.create"):
            first = read.fields.get("first_section_at")
            if isinstance(first, str):
                return Start(logged.eff, first)
    return None
