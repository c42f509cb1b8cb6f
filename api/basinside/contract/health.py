"""Whether the server is ready."""

from typing import Literal

from .base import Shape


class Health(Shape):
    """Answered once the server can take requests."""

    status: Literal["ok"]
    version: str
    engine_version: str
