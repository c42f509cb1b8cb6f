"""Shows a record: one value for each field, and the fields that somebody should look at."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from .fields import Merge
from .fold import GONE, FieldState, State, Write, merge_of, shown_of


@dataclass(frozen=True)
class Shown:
    """A record's values, and the fields that two people wrote apart.

    `heads` holds the fields that somebody should look at. `edited_meanwhile` is set if a deleter
    had not seen the latest write, and `incomplete` while the creation has not come.
    """

    values: dict[str, Any]
    gone: bool
    heads: dict[str, tuple[Write, ...]] = field(default_factory=dict)
    incomplete: bool = False
    edited_meanwhile: bool = False


def show(state: State) -> Shown:
    """Return a record as a screen shows it."""
    values: dict[str, Any] = {}
    heads = {}
    for name, of_field in state.fields.items():
        if name == GONE:
            continue
        rule = merge_of(state.kind, name)
        shown = shown_of(name, rule, of_field.heads)
        if shown and shown.v is not None:
            _put(values, name, shown.v, in_parts=rule == "each")
        if _asks(rule, of_field.heads):
            heads[name] = of_field.heads
    deletions = [head for head in state.fields.get(GONE, FieldState()).heads if head.v is not None]
    return Shown(
        values,
        gone=bool(deletions),
        heads=heads,
        incomplete=not state.created,
        edited_meanwhile=bool(deletions) and _unseen_by(deletions, state.fields),
    )


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
    seen = {op for deletion in deletions for op in deletion.v}
    return any(
        head.op not in seen
        for name, of_field in fields.items()
        if name != GONE
        for head in of_field.heads
    )
