"""What another program reads of a salon's records: values as they are shown, page by page."""

from typing import Annotated, Any, Literal

from msgspec import Meta

from .base import Shape
from .sync import Cursor

MOST_READ = 500
DAY_PATTERN = r"^\d{4}-\d\d-\d\d$"
MOST_TYPED = 200
"""The most letters of a search."""

ReadKind = Literal["client", "service", "start", "note", "formula"]


class ReadRecord(Shape):
    """One record as it is shown.

    `values` has one value for each field that was ever written; a safety fact shows the most
    cautious of what was said. `apart` names the fields that two people wrote without having seen
    each other's writing: somebody should look, and `/api/sync/pull` has every value with its
    author. `complete` is false while the writing that made the record has not come.
    """

    id: str
    kind: ReadKind
    client: Annotated[str | None, Meta(description="Whose it is.")]
    service: Annotated[str | None, Meta(description="The service it belongs to.")]
    at: Annotated[str, Meta(description="When it took place, UTC, else when it was made.")]
    seq: Annotated[int, Meta(description="The number it last changed at.")]
    gone: Annotated[bool, Meta(description="It was deleted, and nobody brought it back.")]
    complete: bool
    values: dict[str, Any]
    apart: list[str]
    starts: Annotated[
        list[dict[str, Any]],
        Meta(
            description="Of a service: how the visit stood when each zone began, the first zone"
            " first. Nothing that came later changes these."
        ),
    ] = []


class Records(Shape):
    """Records in the order of their last change; ask on from `next` to hear of later changes."""

    records: list[ReadRecord]
    next: Cursor
    more: Annotated[bool, Meta(description="Whether there is more after `next` already.")]
