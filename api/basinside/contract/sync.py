"""What goes between a device and the salon's server: operations, receipts, changes.

Envelopes and answers are closed like every shape of the contract. An operation is open: a newer
app may say more than this server knows, and what it says is kept as the bytes it came in.
"""

from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from .base import Shape
from .problems import Fault

MOST_OPS = 500
MOST_BYTES = 2 * 1024 * 1024
"""The most operations, and bytes once inflated, of one push."""

UUID_PATTERN = r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$(?!\n)"
_STAMP = r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z-[0-9a-f]{4}-[0-9a-f-]{36}$"

Uuid = Annotated[
    str,
    Meta(
        pattern=UUID_PATTERN,
        description="A UUID in lower case, made by the device; version 7 keeps the log in order.",
        examples=["0199c0de-0000-7000-8000-000000000001"],
    ),
]
Stamp = Annotated[
    str,
    Meta(
        pattern=_STAMP,
        description="A hybrid logical clock: UTC time, counter, device. Sorts as text.",
        examples=["2026-11-25T10:15:03.120Z-0004-0199c0de-0000-7000-8000-000000000001"],
    ),
]
Instant = Annotated[
    str,
    Meta(
        pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$",
        description="RFC 3339, with its offset.",
        examples=["2026-11-25T10:15:04.000Z"],
    ),
]
Count = Annotated[int, Meta(ge=0, le=2**53)]
Ordinal = Annotated[int, Meta(ge=1, le=2**53)]
Epoch = Annotated[
    str, Meta(pattern=r"^e[1-9]\d{0,8}$", description="Which history this is.", examples=["e7"])
]
_CURSOR = r"e[1-9]\d{0,8}\.\d{1,16}\.[0-9a-f]{8}(\.[0-9a-f]{16})?"
CURSOR_PATTERN = rf"^{_CURSOR}$"
Cursor = Annotated[
    str,
    Meta(
        pattern=CURSOR_PATTERN,
        description=(
            "A place in the log: the epoch, the number, a check of all before it, and the desk's"
            " signature. Those of before there were signatures lack the last part."
        ),
        examples=["e7.55040.1f0c3a9e.5a1b8e02c7d94f36"],
    ),
]
Bookmark = Annotated[
    str,
    Meta(
        pattern=rf"^{_CURSOR}~[0-4]~[0-9A-Za-z_.:+-]{{0,100}}$",
        description="Where a snapshot goes on: its fixed cursor, the rank and the last record.",
    ),
]
SHA256_PATTERN = r"^[0-9a-f]{64}$(?!\n)"
Sha256 = Annotated[str, Meta(pattern=SHA256_PATTERN, examples=["0" * 64])]
Words = Annotated[str, Meta(max_length=2000)]


