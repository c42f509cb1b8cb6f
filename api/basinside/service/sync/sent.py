"""One operation as it was sent, and the hash that tells it from another with the same id."""

import hashlib
from typing import Any, NamedTuple

import msgspec

from ...contract.sync import Operation
from ..records.operation import Operation as Folded
from ..records.upcast import upcast
from .refused import misshapen

_operation = msgspec.json.Decoder(Operation)
_folded = msgspec.json.Decoder(Folded)
_any = msgspec.json.Decoder()
_deterministic = msgspec.json.Encoder(order="deterministic")
_SENT_UNDER = ("device_seq", "orig")


class Sent(NamedTuple):
    """An operation as sent, the same decoded, and the SHA-256 of its content."""

    raw: bytes
    op: Operation
    folded: Folded
    sha256: bytes


def read_operation(raw: msgspec.Raw | bytes, called: str, pointer: str) -> Sent:
    """Return one operation; raise `Refused` (400) if it cannot be read."""
    try:
        op, folded = _operation.decode(raw), upcast(_folded.decode(raw))
        canonical = _deterministic.encode(_what_was_done(_any.decode(raw)))
    except (msgspec.DecodeError, RecursionError) as error:
        said = f"{called} cannot be read: {error}. Send it again as it was made."
        raise misshapen(said, pointer) from None
    return Sent(bytes(raw), op, folded, hashlib.sha256(canonical).digest())


def _what_was_done(operation: dict[str, Any]) -> dict[str, Any]:
    """Return an operation without its number, which changes with the sender."""
    # Copied phones and imported files send operations on, under numbers of their own.
    for name in _SENT_UNDER:
        operation.pop(name, None)
    return operation
