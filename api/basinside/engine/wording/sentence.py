"""Turns a decoder's complaint into a place and a sentence a person can act on.

The decoder says where, and in its own terms what; the contract's types say what would be
right there. So a sentence is made from the type (bounds, units, description) and the value
that came, and a new field of the contract gets its sentences without a line here.
"""

import re

import msgspec
from msgspec import inspect

from ...contract.problems import Fault
from ..nearest import nearest
from .expectation import Expectation, Step, expectation_at, field_names

_COMPLAINT = re.compile(r"(?P<what>.*?)(?: - at `\$(?P<path>[^`]*)`)?", re.DOTALL)
_STEP = re.compile(r"\.([^.\[\]]+)|\[(\d+)\]")
_FIELD = re.compile(
    r"Object (?P<how>missing required|contains unknown) field `(?P<name>.*)`", re.DOTALL
)
_BYTE = re.compile(r"\(byte (\d+)\)")
_LONGEST_SHOWN = 40
_TOO_DEEP = Fault(
    "", "The JSON is nested too deeply to read. Nest no deeper than the question needs."
)


def fault_of_shape(error: Exception, body: bytes, asked: type) -> Fault:
    """Return the first place where `body` is not an `asked`, and what to do about it.

    `error` is what the decoder raised. A body that is not JSON at all is said to be that,
    whatever else the decoder met on the way there.
    """
    try:
        came = msgspec.json.decode(body)
    except msgspec.ValidationError:
        came = msgspec.UNSET  # JSON may hold a number no float can; its place is in `error`
    except RecursionError:
        return _TOO_DEEP
    except (msgspec.DecodeError, UnicodeDecodeError) as malformed:
        return Fault("", _not_json(str(malformed), body))
    if isinstance(error, RecursionError):
        return _TOO_DEEP
    return _misfit(str(error), came, asked)


def pointer_to(steps: list[Step]) -> str:
    """Return the JSON Pointer (RFC 6901) to a place given as field names and list indices."""
    return "".join("/" + str(step).replace("~", "~0").replace("/", "~1") for step in steps)


def _not_json(malformed: str, body: bytes) -> str:
    if not body.strip():
        return "The body is empty. Send the question as a JSON object."
    try:
        body.decode()
    except UnicodeDecodeError as error:
        return f"The body is not UTF-8: byte {error.start} starts no character. Send JSON in UTF-8."
    if body.startswith(b"\xef\xbb\xbf"):
        return "The body starts with a byte order mark. Send the JSON without it."
    if "truncated" in malformed:
        return f"The JSON stops in the middle, at byte {len(body)}. Send the whole of it."
    found = _BYTE.search(malformed)
    broken_at = int(found[1]) if found else 0
    rest = body[max(broken_at - 1, 0) :]
    if re.match(rb".?(NaN|-?Infinity|nfinity)", rest):
        return (
            f"JSON has no NaN or Infinity (byte {broken_at}). Give a finite number or leave it out."
        )
    if "surrogate" in malformed or "escape" in malformed:
        return f"A \\u escape ends badly at byte {broken_at}. Write the character itself, in UTF-8."
    if "trailing" in malformed:
        return "The JSON ends and more text follows it. Send one object and nothing after it."
    near = body[broken_at : broken_at + 12].decode(errors="replace")
    return f"The JSON breaks at byte {broken_at}, at {near!r}. Check quotes and commas there."


def _misfit(complaint: str, came: object, asked: type) -> Fault:
    """Say what is wrong with JSON that is well formed but not the question's shape."""
    what, steps = _what_and_where(complaint)
    try:
        expected = expectation_at(asked, steps)
        if field := _FIELD.fullmatch(what):
            return _field_fault(field["how"], field["name"], steps, expected, asked)
    except KeyError:  # a field named to look like a place: the sentence is still true
        return Fault("", f"{what}. Remove it.")
    return Fault(pointer_to(steps), _value_sentence(expected, steps, _at(came, steps)))


def _what_and_where(complaint: str) -> tuple[str, list[Step]]:
    if (parts := _COMPLAINT.fullmatch(complaint)) is None:
        return complaint, []
    return parts["what"], [name or int(at) for name, at in _STEP.findall(parts["path"] or "")]


def _field_fault(how: str, name: str, steps: list[Step], place: Expectation, asked: type) -> Fault:
    here = "the body" if not steps else f"{place.subject.lower()}"
    pointer = pointer_to([*steps, name])
    if how == "missing required":
        wanted = expectation_at(asked, [*steps, name])
        return Fault(pointer, f"`{name}` is missing from {here}. Add it: {wanted.right}.")
    known = field_names(place.type)
    near = _nearest(name, known)
    do = f"Did you mean `{near}`?" if near else f"It takes {', '.join(known)}."
    return Fault(pointer, f"There is no field `{_shortened(name)}` in {here}. {do}")


def _value_sentence(expected: Expectation, steps: list[Step], came: object) -> str:
    if _is_peroxide(steps) and isinstance(came, int | float) and came > 12:
        return f"Developer must be at most 12 % peroxide; got {_shown(came)}. {_volume_hint(came)}"
    sentence = f"{expected.subject} must be {expected.right}; got {_shown(came)}."
    return " ".join(filter(None, [sentence, _hint(expected, came)]))


def _volume_hint(percent: float) -> str:
    # The trade's 10, 20, 30, 40 vol are 3, 6, 9, 12 %: common practice, no published source.
    if percent > 40:
        return "40 vol is 12 %, the most the law allows."
    return f"Did you enter the volume? {percent:g} vol is {percent * 3 / 10:g} %."


def _hint(expected: Expectation, came: object) -> str:
    match expected.type, came:
        case ((inspect.FloatType() | inspect.IntType()), str()) if _reads_as_number(came):
            return "Leave out the quotation marks."
        case inspect.LiteralType(), str():
            near = _nearest(came, [str(value) for value in expected.type.values])
            return f"Did you mean {near}?" if near else ""
    return expected.note


def _nearest(came: str, known: list[str]) -> str | None:
    # Cut, since a key may be a megabyte long and the comparison is not linear.
    return nearest(came[:_LONGEST_SHOWN], known)


def _at(came: object, steps: list[Step]) -> object:
    """Return the value at a place, UNSET when it cannot be told."""
    for step in steps:
        match came, step:
            case dict(), str() if step in came:
                came = came[step]
            case list(), int() if step < len(came):
                came = came[step]
            case _:
                return msgspec.UNSET
    return came


def _shown(came: object) -> str:
    match came:
        case msgspec.UnsetType():
            return "a number too large to hold"
        case list():
            return f"a list of {len(came)}"
        case dict():
            return "an object"
    return _shortened(msgspec.json.encode(came).decode())


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"


def _is_peroxide(steps: list[Step]) -> bool:
    return any(
        step in ("percent", "developer_percent", "developers_in_stock") for step in steps[-2:]
    )


def _reads_as_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
