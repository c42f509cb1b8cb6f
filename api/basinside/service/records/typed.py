"""What each field of a record may hold, by the contract's types."""

from functools import cache
from typing import Any, get_args, get_origin, get_type_hints

import msgspec

from ...contract.records import RECORD_FIELDS
from .fields import KINDS


@cache
def type_of_field(kind: str, field: str) -> Any:
    """Return the type that a field's value has; of "answers.pregnant", that of one answer.

    Raises KeyError for a field that the kind does not have.
    """
    name, _, key = field.partition(".")
    shape = RECORD_FIELDS[kind]
    names = {each.encode_name: each.name for each in msgspec.structs.fields(shape)}
    hints = get_type_hints(shape, include_extras=True)
    found = hints[names[name]]
    if KINDS[kind].fields[name] != "each":
        return found
    if not key:
        raise KeyError(field)
    return next(get_args(one)[1] for one in _parts(found) if get_origin(one) is dict)


def _parts(kind: Any) -> list[Any]:
    """Return the types of a union, out of their annotations."""
    found = []
    for one in get_args(kind):
        bare = get_args(one)[0] if hasattr(one, "__metadata__") else one
        found.append(bare)
    return found


def fault_in(kind: str, field: str, value: Any) -> str | None:
    """Return what is wrong with a value as the decoder says it, or None for a right one.

    None as a value takes away what a field held, and is always right.
    """
    if value is None:
        return None
    try:
        msgspec.convert(value, type_of_field(kind, field))
    except KeyError:
        return f"A record of kind {kind} has no field {field}."
    except msgspec.ValidationError as error:
        return str(error)
    return None
