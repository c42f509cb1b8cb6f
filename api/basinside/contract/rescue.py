"""What a restored server and its devices hand each other: erasures first, then records."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape
from .sync import Change, Epoch, ErasedEntry, Uuid

_Ids = Annotated[list[Uuid], Meta(max_length=5000)]


class Had(Shape):
    """A record a device holds, and the writes that stand on it there."""

    entity_id: Uuid
    ops: _Ids


class Offer(Shape):
    """What a device has, and the erasures it knows: asked after the epoch has changed."""

    v: Literal[1]
    device_id: Uuid
    epoch: Epoch
    have: Annotated[list[Had], Meta(max_length=2000)] = []
    erased: Annotated[list[ErasedEntry], Meta(max_length=5000)] = []


class Offered(Shape):
    """Which of the offered writes the server lacks, and the whole ledger of erasures."""

    v: Literal[1]
    epoch: str
    missing: list[Uuid]
    erased: list[ErasedEntry]


class Rescue(Shape):
    """Records with writes that the server lacks, as they were pulled before it was restored."""

    v: Literal[1]
    device_id: Uuid
    epoch: Epoch
    changes: Annotated[list[Change], Meta(max_length=500)]


class Rescued(Shape):
    """How many records came back, and how many of those were erased since and stay so."""

    v: Literal[1]
    epoch: str
    taken: int
    erased: int
