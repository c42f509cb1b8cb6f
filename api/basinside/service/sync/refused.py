"""The refusal of a whole sync call; the device keeps everything it sent."""

from ...contract.sync import MOST_BYTES, MOST_OPS


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
    """Return the refusal of a body past the limits."""
    said = f"At most {MOST_OPS} operations and 2 MiB at once. Send half of it."
    return Refused(413, "too_large", said, max_ops=MOST_OPS, max_bytes=MOST_BYTES)
