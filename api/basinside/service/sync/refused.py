"""The refusal of a whole sync call; the device keeps everything it sent."""

from ...contract.importing import MOST_FILE_BYTES
from ...contract.sync import MOST_BYTES, MOST_OPS

# Text does not shrink like this. A body that does is made to fill a memory.
MOST_RATIO = 50


class Refused(Exception):
    """A status, a code, a sentence for the person, and the values the code needs."""

    def __init__(
        self,
        status: int,
        code: str,
        detail: str,
        *,
        retry_after_s: int | None = None,
        **needs: object,
    ) -> None:
        super().__init__(detail)
        self.status = status
        self.code = code
        self.detail = detail
        self.retry_after_s = retry_after_s
        self.needs = needs
        """`expected`, `epoch`, `acked_through`, `max_ops`, `max_bytes`."""


def misshapen(detail: str, pointer: str = "") -> Refused:
    """Return the refusal of a body that cannot be read as its call expects."""
    return Refused(400, "body_unreadable", detail, pointer=pointer)


def too_large() -> Refused:
    """Return the refusal of a body of too many bytes."""
    said = "At most 2 MiB at once. Send half of it."
    return Refused(413, "too_large", said, max_ops=MOST_OPS, max_bytes=MOST_BYTES)


def too_many(most: int, name: str) -> Refused:
    """Return the refusal of a body with too much in one of its lists."""
    said = f"At most {most} of `{name}` at once. Send half of it."
    return Refused(413, "too_large", said, max_ops=MOST_OPS, max_bytes=MOST_BYTES)


def too_long(most_bytes: int, name: str) -> Refused:
    """Return the refusal of a body with a field of too many bytes, such as a photo."""
    said = f"At most {most_bytes // 1024} KiB of `{name}`. Make it smaller, and send it again."
    return Refused(413, "too_large", said, max_bytes=most_bytes)


def file_too_large() -> Refused:
    """Return the refusal of a phone's file of too many bytes."""
    most_mib = MOST_FILE_BYTES // 1024**2
    said = f"A file of more than {most_mib} MiB is too large. Save it without photos."
    return Refused(413, "too_large", said, max_bytes=MOST_FILE_BYTES)


def unpacks_too_large() -> Refused:
    """Return the refusal of a packed body that would fill the memory."""
    said = "The file unpacks to more than any records do. Save it again where it came from."
    return Refused(413, "too_large", said, max_bytes=MOST_FILE_BYTES)
