"""Reads operations of older versions as if this version had written them.

No operation is ever refused for its age, so a step stays here for good. `web/src/records/upcast.ts`
has the same steps.
"""

from collections.abc import Callable

from msgspec.structs import replace

from .operation import Operation


def upcast(op: Operation) -> Operation:
    """Return an operation as this version writes it; one of a newer version stays as it is."""
    while step := _STEPS.get(op.schema):
        op = step(op)
    return op


def _name_the_phone(op: Operation) -> Operation:
    """Name the phone as the author if nobody was chosen: before version 2 nobody was named."""
    by = op.by or op.hlc[-36:]
    asked_by = by if op.kind == "safety.answer" and not op.asked_by else op.asked_by
    return replace(op, schema=2, by=by, asked_by=asked_by)


_STEPS: dict[int, Callable[[Operation], Operation]] = {1: _name_the_phone}
