"""Photos, which travel apart from the records that name them, by the SHA-256 of their bytes."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape
from .sync import Sha256, Uuid

MOST_PHOTO_BYTES = 512 * 1024
MOST_MISSING = 500

PhotoType = Literal["image/jpeg", "image/png", "image/webp"]
Bytes = Annotated[
    bytes,
    Meta(max_length=MOST_PHOTO_BYTES, description="In base64 (RFC 4648), at most 512 KiB before."),
]


class PhotoSent(Shape):
    """A photo that a record names, whole; what does not match its SHA-256 is not kept."""

    v: Literal[1]
    device_id: Uuid
    sha256: Sha256
    type: PhotoType
    bytes: Bytes


class PhotoKept(Shape):
    """The photo is on the desk's disk; `known` where it was there before."""

    v: Literal[1]
    sha256: str
    known: bool


class PhotoFile(Shape):
    """The bytes of a photo."""

    type: PhotoType
    bytes: Bytes


class PhotoAsked(Shape):
    """A photo, or null where no device has sent it yet: ask again later."""

    v: Literal[1]
    sha256: str
    photo: PhotoFile | None


class PhotosMissing(Shape):
    """The photos that records name and the desk lacks. A phone that has one sends it."""

    v: Literal[1]
    missing: Annotated[list[Sha256], Meta(description="In the order of their SHA-256.")]
    next: Annotated[str | None, Meta(description="Where to go on; null on the last page.")]
