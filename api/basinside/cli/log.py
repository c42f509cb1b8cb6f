"""Writes the log: each entry begins with its time, and nothing that came in begins another."""

import logging

from ..service.records.instants import instant_text


class Lines(logging.Formatter):
    """Writes UTC, how grave it is, who says it, and the entry; its further lines are set in.

    So a line break in what a caller sent forges no entry.
    """

    def __init__(self) -> None:
        super().__init__("%(asctime)s %(levelname)s %(name)s: %(message)s")

    def formatTime(  # noqa: N802 - the library's name
        self,
        record: logging.LogRecord,
        datefmt: str | None = None,  # noqa: ARG002
    ) -> str:
        """Return when the entry was written, UTC, to the millisecond."""
        return instant_text(int(record.created * 1000))

    def format(self, record: logging.LogRecord) -> str:
        """Return the entry as text."""
        return "\n    ".join(super().format(record).splitlines())


def write_log() -> None:
    """Write warnings and faults of this process to standard error from now on."""
    told = logging.StreamHandler()
    told.setFormatter(Lines())
    logging.basicConfig(level=logging.WARNING, handlers=[told])
