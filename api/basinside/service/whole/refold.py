"""Makes a record again from the log: all of it, or the writes before a stamp."""

from collections.abc import Iterable
from typing import NamedTuple

import msgspec

from ...contract.sync import Change
from ..records.fold import FieldState, State, fold, join
from ..records.operation import Operation
from ..records.upcast import upcast
from ..records.wire import state_of
from ..store.rows import Logged

# Comes before the log's own order: every stamp is greater.
_EVER = "~"
SET_ASIDE = "set_aside"


class _Rescued(msgspec.Struct):
    rescued: Change


_rescued = msgspec.json.Decoder(_Rescued)
_operation = msgspec.json.Decoder(Operation)


class Folded(NamedTuple):
    """A record, or None if nothing made one, and the entries that could not be read."""

    state: State | None
    unreadable: list[Logged]


def folded_anew(log: Iterable[Logged], before: str = _EVER) -> Folded:
    """Return a record as its log makes it; unreadable entries are left out and named."""
    state: State | None = None
    unreadable = []
    for logged in log:
        read = read_entry(logged)
        if read is None and logged.body is not None:
            unreadable.append(logged)
        elif isinstance(read, Change):
            came = _written_before(state_of(read), before)
            state = join(state, came) if state and came else state or came
        elif read and read.kind != SET_ASIDE and logged.eff < before:
            state = fold(state, read, logged.eff, "off" if logged.clock_off else None)
    return Folded(state, unreadable)


def read_entry(logged: Logged) -> Operation | Change | None:
    """Return an entry of the log, or None if it was erased or cannot be read."""
    if logged.body is None:
        return None
    try:
        if logged.body.startswith(b'{"rescued"'):
            return _rescued.decode(logged.body).rescued
        return upcast(_operation.decode(logged.body))
    except (msgspec.DecodeError, UnicodeDecodeError):
        return None


def _written_before(state: State, stamp: str) -> State | None:
    """Return a handed-back record without its later writes."""
    created = tuple(write for write in state.created if write.eff < stamp)
    fields = {}
    for name, of_field in state.fields.items():
        if heads := tuple(head for head in of_field.heads if head.eff < stamp):
            fields[name] = FieldState(heads, of_field.covered)
    return State(state.id, state.kind, created, fields) if created or fields else None
