"""Writes a record's whole state, to send and to store, so that both ends can fold on."""

from datetime import UTC, datetime
from typing import Any

import msgspec

from ...contract.sync import Change, Made, StandingWrite
from ..store.rows import Kept
from .fold import GONE, FieldState, State, Write
from .show import show, unread_of

_change = msgspec.json.Decoder(Change)
_encoder = msgspec.json.Encoder()
# The field that says when a record took place: the first of these that it has.
_WHEN = ("planned_at", "at", "applied_at", "opened_at")


def change_of(state: State, seq: int) -> Change:
    """Return a record's state to send, under the number at which it last changed."""
    fields: dict[str, StandingWrite] = {}
    heads: dict[str, list[StandingWrite]] = {}
    covered: dict[str, dict[str, int]] = {}
    for name, of_field in state.fields.items():
        standing = [_standing(head) for head in of_field.heads]
        if len(standing) == 1:
            fields[name] = standing[0]
        elif standing:
            heads[name] = standing
        if of_field.covered:
            covered[name] = of_field.covered
    made = [Made(write.op, write.eff, write.by) for write in state.created]
    return Change(state.id, state.kind, seq, is_gone(state), fields, heads, made, covered)


def state_of(change: Change) -> State:
    """Return the state that a change carries: the inverse of `change_of`."""
    fields: dict[str, FieldState] = {}
    for name in {**change.fields, **change.heads, **change.covered}:
        standing = change.heads.get(name) or [
            head for head in (change.fields.get(name),) if head is not None
        ]
        heads = tuple(Write(head.op, head.v, head.eff, head.by, head.clock) for head in standing)
        fields[name] = FieldState(heads, change.covered.get(name, {}))
    created = tuple(Write(made.op, None, made.eff, made.by) for made in change.created)
    return State(change.entity_id, change.kind, created, fields)


def state_kept(kept: Kept) -> State:
    """Return a record's stored state."""
    return state_of(_change.decode(kept.change))


def kept_of(state: State, seq: int) -> Kept:
    """Return a record to store, under the number at which it last changed."""
    return Kept(
        entity_id=state.id,
        kind=state.kind,
        seq=seq,
        client=state.id if state.kind == "client" else _id_in(state, "client"),
        service=state.id if state.kind == "service" else _id_in(state, "service"),
        at=_when(state),
        gone=is_gone(state),
        asks=_asks(state),
        change=_encoder.encode(change_of(state, seq)),
    )


def is_gone(state: State) -> bool:
    """Return whether the record is deleted now."""
    of_field = state.fields.get(GONE)
    return of_field is not None and any(head.v is not None for head in of_field.heads)


def _standing(head: Write) -> StandingWrite:
    return StandingWrite(head.v, head.op, head.eff, head.by, head.clock)


def _value(state: State, name: str) -> Any:
    of_field = state.fields.get(name)
    return of_field.heads[-1].v if of_field and of_field.heads else None


def _id_in(state: State, name: str) -> str | None:
    v = _value(state, name) if name in state.fields else None
    return v if isinstance(v, str) else None


def _when(state: State) -> str:
    """Return when it took place, else when it was made: UTC to the second, for sorting."""
    for name in _WHEN:
        if name in state.fields and isinstance(v := _value(state, name), str):
            try:
                at = datetime.fromisoformat(v)
                utc = at.astimezone(UTC)
            except (ValueError, OverflowError):
                continue
            if at.tzinfo:
                return utc.isoformat(timespec="seconds")[:19] + "Z"
    first = state.created or tuple(
        head for of_field in state.fields.values() for head in of_field.heads
    )
    return min(write.eff for write in first)[:19] + "Z" if first else ""


def _asks(state: State) -> bool:
    """Return whether somebody should look at it; most records have one write a field and do not."""
    fields = state.fields
    plain = all(
        len(of_field.heads) < 2
        and (name == GONE or not unread_of(state.kind, name, of_field.heads))
        for name, of_field in fields.items()
    )
    if plain and not is_gone(state):
        return False
    shown = show(state)
    return (bool(shown.heads or shown.unread) and not shown.gone) or shown.edited_meanwhile
