"""Reaches: which wishes this shelf can make on this hair, for many levels and tones at once."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Level, Shape, ToneWord
from .formulations import Limits
from .hair import Hair
from .predictions import Products

WhyNot = Literal["lift_first", "wash_first", "no_product"]


class ReachesRequest(Shape):
    """Which of these wishes can this shelf make on this hair?"""

    hair: Hair
    products: Products
    levels: Annotated[
        list[Level], Meta(min_length=1, max_length=25, description="The levels of the wishes.")
    ]
    tones: Annotated[
        list[ToneWord],
        Meta(min_length=1, max_length=25, description="Each is asked at each level."),
    ]
    limits: Limits = Limits()
    tolerance: Annotated[
        float, Meta(ge=0.5, le=10, description="How far off still counts as met, in CIEDE2000.")
    ] = 3.0


class Reach(Shape):
    """One wish: how near this shelf comes to it."""

    level: Level
    tone: ToneWord
    delta_e: Annotated[
        DeltaE,
        Meta(
            description="Of the closest mix found, on the hair as described; of the hair itself"
            " where it has the colour already, or where nothing on the shelf can be used."
        ),
    ]
    within: Annotated[bool, Meta(description="Whether that is within the tolerance.")]
    why: (
        Annotated[
            WhyNot,
            Meta(
                description="Only where it is not within. `lift_first`: the bare hair is too deep"
                " or too warm. `wash_first`: colour that is on the hair is in the way; wash it or"
                " take it off. `no_product`: the hair is ready, and no product here goes there."
            ),
        ]
        | UnsetType
    ) = UNSET


class ReachesReply(Shape):
    """Every level asked, in the order asked, with every tone in its order."""

    reaches: list[Reach]
    engine_version: str