class Lean(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A closed shape that leaves out what is not set, since a reply holds very many."""


class Operation(msgspec.Struct, frozen=True, omit_defaults=True):
    """One act of one person on one record, as its author saw the record. May hold more fields.

    `base` names for each field the writes its author saw, `from` the safety words they saw,
    `seen` every write a deleter saw. `kind` is the kind of record and what is done, such as
    "client.set", or "set_aside" for a number that carries nothing.
    """

    op_id: Uuid
    device_seq: Ordinal
    hlc: Stamp
    schema: Annotated[int, Meta(ge=1, le=1_000_000)]
    kind: Annotated[
        str, Meta(pattern=r"^([a-z_]{1,40}\.[a-z_]{1,40}|set_aside)$", examples=["client.set"])
    ]
    entity_id: Annotated[Uuid, Meta(description="The record.")]
    by: Annotated[str, Meta(max_length=64, description="The person, or the device.")] = ""
    fields: dict[str, Any] = {}
    base: dict[str, list[Uuid]] = {}
    from_: dict[str, Any] = msgspec.field(default_factory=dict, name="from")
    seen: list[Uuid] = []
    saw: Words = ""
    why: Words = ""
    asked_by: Annotated[str, Meta(max_length=64)] = ""
    amends: Annotated[
        Uuid | None, Meta(description="The refused operation that this one replaces.")
    ] = None


class Push(Shape):
    """What waits on a device, in the order it was written there."""

    v: Literal[1]
    device_id: Uuid
    epoch: Epoch
    sent_at: Annotated[Instant, Meta(description="The device's clock as it sends.")]
    ops: Annotated[
        list[msgspec.Raw],
        Meta(
            max_length=MOST_OPS,
            description="Operations, in ascending `device_seq` without a gap.",
        ),
    ]
    app: Annotated[str, Meta(max_length=40, description="The app's version.")] = ""
    queued: Annotated[
        Count, Meta(description="How many wait on the device in all, these included.")
    ] = 0
    erase_seq: Annotated[Count, Meta(description="The last erasure the device knows.")] = 0


class Accepted(Shape):
    """An operation that is in the log under this number."""

    op_id: str
    seq: int


class RefusedOperation(Shape):
    """An operation that will never be taken as it is, and what can be done about it."""

    op_id: str
    device_seq: int
    code: Literal[
        "field_invalid",
        "kind_unknown",
        "caution_needs_decision",
        "not_allowed",
        "person_removed",
        "op_id_reused",
        "too_large",
        "erased",
    ]
    message: str
    pointer: str
    then: Literal["edit", "ask_desk", "update_app", "nothing"]


class Clamped(Shape):
    """An operation whose stamp cannot stand, and the stamp it counts with instead."""

    op_id: str
    eff: str


class Pushed(Shape):
    """What became of each operation: 200 even where some were refused, each with its receipt."""

    v: Literal[1]
    epoch: str
    acked_through: Annotated[int, Meta(description="The device's last number that is settled.")]
    accepted: list[Accepted]
    duplicate: list[Accepted]
    refused: list[RefusedOperation]
    clamped: list[Clamped]
    server_time: str
    clock_offset_ms: Annotated[int, Meta(description="The server's clock less the device's.")]
    safe_seq: Annotated[int, Meta(description="The last number a verified backup holds.")]
    head: Cursor


class StandingWrite(Lean):
    """One write of one field that no later author has seen; `eff` orders it."""

    v: Any
    op: Uuid
    eff: Stamp
    by: Annotated[str, Meta(max_length=64)]
    clock: Annotated[
        Literal["off"] | None,
        Meta(description="Set where the writer's clock was known to be wrong."),
    ] = None


class Made(Lean):
    """The write that made a record."""

    op: Uuid
    eff: Stamp
    by: Annotated[str, Meta(max_length=64)]


class Change(Lean):
    """A record as it is now.

    `fields` holds each field with one head, `heads` each field with several, the greatest stamp
    last. `created` is empty while the creation has not come. `covered` names for each field the
    writes that later authors saw, with the greatest caution each may be covered up to, so that a
    late arrival is born covered. The field "gone" is a deletion (what its author saw) or, with a
    null, a restoring.
    """

    entity_id: Uuid
    kind: Annotated[str, Meta(max_length=40)]
    seq: Count
    gone: bool
    fields: dict[str, StandingWrite]
    heads: dict[str, list[StandingWrite]] = {}
    created: list[Made] = []
    covered: dict[str, dict[str, Annotated[int, Meta(ge=0, le=1000)]]] = {}


class ErasedEntry(Shape):
    """One record that was erased: its place in the ledger, the SHA-256 of its id, a signature."""

    n: Ordinal
    id_sha256: Sha256
    at: Instant
    sig: Sha256


Changes = Annotated[
    list[msgspec.Raw],
    Meta(
        description="Records as they now stand, in the order of their last change.",
    ),
]


class Pulled(Shape):
    """What changed after a cursor, and the cursor after it."""

    v: Literal[1]
    epoch: str
    erased: list[ErasedEntry]
    hidden: Annotated[
        list[str],
        Meta(
            description="Records of clients who are to be erased: all of them, each time; shown no"
            " more, and kept until they are erased or that is called off."
        ),
    ]
    changes: Changes
    next: Cursor
    more: bool
    head_seq: int
    acked_through: int
    server_time: str


class Page(Shape):
    """One page of a snapshot; `next` is absent on the last, and then the pull goes on at `cursor`.

    Ranks: 0 shelf, settings, people; 1 the services around today with their clients; 2 every
    client and alert test; 3 the last twelve months; 4 what is older.
    """

    v: Literal[1]
    epoch: str
    erased: list[ErasedEntry]
    changes: Changes
    rank: int
    cursor: Cursor
    next: str | None
    left: Annotated[int, Meta(description="How many records the pages after this one hold.")]
    acked_through: int
    server_time: str


class Live(Shape):
    """The value of a `change` event: apply it only where `from` equals one's own cursor."""

    from_: Cursor = msgspec.field(name="from")
    changes: Changes


class SyncProblem(Lean):
    """The body of a refusal of a sync call (RFC 9457), with its code and what the code needs."""

    type: str
    title: str
    status: int
    detail: str
    errors: list[Fault]
    code: str
    expected: int | None = None
    epoch: str | None = None
    acked_through: int | None = None
    max_ops: int | None = None
    max_bytes: int | None = None
