"""What becomes of a file of records that is brought in at the desk."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape

MOST_FILE_BYTES = 32 * 1024 * 1024
MOST_UNPACKED_BYTES = 128 * 1024 * 1024


class NotTaken(Shape):
    """A line of the file that was not taken, why, and the place in it."""

    line: int
    code: str
    message: str
    pointer: str


class Imported(Shape):
    """How much of a file was new here, how much was here, and what was not taken.

    What waits in the file for a look was refused once and is not sent again.
    """

    v: Literal[1]
    accepted: Annotated[int, Meta(description="Operations that were new.")]
    known: Annotated[int, Meta(description="Operations that were here already.")]
    records: Annotated[
        int, Meta(description="Records that had been lost here, since an older copy was put back.")
    ]
    photos: Annotated[int, Meta(description="Photos that were new.")]
    waiting: Annotated[int, Meta(description="Entries that wait for a look on the device.")]
    refused: list[NotTaken]
