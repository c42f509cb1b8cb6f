"""The shape of an operation: one change that one person made to one record."""

from typing import Any

import msgspec


class Operation(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """An operation as the phone wrote it; `hlc` orders it, `device_seq` numbers it.

    `base` names for each field the writes its author saw, `from` the safety words they saw, and
    `seen` every write that a deleter saw. A clear says what its author saw and why caution may
    fall. An answer says who asked.
    """

    op_id: str
    device_seq: int
    hlc: str
    schema: int
    kind: str
    entity_id: str
    by: str
    fields: dict[str, Any] = {}
    base: dict[str, list[str]] = {}
    from_: dict[str, str] = msgspec.field(name="from", default_factory=dict)
    seen: list[str] = []
    saw: str = ""
    why: str = ""
    asked_by: str = ""
