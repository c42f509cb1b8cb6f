"""Reads operations of older versions as if this version had written them.

No operation is ever refused for its age, so a step stays here for good. `web/src/records/upcast.ts`
has the same steps.
"""

from collections.abc import Callable
from typing import Any

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


def _swatch_as_it_is_asked(op: Operation) -> Operation:
    """Give a swatch its hair, mix and reading: before version 3 it had numbers and no shapes.

    Its grams were not kept; with one product and its usual developer they change no colour.
    """
    if not op.kind.startswith("swatch.") or not op.fields:
        return replace(op, schema=3)
    kept = {name: value for name, value in op.fields.items() if name not in _OLD_SWATCH}
    product, lab, source = (op.fields.get(name) for name in ("product", "lab", "source"))
    level = _within(op.fields.get("level"), 1, _PALEST)
    minutes = _within(op.fields.get("minutes"), 0, _LONGEST_MIN)
    if level is not None:
        kept["hair"] = {"level": level}
    if minutes is not None and minutes == int(minutes) and isinstance(product, str):
        kept["mix"] = {"parts": [{"product": product, "grams": 10}], "minutes": int(minutes)}
    if minutes is not None and isinstance(lab, list) and source in _SOURCES:
        kept["after"] = {"minute": minutes, "where": "dried", "source": source, "lab": lab}
    return replace(op, schema=3, fields=kept)


def _within(value: Any, least: float, most: float) -> float | None:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return value if is_number and least <= value <= most else None


_OLD_SWATCH = ("level", "minutes", "product", "lab", "source")
_SOURCES = ("instrument", "photo", "eye")
_PALEST, _LONGEST_MIN = 10.5, 120
_STEPS: dict[int, Callable[[Operation], Operation]] = {
    1: _name_the_phone,
    2: _swatch_as_it_is_asked,
}
