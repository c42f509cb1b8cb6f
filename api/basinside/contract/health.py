"""Whether the server is ready."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape


class Health(Shape):
    """Answered once the server can take requests."""

    status: Literal["ok"]
    version: str
    engine_version: str
    backup_proven_at: Annotated[
        str | None,
        Meta(
            description="When a backup was last proven by putting it back for trial, RFC 3339;"
            " null before the first."
        ),
    ]
    backup_failed: Annotated[
        str, Meta(description='Why the last backup failed, a sentence; "" if it did not.')
    ]
