"""The records behind a safety review: those of one client, and the salon's own."""

import uuid
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from ..fold import State
from ..show import show

Entity = Mapping[str, Any]
"""A record's values as a screen shows them, with `id`, `kind`, `created_at` and the author `by`."""

_STAMP_TIME = 24
_SETTINGS = uuid.UUID("6f2f3b0e-1f0a-5c59-9d0a-3c1a5f9f7c11")


def entity_of(state: State) -> Entity | None:
    """Return a record as the page's `Entity`, or None if it is deleted."""
    shown = show(state)
    if shown.gone:
        return None
    heads = [head for of_field in state.fields.values() for head in of_field.heads]
    first = state.created[0] if state.created else min(heads, key=lambda h: h.eff, default=None)
    return {
        # A decision's own `by` names the person who took it, so the fields come last.
        "by": first.by if first else "",
        **shown.values,
        "id": state.id,
        "kind": state.kind,
        "created_at": first.eff[:_STAMP_TIME] if first else "",
    }


class Book:
    """Records by kind, each in the order they were made, and by id."""

    def __init__(self, states: Iterable[State]) -> None:
        self._by_kind: dict[str, list[Entity]] = {}
        self._by_id: dict[tuple[str, str], Entity] = {}
        for entity in filter(None, map(entity_of, states)):
            self._by_kind.setdefault(entity["kind"], []).append(entity)
            self._by_id[entity["kind"], entity["id"]] = entity
        for listed in self._by_kind.values():
            listed.sort(key=lambda entity: (entity["created_at"], entity["id"]))

    def all(self, kind: str) -> list[Entity]:
        """Return every record of a kind that is not deleted, in the order they were made."""
        return self._by_kind.get(kind, [])

    def one(self, kind: str, record_id: str | None) -> Entity | None:
        """Return one record, or None if it is not here or deleted."""
        return self._by_id.get((kind, record_id or ""))

    def setting(self, key: str) -> Any:
        """Return the value of a setting of the salon, or None."""
        return (self.one("setting", setting_id(key)) or {}).get("value")


def setting_id(key: str) -> str:
    """Return the id of a setting's record, the same on every device."""
    return str(uuid.uuid5(_SETTINGS, key))


def answer_in(said: Any) -> Any:
    """Return the value of a stored answer, or None if there is none."""
    return said.get("value") if isinstance(said, Mapping) else None


def ms_of(moment: Any) -> float | None:
    """Return a moment's ms since 1970, or None if the value is no moment."""
    try:
        at = datetime.fromisoformat(moment)
    except (TypeError, ValueError):
        return None
    return at.timestamp() * 1000 if at.tzinfo else None


def said(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values that say something: drop None and empty text."""
    return {name: value for name, value in values.items() if value is not None and value != ""}
