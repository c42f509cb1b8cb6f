"""The wish: a measured colour, or a level and words."""

from typing import Annotated

from msgspec import Meta

from .base import Lab, Level, Shape, ToneWord


class Wish(Shape):
    """The dry colour wanted: either `lab`, or `level` with `tone` words."""

    lab: Lab | None = None
    level: Level | None = None
    tone: Annotated[list[ToneWord], Meta(min_length=1, max_length=2)] | None = None
    tolerance: Annotated[
        float, Meta(ge=0.5, le=10, description="How far off still counts as met, in CIEDE2000.")
    ] = 3.0
