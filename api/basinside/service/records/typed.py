"""What each field of a record may hold, by the contract's types.

The page asks the same of what it has (`web/src/records/typed.ts`), by types written from here.
"""

import re
from functools import cache
from typing import Any, NamedTuple, get_args, get_origin, get_type_hints

import msgspec

from ...contract.records import RECORD_FIELDS
from ...contract.sync import SHA256_PATTERN, UUID_PATTERN
from .fields import KINDS


class Fault(NamedTuple):
    """What is wrong with a value, in a sentence, and the place in it as a JSON Pointer."""

    said: str
    place: str


def is_field(kind: str, field: str) -> bool:
    """Return whether this version knows the field; of "answers.pregnant", whether it has parts."""
    name, dot, _ = field.partition(".")
    rule = KINDS[kind].fields.get(name) if kind in KINDS else None
    return rule is not None and (not dot or rule == "each")


def type_of_field(kind: str, field: str) -> Any:
    """Return the type that a field's value has; of "answers.pregnant", that of one answer.

    Raises KeyError for a field that the kind does not have.
    """
    if not is_field(kind, field):
        raise KeyError(field)
    name, dot, _ = field.partition(".")
    return _types(kind, name)[1 if dot else 0]


@cache
def _types(kind: str, name: str) -> tuple[Any, Any]:
    """Return the type of a whole field and, where its keys are written apart, of one of them."""
    shape = RECORD_FIELDS[kind]
    names = {each.encode_name: each.name for each in msgspec.structs.fields(shape)}
    found = get_type_hints(shape, include_extras=True)[names[name]]
    of_one = (get_args(one) for one in _parts(found) if get_origin(one) is dict)
    return found, next(of_one, (None, None))[1]


def _parts(kind: Any) -> list[Any]:
    """Return the types of a union, out of their annotations."""
    found = []
    for one in get_args(kind):
        bare = get_args(one)[0] if hasattr(one, "__metadata__") else one
        found.append(bare)
    return found


def fault_in(kind: str, field: str, value: Any) -> Fault | None:
    """Return what is wrong with a value, or None for a right one.

    None as a value takes away what a field held, and is always right.
    """
    if value is None:
        return None
    try:
        msgspec.convert(value, type_of_field(kind, field))
    except KeyError:
        return Fault(f"A record of kind {kind} has no field {field}.", "")
    except msgspec.ValidationError as error:
        return _fault(field, str(error))
    return None


def unreadable(kind: str, field: str, value: Any) -> Fault | None:
    """Return why a kept value of a known field does not show, or None for one that does.

    Text where an id belongs names no record, which hurts nobody.
    """
    fault = fault_in(kind, field, value)
    return None if fault and isinstance(value, str) and _is_id(kind, field) else fault


def _is_id(kind: str, field: str) -> bool:
    """Return whether a field holds the id of another record, or a photo's."""
    if not is_field(kind, field):
        return False
    patterns = {
        each.pattern
        for one in get_args(type_of_field(kind, field))
        for each in getattr(one, "__metadata__", ())
        if isinstance(each, msgspec.Meta)
    }
    return not patterns.isdisjoint((UUID_PATTERN, SHA256_PATTERN))


_PATH = re.compile(r" - at `(?:key in )?\$([^`]*)`$")
_STEP = re.compile(r"\.([^.\[]+)|\[(\d+)\]")
_EXPECTED = re.compile(r"Expected `([^`]+)`([^,]*)(?:, got (.*))?$")
_CALLED = {
    "int": "a whole number",
    "float": "a number",
    "str": "text",
    "bool": "true or false",
    "array": "a list",
    "object": "an object",
    "null": "nothing",
}
_BOUNDS = {"of length": "of length", ">=": "from", "<=": "up to", ">": "above", "<": "below"}


def _fault(field: str, complaint: str) -> Fault:
    """Return the decoder's complaint as a sentence, with the place that it names."""
    path = _PATH.search(complaint)
    # Of an object with keys of its own, the decoder does not say which one.
    named = path[1].partition("[...]")[0] if path else ""
    steps = [name or number for name, number in _STEP.findall(named)]
    complaint = _PATH.sub("", complaint)
    spoken = field.replace("_", " ")
    about = " of ".join([*(_spoken(step) for step in reversed(steps)), f'"{spoken}"'])
    place = "".join(f"/{step.replace('~', '~0').replace('/', '~1')}" for step in steps)
    return Fault(f"The {about} {_said(complaint)}.", place)


def _spoken(step: str) -> str:
    return f"entry {int(step) + 1}" if step.isdigit() else step.replace("_", " ")


def _said(complaint: str) -> str:
    if "matching regex" in complaint:
        return "has not the form that the contract gives"
    if expected := _EXPECTED.match(complaint):
        wanted, bound, got = expected.groups()
        called = " or ".join(_CALLED.get(one, one) for one in wanted.split(" | "))
        for sign, words in _BOUNDS.items():
            bound = re.sub(rf"(?<!\S){re.escape(sign)}(?!\S)", words, bound)
        bound = bound.removesuffix(".0")
        came = _CALLED.get((got or "").strip("`"), got)
        return f"must be {called}{bound}" + (f"; got {came}" if came else "")
    told = complaint.replace("`", '"').replace("Object missing required field", "lacks the field")
    told = told.replace("Object contains unknown field", "has the unknown field")
    return told.replace("Invalid enum value", "may not be")
