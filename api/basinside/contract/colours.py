"""Colours as the engine gives them back: a Lab, its screen colour, its words, its range."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Lab, Shape

Hex = Annotated[
    str,
    Meta(
        pattern="^#[0-9a-f]{6}$",
        description="The Lab shown as sRGB as if it were 2 degree D65, so equal Lab is equal hex.",
        examples=["#c7b7a8"],
    ),
]


class Edge(Shape):
    """A colour at the rim of the likely range."""

    lab: Lab
    hex: Hex


class Range(Shape):
    """Where 80 % of outcomes lie: within this CIEDE2000 of the colour; edges lighter first."""

    within_delta_e: DeltaE
    edges: tuple[Edge, Edge]


class Colour(Shape):
    """A predicted colour. `paled_on_screen` is there only when sRGB cannot show it in full."""

    lab: Lab
    hex: Hex
    words: Annotated[str, Meta(examples=["level 10, beige"])]
    range: Range
    paled_on_screen: bool | UnsetType = UNSET
