"""Checks that every device can fold and show an operation, now and later."""

from typing import Any, NamedTuple

from .fields import KINDS
from .fold import (
    CAUTION_NEEDS_DECISION,
    FIELD_INVALID,
    GONE,
    merge_of,
    parts_of,
    refusal_of,
)
from .operation import Operation
from .typed import Fault, fault_in, is_field

_VERBS = ("create", "set", "gone", "restore")
_SAFETY_KINDS = ("safety.clear", "safety.answer")


class Unsound(NamedTuple):
    """Why an operation is refused: its code, a sentence, and the place in it."""

    code: str
    message: str
    pointer: str


def kind_is_known(op: Operation) -> bool:
    """Return whether this version knows the operation's verb and its kind."""
    of, verb = parts_of(op)
    return of in KINDS and (verb in _VERBS or op.kind in _SAFETY_KINDS)


def unsound(op: Operation) -> Unsound | None:
    """Return why an operation of a known kind is refused, or None.

    It looks only at the operation, so that the order of arrival decides nothing.
    """
    of, verb = parts_of(op)
    for name, v in op.fields.items():
        rule = merge_of(of, name)
        if (fault := _unfit(of, name, v)) is not None:
            place = f"/fields/{_escaped(name)}{fault.place}"
            return Unsound(FIELD_INVALID, f"{fault.said} Put it right, and send it again.", place)
        if rule == "safety" and not isinstance(op.from_.get(name), str | None):
            said = "`from` must be the word the author saw. Send it as text."
            return Unsound(FIELD_INVALID, said, f"/from/{_escaped(name)}")
        if rule == "fixed" and verb != "create":
            said = f"The {_spoken(name)} of a {KINDS[of].words} is set once, when it is made."
            return Unsound(FIELD_INVALID, f"{said} Make a new one.", f"/fields/{_escaped(name)}")
    match refusal_of(op):
        case None:
            return None
        case code if code == CAUTION_NEEDS_DECISION:
            said = (
                "This makes a safety fact less cautious, which takes a decision. Say what you saw"
                " and why it may be cleared."
            )
            return Unsound(code, said, "/fields")
        case code:
            return Unsound(code, "This field cannot change like that. Look at it again.", "/fields")


def _unfit(of: str, name: str, v: Any) -> Fault | None:
    """Return what is wrong with a field; one that only a newer app knows is kept, and not shown."""
    base, dot, _ = name.partition(".")
    if base == GONE:
        return Fault("`gone` comes from a deletion and is no field. Send a deletion.", "")
    if base not in KINDS[of].fields:
        return None
    if dot and not is_field(of, name):
        return Fault(f"The {_spoken(base)} of a {KINDS[of].words} has no parts.", "")
    return fault_in(of, name, v)


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _escaped(name: str) -> str:
    """Return a name as one step of a JSON Pointer (RFC 6901)."""
    return name.replace("~", "~0").replace("/", "~1")
