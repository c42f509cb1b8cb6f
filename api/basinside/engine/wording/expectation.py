"""What the contract expects at a place, in words: "a number from 1 to 10.5"."""

from functools import cache
from typing import NamedTuple

from msgspec import inspect

Step = str | int

# Where a field's name, its underscores opened up, is not what a colourist calls it.
_CALLED = {
    "percent": "Developer",
    "developer_percent": "Developer",
    "id": "Product id",
    "total_g": "Total",
    "step_g": "Step",
    "apply_min": "Time to put it on",
    "hands": "Pairs of hands",
    "basin_minutes": "Time at the basin",
}
_LAB_AXES = ("L*", "a*", "b*")
_UNITS = {
    "percent": "% peroxide",
    "developer_percent": "% peroxide",
    "grams": "g",
    "total_g": "g",
    "step_g": "g",
    "developers_in_stock": "% peroxide",
    "apply_min": "minutes",
    "basin_minutes": "minutes",
    "minutes": "minutes",
    "max_minutes": "minutes",
    "min": "minutes",
    "max": "minutes",
}


class Expectation(NamedTuple):
    """What belongs at one place: what it is called, what would be right, the contract's note."""

    subject: str
    right: str
    note: str
    type: inspect.Type


def expectation_at(asked: type, steps: list[Step]) -> Expectation:
    """Return what `asked` expects at the place `steps` lead to, "" being the whole body.

    Raises KeyError for a place the type does not have.
    """
    node, called, unit = _type_of(asked), "The body", ""
    for step in steps:
        node, _ = _bare(node)
        if isinstance(step, str):
            node = _field(node, step)
            called = _CALLED.get(step, step.replace("_", " ").capitalize())
            unit = _UNITS.get(step, "")
        elif isinstance(node, inspect.ListType):
            node = node.item_type
            if called not in _CALLED.values():
                called = f"Entry {step + 1} of {called.lower()}"
        elif isinstance(node, inspect.TupleType) and step < len(_LAB_AXES):
            node, called = node.item_types[step], _LAB_AXES[step]
        else:
            raise KeyError(step)
    node, note = _bare(node)
    if isinstance(node, inspect.StrType) and node.pattern:
        return Expectation(called, note, "", node)  # a pattern is for machines; its note says it
    return Expectation(called, _right(node, unit), note, node)


def field_names(struct: inspect.Type) -> list[str]:
    """Return the names of an object's fields as JSON spells them; none for other types."""
    return [
        field.encode_name
        for choice in _choices(struct)
        if isinstance(choice, inspect.StructType)
        for field in choice.fields
    ]


@cache
def _type_of(asked: type) -> inspect.Type:
    return inspect.type_info(asked)


def _field(node: inspect.Type, name: str) -> inspect.Type:
    for choice in _choices(node):
        if isinstance(choice, inspect.StructType):
            for field in choice.fields:
                if field.encode_name == name:
                    return field.type
    raise KeyError(name)


def _choices(node: inspect.Type) -> list[inspect.Type]:
    """Return what a union may be, null left out; any other type alone."""
    if not isinstance(node, inspect.UnionType):
        return [node]
    return [_bare(one)[0] for one in node.types if not isinstance(one, inspect.NoneType)]


def _bare(node: inspect.Type) -> tuple[inspect.Type, str]:
    """Return the type without its wrappings, and its description in the contract."""
    note = ""
    while True:
        if isinstance(node, inspect.Metadata):
            note = note or (node.extra_json_schema or {}).get("description", "")
            node = node.type
        elif isinstance(node, inspect.UnionType):
            others = [t for t in node.types if not isinstance(t, inspect.NoneType)]
            if len(others) > 1:
                return node, note
            node = others[0]
        else:
            return node, note


def _right(node: inspect.Type, unit: str) -> str:
    match node:
        case inspect.FloatType() | inspect.IntType():
            kind = "a number" if isinstance(node, inspect.FloatType) else "a whole number"
            return " ".join(filter(None, [kind, _bounds(node), unit]))
        case inspect.StrType():
            return f"text of {_span(node.min_length, node.max_length)} characters"
        case inspect.BoolType():
            return "true or false"
        case inspect.LiteralType():
            return "one of " + ", ".join(str(value) for value in node.values)
        case inspect.ListType():
            return f"a list of {_span(node.min_length, node.max_length)} entries"
        case inspect.TupleType():
            return f"a list of exactly {len(node.item_types)} numbers"
        case inspect.StructType():
            return _object(node)
        case inspect.UnionType():
            return ", or ".join(_right(choice, unit) for choice in reversed(_choices(node)))
    return "something else"


def _object(node: inspect.StructType) -> str:
    needed = ", ".join(field.encode_name for field in node.fields if field.required)
    free = ", ".join(field.encode_name for field in node.fields if not field.required)
    if not needed:
        return f"an object with any of {free}"
    return f"an object with {needed}" + (f", and if wanted {free}" if free else "")


def _bounds(node: inspect.FloatType | inspect.IntType) -> str:
    """Return the bounds in words; lower and upper bounds of the contract may be open below."""
    at_most = "" if node.le is None else f"{node.le:g}"
    if node.ge is not None:
        return f"from {node.ge:g} to {at_most}" if at_most else f"of at least {node.ge:g}"
    above = "" if node.gt is None else f"above {node.gt:g}"
    below = f"below {node.lt:g}" if node.lt is not None else at_most and f"at most {at_most}"
    return " and ".join(filter(None, [above, below]))


def _span(fewest: int | None, most: int | None) -> str:
    if fewest and most:
        return f"{fewest} to {most}"
    if most is not None:
        return f"at most {most}"
    return f"at least {fewest or 0}"
