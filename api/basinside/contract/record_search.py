"""What a search over everything that the desk keeps finds."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape

MOST_FOUND = 100

FoundKind = Literal["client", "formula", "history_entry", "note"]


class Found(Shape):
    """One record that holds every word asked for."""

    id: str
    kind: FoundKind
    words: Annotated[str, Meta(description="What it says, at most 200 letters.")]
    client: Annotated[str | None, Meta(description="Whose it is.")]
    client_name: str
    service: Annotated[str | None, Meta(description="The service it belongs to.")]
    at: str


class Searched(Shape):
    """What was found: clients first, then formulas, history and notes; of each the latest first."""

    found: list[Found]
    more: Annotated[bool, Meta(description="Whether more was found than is told.")]
