"""Shows a record: one value for each field, and the fields that somebody should look at."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import msgspec

from .fields import KINDS, Merge
from .fold import GONE, FieldState, State, Write, merge_of, shown_of
from .typed import Fault, unreadable

_encoder = msgspec.json.Encoder()


class Unread(NamedTuple):
    """The writes of a field that do not show, and what is wrong with the last of them."""

    writes: tuple[Write, ...]
    fault: Fault


@dataclass(frozen=True)
class Shown:
    """A record's values, and the fields that two people wrote apart.

    `heads` holds the fields that somebody should look at. `edited_meanwhile` is set if a deleter
    had not seen the latest write, and `incomplete` while the creation has not come. `unread` holds
    the fields with writes that are not of the contract's type: they are kept, and do not show.
    """

    values: dict[str, Any]
    gone: bool
    heads: dict[str, tuple[Write, ...]] = field(default_factory=dict)
    unread: dict[str, Unread] = field(default_factory=dict)
    incomplete: bool = False
    edited_meanwhile: bool = False


def show(state: State) -> Shown:
    """Return a record as a screen shows it."""
    values: dict[str, Any] = {}
    heads = {}
    unread: dict[str, Unread] = {}
    for name, of_field in state.fields.items():
        if name == GONE:
            continue
        if state.kind in KINDS and name.partition(".")[0] not in KINDS[state.kind].fields:
            continue  # A newer app knows what it is.
        rule = merge_of(state.kind, name)
        standing = of_field.heads
        if found := unread_of(state.kind, name, standing):
            unread[name] = found
            # What guards somebody counts as most careful, and so it shows.
            if rule != "safety":
                standing = tuple(head for head in standing if head not in found.writes)
        shown = shown_of(name, rule, standing)
        if shown and shown.v is not None:
            v = shown.v
            if rule == "safety" and not isinstance(v, str):
                v = _encoder.encode(v).decode()
            _put(values, name, v, in_parts=rule == "each")
        if _asks(rule, standing):
            heads[name] = standing
    deletions = [head for head in state.fields.get(GONE, FieldState()).heads if head.v is not None]
    return Shown(
        values,
        gone=bool(deletions),
        heads=heads,
        unread=unread,
        incomplete=not state.created,
        edited_meanwhile=bool(deletions) and _unseen_by(deletions, state.fields),
    )


def seen_by(deletion: Write) -> list[str]:
    """Return the writes that a deleter had seen."""
    v = deletion.v
    return [op for op in v if isinstance(op, str)] if isinstance(v, list) else []


def unread_of(kind: str, name: str, standing: Sequence[Write]) -> Unread | None:
    """Return the standing writes of a known field that are not of its type, or None."""
    if kind not in KINDS or name.partition(".")[0] not in KINDS[kind].fields:
        return None
    faults = [(head, unreadable(kind, name, head.v)) for head in standing]
    unread = [(head, fault) for head, fault in faults if fault]
    return Unread(tuple(head for head, _ in unread), unread[-1][1]) if unread else None


def _asks(rule: Merge, heads: Sequence[Write]) -> bool:
    """Return whether a person should choose; an ordinary field asks only after a wrong clock."""
    if not any(head.v != heads[0].v for head in heads[1:]):
        return False
    return rule in ("text", "safety") or any(head.clock for head in heads)


def _put(values: dict[str, Any], name: str, v: Any, *, in_parts: bool) -> None:
    """Put "answers.chemo" into the object `answers`, and any other field under its name."""
    whole, dot, key = name.partition(".")
    if in_parts and dot:
        values[whole] = {**values.get(whole, {}), key: v}
    else:
        values[name] = v


def _unseen_by(deletions: Sequence[Write], fields: Mapping[str, FieldState]) -> bool:
    """Return whether a standing write exists that no deleter had seen."""
    seen = {op for deletion in deletions for op in seen_by(deletion)}
    return any(
        head.op not in seen
        for name, of_field in fields.items()
        if name != GONE
        for head in of_field.heads
    )
