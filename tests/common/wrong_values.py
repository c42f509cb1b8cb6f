"""Values of record fields drawn from the contract's types, and the same with one thing wrong."""

import random
from functools import cache
from typing import Any

from msgspec import inspect

from basinside.service.records.fields import KINDS
from basinside.service.records.typed import type_of_field

ID = "0199c0de-0000-7000-8000-00000000{:04x}"
FIELDS = [(kind, field) for kind, shape in KINDS.items() for field in shape.fields]
# No type takes one of these: the shapes that may hold more have two of their own fields wrong.
_JUNK = [[[1], None], [[["x"]]], -1e300, {"parts": "x", "min": "a", "what": 7, "min_hours": "x"}]
_TEXTS = {"T": "2026-11-{:02}T10:15:00+01:00", "[0-9a-f]{8}": ID, "{64}": "{:064x}", "#": "#{:06x}"}


def right_value(rng: random.Random, kind: str, field: str) -> Any:
    """Return a value that the field may hold; a part of it for a field whose keys are apart."""
    return _drawn(rng, _type_of(kind, field))


@cache
def _type_of(kind: str, field: str) -> inspect.Type:
    return inspect.type_info(type_of_field(kind, field))


def _drawn(rng: random.Random, node: inspect.Type) -> Any:
    match node:
        case inspect.Metadata():
            drawn = _drawn(rng, node.type)
        case inspect.UnionType():
            drawn = _drawn(rng, rng.choice(node.types))
        case inspect.LiteralType():
            drawn = rng.choice(node.values)
        case inspect.FloatType() | inspect.IntType():
            drawn = _number(rng, node)
        case inspect.StrType():
            drawn = _text(rng, node)
        case inspect.BoolType():
            drawn = rng.random() < 0.5
        case _:
            drawn = _several(rng, node)
    return drawn


def _several(rng: random.Random, node: inspect.Type) -> Any:
    match node:
        case inspect.ListType():
            return [_drawn(rng, node.item_type) for _ in range(max(node.min_length or 0, 1))]
        case inspect.TupleType():
            return [_drawn(rng, item) for item in node.item_types]
        case inspect.DictType():
            return {"of": _drawn(rng, node.value_type)}
        case inspect.StructType():
            return {
                each.encode_name: _drawn(rng, each.type)
                for each in node.fields
                # A hair holds other hair, which holds other hair.
                if each.required or (each.name != "also" and rng.random() < 0.5)
            }
    return None


def _number(rng: random.Random, node: inspect.FloatType | inspect.IntType) -> float:
    low = (node.ge if node.gt is None else node.gt + 0.01) or 0
    high = min(low + 5, next((x for x in (node.le, node.lt) if x is not None), low + 5))
    drawn = rng.uniform(low, high)
    return int(drawn) if isinstance(node, inspect.IntType) else round(drawn, 3)


def _text(rng: random.Random, node: inspect.StrType) -> str:
    if node.pattern is None:
        return "words " * ((node.min_length or 0) // 6 + 1)
    for part, form in _TEXTS.items():
        if part in node.pattern:
            return form.format(rng.randint(1, 28))
    return "st9vb"


def wrong_value(rng: random.Random, kind: str, field: str) -> Any:
    """Return a value that the field may not hold."""
    return _spoilt(rng, right_value(rng, kind, field))


def _spoilt(rng: random.Random, value: Any) -> Any:
    """Return a value with one part of it, or all of it, wrong."""
    if isinstance(value, dict) and value and rng.random() < 0.7:
        name = rng.choice(sorted(value))
        return value | {name: _spoilt(rng, value[name])}
    if isinstance(value, list) and value and rng.random() < 0.7:
        at = rng.randrange(len(value))
        return [*value[:at], _spoilt(rng, value[at]), *value[at + 1 :]]
    return rng.choice(_JUNK)


def drawn_faults(seed: int) -> tuple[str, str, Any]:
    """Return a kind, a field of it by its name in an operation, and a wrong value."""
    rng = random.Random(seed)
    kind, field = rng.choice(FIELDS)
    if KINDS[kind].fields[field] == "each":
        field = f"{field}.of"
    return kind, field, wrong_value(rng, kind, field)
