"""Mends: it missed. Leave it, wash once, or a second mix over what is on."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Shape, Share
from .colours import Colour
from .formulations import Formula, Limits, Shortfall, WishedColour
from .hair import Hair
from .predictions import Products
from .wishes import Wish


class MendRequest(Shape):
    """What would bring this hair nearer its wish, with what is on it now?

    `hair` as a judgement of the dried strand gave it, with the rinsed mix in `already_on`.
    """

    hair: Hair
    wish: Wish
    products: Products
    limits: Limits = Limits(count=3)


class WayOn(Shape):
    """One way on, with the dry colour it would leave."""

    do: Literal["leave", "wash_once", "second_mix"]
    predicted: Annotated[Colour, Meta(description="Dry.")]
    delta_e: Annotated[DeltaE, Meta(description="From the wish, on the hair as described.")]
    expected_delta_e: DeltaE
    chance: Annotated[Share, Meta(description="Share of such heads that land within tolerance.")]
    chance_closer: Annotated[
        Share, Meta(description="Share of such heads that it brings nearer the wish than leaving.")
    ]
    words: str
    formula: Annotated[Formula, Meta(description="The second mix.")] | UnsetType = UNSET


class MendReply(Shape):
    """The ways on, the advised one first; leaving it and one wash are always among them."""

    mends: list[WayOn]
    shortfall: Shortfall | None
    wish: WishedColour
    engine_version: str
