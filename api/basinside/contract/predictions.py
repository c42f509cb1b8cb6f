"""Predictions: what is seen on the head, minute by minute, and what rinsing would leave."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .base import Minute, Shape, Share
from .colours import Colour
from .hair import Hair
from .mixes import Mix
from .products import Product
from .wishes import Wish

Products = Annotated[
    list[Product], Meta(min_length=1, max_length=500, description="Every product spoken of.")
]


class Look(Shape):
    """How the wet hair is being looked at."""

    bunched: Annotated[Share, Meta(description="0 fanned on a towel, 1 wrung into one rope.")] = 0.3


class Window(Shape):
    """The whole minutes to rinse in, inside the maker's own; or only the reason for none."""

    earliest: Minute | UnsetType = UNSET
    best: Minute | UnsetType = UNSET
    latest: Minute | UnsetType = UNSET
    reason: str | UnsetType = UNSET


class StripMinute(Shape):
    """One minute of the development strip."""

    minute: Minute
    on_head: Annotated[Colour, Meta(description="With the product on, wet.")]
    wiped: Annotated[Colour, Meta(description="Wiped clean, wet.")]
    if_rinsed: Annotated[Colour, Meta(description="Dry, had it been rinsed now.")]


class PredictionRequest(Shape):
    """What will be seen while this mix develops on this hair?"""

    hair: Hair
    mix: Mix
    products: Products
    wish: Wish | None = None
    minutes: (
        Annotated[
            list[Minute],
            Meta(
                min_length=1,
                max_length=121,
                description="Default: every whole minute from 0 to the product's maximum.",
            ),
        ]
        | None
    ) = None
    look: Look = Look()


class PredictionReply(Shape):
    """The development strip."""

    strip: list[StripMinute]
    window: Window
    engine_version: str
