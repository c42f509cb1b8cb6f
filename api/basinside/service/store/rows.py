"""The rows that go into the store and come out, by name."""

from typing import Literal, NamedTuple


class Entry(NamedTuple):
    """An operation about to be logged. `body` is its JSON as it was sent."""

    op_id: str
    device_id: str
    device_seq: int | None
    entity_id: str
    eff: str
    clock_off: bool
    received_at: str
    sha256: bytes
    body: bytes


class Landed(NamedTuple):
    """An operation that is in the log, under its number."""

    op_id: str
    seq: int
    sha256: bytes


class Logged(NamedTuple):
    """One row of the log, to be folded again. `body` is None if it was erased."""

    seq: int
    op_id: str
    entity_id: str
    eff: str
    clock_off: bool
    body: bytes | None


class Position(NamedTuple):
    """A place in the log: how many operations, and the running hash over their ids."""

    seq: int
    chain: bytes


class Kept(NamedTuple):
    """A record as it was last folded.

    `seq` is the number at which it last changed and `at` when it took place (UTC, for sorting).
    `asks` says whether somebody should look at it. `change` is the whole record as JSON.
    """

    entity_id: str
    kind: str
    seq: int
    client: str | None
    service: str | None
    at: str
    gone: bool
    asks: bool
    change: bytes


class Rights(NamedTuple):
    """What a pairing code gives: a token that may only read, and for how many days, or for good."""

    reads_only: bool = False
    days: int | None = None


class Device(NamedTuple):
    """A device as a sender, and what its token allows: `until` is when it ends, or None."""

    device_id: str
    name: str
    paired_at: str
    revoked_at: str | None
    acked_through: int
    last_eff: str
    last_seen_at: str | None
    queued: int
    reads_only: bool = False
    until: str | None = None


class Erasure(NamedTuple):
    """One entry of the ledger of erasures."""

    n: int
    id_sha256: str
    at: str
    sig: str


class Started(NamedTuple):
    """A service that started, and the safety rules' findings on its starts.

    `last_start` is the stamp of its last zone's start. `held_at` is the instant of the first start
    that the rules did not let. `matter` is the matter that makes, and `found` the findings as JSON.
    """

    service: str
    client: str
    last_start: str
    held_at: str | None
    matter: str | None
    found: bytes | None


class Aside(NamedTuple):
    """A row that cannot be read: its kind, its record, its number and its bytes."""

    matter: str
    found_at: str
    what: Literal["record", "operation"]
    entity_id: str
    seq: int
    row: bytes


class NotTaken(NamedTuple):
    """An operation that was refused for good: its id, its record and its receipt."""

    matter: str
    device_id: str
    entity_id: str
    received_at: str
    receipt: bytes


class Photo(NamedTuple):
    """A photo: the SHA-256 of its bytes, its media type, and the bytes."""

    sha256: str
    type: str
    bytes: bytes
