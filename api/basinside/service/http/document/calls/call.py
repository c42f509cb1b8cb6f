"""The description of one call of the API."""

from typing import Any, Literal, NamedTuple

import msgspec


class Query(NamedTuple):
    """One parameter in a call's address, as JSON Schema."""

    name: str
    schema: dict[str, Any]
    about: str
    needed: bool = False


READS, WRITES = "read", "write"


class Call(NamedTuple):
    """One call. `examples` are worked requests, or for a GET worked replies, by their title.

    A call on records carries a device's token (`paired`). Its replies depend on the stored records,
    so they are worked examples too (`shown`). A part of `path` in braces varies, as `named` tells.
    `refused` are the statuses beyond the usual. `file` is the media type of a body that is a file,
    not JSON. `events` is the media type of an answer that is a stream of events. A call for
    everybody may take a token all the same (`tokens_too`).
    """

    method: Literal["get", "post", "delete"]
    path: str
    operation: str
    group: str
    summary: str
    description: str
    asked: type[msgspec.Struct] | None
    replied: type[msgspec.Struct]
    examples: dict[str, Any]
    paired: bool = False
    shown: dict[str, Any] | None = None
    query: tuple[Query, ...] = ()
    refused: tuple[str, ...] = ()
    file: str = ""
    named: Query | None = None
    events: str = ""
    tokens_too: bool = False

    @property
    def right(self) -> str:
        """The right that a token needs for a call on records: any reads, not every one writes."""
        return READS if self.method == "get" else WRITES
