"""*Needs a look*: what nobody but a person can settle, as a desk lists it."""

from typing import Annotated, Any, Literal

from msgspec import Meta

from .base import Shape
from .sync import StandingWrite, Uuid

MOST_MATTERS = 200
MOST_STOOD = 2000
AFTER_PATTERN = r"^[0-3]~[0-9A-Za-z_.:+-]{1,100}$"

Why = Literal["held", "apart", "edited_meanwhile", "unreadable", "refused"]
Settle = Literal["close", "choose", "restore_or_delete", "write_or_delete"]


class Apart(Shape):
    """A field that two people wrote without having seen each other's writing.

    What shows is the most cautious of a safety fact, else the last. The choice is a new write of
    the field, with a `base` that names every `op` here.
    """

    field: str
    values: list[StandingWrite]


class ShouldHold(Shape):
    """A safety rule that held a service, or wanted a decision, when its clock was started."""

    rule: str
    group: Literal["holds", "needs_decision"]
    message: str
    next: str


class Matter(Shape):
    """One thing that somebody should look at.

    `why` is one of five. `held`: a clock was started although the safety rules, on these
    records, did not allow it. `apart`: two people wrote something different.
    `edited_meanwhile`: someone deleted a record without having seen its last change.
    `unreadable`: a row of the desk's records cannot be read and was set aside, or a field of a
    record is not of its type. `refused`: an operation of a device was refused for good, and its
    `id` is the matter's. `settle` says what ends the matter. `choose`: a write of each field in
    `apart`. `restore_or_delete`: a restoring, or a deletion that has seen all.
    `write_or_delete`: a right value for each field in `apart`, which does not show until then,
    or a deletion. `close`: a `closing` record that names this `id`, with what was seen and why
    it may rest.
    """

    id: Annotated[str, Meta(description="The same for as long as it is about the same thing.")]
    why: Why
    settle: Settle
    entity_id: Annotated[Uuid, Meta(description="The record; for `held` the service.")]
    kind: Annotated[str, Meta(description="The record's kind; empty where it cannot be read.")]
    client: Annotated[str | None, Meta(description="Whose it is.")]
    client_name: str
    service: str | None
    at: Annotated[str, Meta(description="Since when it asks, UTC.")]
    words: Annotated[str, Meta(description="One sentence: what happened.")]
    apart: list[Apart]
    findings: list[ShouldHold]
    starts: Annotated[
        list[dict[str, Any]],
        Meta(
            description="For `held`: how the visit stood on the phone that started each zone, as"
            " `/api/services` gives it; empty for all else."
        ),
    ] = []
    stood: Annotated[
        str,
        Meta(
            description="What stands in a row that was set aside, or in a field that is not of its"
            f" type, its first {MOST_STOOD} characters; empty for all else."
        ),
    ] = ""


class Matters(Shape):
    """One page of what is open: held services first, then what has waited longest."""

    matters: list[Matter]
    next: Annotated[str | None, Meta(description="Where to go on; null on the last page.")]
    in_all: Annotated[int, Meta(description="How many are open in all.")]
