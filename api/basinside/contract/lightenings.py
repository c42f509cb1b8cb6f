"""Lightenings: is the hair light enough for the wish, and what to do under the lightener."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Level, Line, Minute, Name, PeroxidePercent, Shape, Share
from .hair import Hair
from .products import ProductId
from .wishes import Wish


class Lightener(Shape):
    """A lightener, as its leaflet describes it. It has a clock and no promised colour."""

    id: ProductId
    name: Name
    line: Line
    developer_percent: Annotated[
        list[PeroxidePercent],
        Meta(min_length=1, max_length=12, description="Strengths the leaflet allows."),
    ]
    check_every_min: Annotated[
        int, Meta(ge=1, le=60, description="How often the leaflet asks for a look, minutes.")
    ]
    max_min: Annotated[
        int, Meta(ge=1, le=120, description="Longest the leaflet leaves it on, minutes.")
    ]
    mix_ratio: Annotated[
        float, Meta(ge=0, le=10, description="Grams of developer per gram of lightener.")
    ] = 2.0


class LighteningRequest(Shape):
    """Is this hair, wiped and looked at now, light enough for the wish?"""

    hair: Annotated[
        Hair, Meta(description="As it is now: its level by eye, or a `reading` of a wiped strand.")
    ]
    wish: Wish
    lightener: Lightener
    elapsed_min: Annotated[Minute, Meta(description="Whole minutes the lightener has been on.")]


class LighteningReply(Shape):
    """What to do. No colour is told: what a lightener leaves is looked at, not predicted."""

    do: Literal["rinse", "more_time", "deeper_wish", "stop"]
    words: str
    level: Annotated[Level, Meta(description="The level the hair is at, as read.")]
    light_enough: Annotated[Share, Meta(description="Chance that it is, by how sure the level is.")]
    engine_version: str
    lift_to: (
        Annotated[Level, Meta(description="The lowest half level the wish can be made from.")]
        | UnsetType
    ) = UNSET
    look_again_min: (
        Annotated[Minute, Meta(description="When to look next; never past the leaflet.")]
        | UnsetType
    ) = UNSET
    deeper_wish: (
        Annotated[Wish, Meta(description="The nearest wish this hair already carries.")] | UnsetType
    ) = UNSET
