"""How a device becomes one of the salon's, and what the salon knows of its devices."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape
from .sync import Uuid

PairingCode = Annotated[
    str,
    Meta(
        pattern=r"^[0-9A-Za-z -]{8,20}$",
        description="Shown at the server's machine by `basinside pair`; once, for ten minutes.",
        examples=["K7QF-29XM"],
    ),
]


ReadsOnly = Annotated[bool, Meta(description="The token may read and write nothing.")]
TokenEnds = Annotated[str | None, Meta(description="When the token ends, or null: it does not.")]


class Pairing(Shape):
    """Asked by a device that holds a code."""

    v: Literal[1]
    code: PairingCode
    device_id: Uuid
    name: Annotated[str, Meta(min_length=1, max_length=60, examples=["Ana's phone"])]


class Paired(Shape):
    """The token that every further call of this device carries, and whose records these are.

    `acked_through` above 0 and `last_queued` tell a device that was emptied what it had reported.
    """

    v: Literal[1]
    token: str
    salon_id: str
    epoch: str
    acked_through: int
    last_queued: int
    last_seen_at: str | None
    server_time: str
    reads_only: ReadsOnly
    until: TokenEnds


class CodeAsked(Shape):
    """Asked at the server's own machine, by a browser that is paired there."""

    v: Literal[1]


class CodeOffered(Shape):
    """A code that lets one device in, once, for ten minutes; as words, as a link and to scan."""

    code: str
    link: Annotated[str, Meta(description="Opens the page on the phone, the code filled in.")]
    picture: Annotated[str, Meta(description="The link as a QR code: an SVG as a data URI.")]
    until: str


class KnownDevice(Shape):
    """One device of the salon."""

    device_id: str
    name: str
    paired_at: str
    revoked_at: str | None
    last_seen_at: str | None
    queued: int
    acked_through: int
    reads_only: ReadsOnly
    until: TokenEnds


class Devices(Shape):
    """The devices that were ever paired, the latest first."""

    devices: list[KnownDevice]
