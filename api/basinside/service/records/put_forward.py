"""A record as a safety review takes it: as it is shown, and of its fields what the rules read.

The page does the same by the same table (`web/src/gate/put_forward.ts`); the shapes are
`contract/service_reviews.py`'s.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from msgspec import inspect

from ...contract.service_reviews import RecordsOfService
from .fields import KINDS
from .fold import State
from .show import show

Wanted = dict[str, Any]
"""Which fields are taken: each with those taken of it, or True for all there is."""

_STAMP_TIME = 24
_OF_RECORD = ("id", "created_at")


@cache
def wanted_fields() -> dict[str, Wanted]:
    """Return, for each kind that a review reads, which of its fields it takes."""
    kinds: dict[str, Wanted] = _wanted(inspect.type_info(RecordsOfService))
    return {
        kind: {name: of for name, of in fields.items() if name not in _OF_RECORD}
        for kind, fields in kinds.items()
    }


def _wanted(node: inspect.Type) -> Any:
    match node:
        case inspect.Metadata():
            return _wanted(node.type)
        case inspect.UnionType():
            structs = [_wanted(one) for one in node.types]
            return next((one for one in structs if one is not True), True)
        case inspect.ListType():
            return _wanted(node.item_type)
        case inspect.StructType():
            return {field.encode_name: _wanted(field.type) for field in node.fields}
    return True


def records_of_review(states: Iterable[State]) -> dict[str, list[dict[str, Any]]]:
    """Return records by kind as a review takes them; those that are gone, or not read, left out."""
    found: dict[str, list[dict[str, Any]]] = {kind: [] for kind in wanted_fields()}
    for state in states:
        if state.kind in found and (record := put_forward(state)) is not None:
            found[state.kind].append(record)
    return found


def put_forward(state: State) -> dict[str, Any] | None:
    """Return one record as a review takes it, or None for one that is gone."""
    shown = show(state)
    if shown.gone:
        return None
    standing = [write for of_field in state.fields.values() for write in of_field.heads]
    first = state.created[0] if state.created else min(standing, key=lambda w: w.eff, default=None)
    # A decision's own `by` is who took it, so the fields come last.
    values = {"by": first.by if first else "", **shown.values}
    rules = KINDS[state.kind].fields
    taken = {
        name: _answers(values[name]) if rules.get(name) == "each" else _taken(values[name], of)
        for name, of in wanted_fields()[state.kind].items()
        if name in values
    }
    return {"id": state.id, "created_at": first.eff[:_STAMP_TIME] if first else "", **taken}


def _answers(values: Any) -> Any:
    if not isinstance(values, Mapping):
        return values
    return [
        {"fact": fact, **{name: said[name] for name in ("value", "at") if name in said}}
        for fact, said in values.items()
        if isinstance(said, Mapping)
    ]


def _taken(value: Any, wanted: Any) -> Any:
    if isinstance(value, list):
        return [_taken(item, wanted) for item in value]
    if wanted is True or not isinstance(value, Mapping):
        return value
    return {name: _taken(value[name], of) for name, of in wanted.items() if name in value}
