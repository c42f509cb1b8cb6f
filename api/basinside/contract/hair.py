"""Hair: what you know, how sure you are, and which dye is already on."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType, field

from .base import Lab, Level, Name, ReadingSd, Shape, Share
from .mixes import Mix

Sd = Annotated[float, Meta(ge=0, le=2, description="One standard deviation.")]


class Sure(Shape):
    """How sure the description of the hair is: standard deviations, each 0 when known exactly."""

    level_sd: Sd = 0.3
    log_warmth_sd: Sd = 0.25
    porosity_sd: Annotated[
        float, Meta(ge=0, le=0.5, description="At porosity 0.5; narrower towards 0 and 1.")
    ] = 0.15
    log_rate_sd: Sd = 0.25
    log_uptake_sd: Sd = 0.2
    correlations: (
        Annotated[
            list[Annotated[float, Meta(ge=-1, le=1)]],
            Meta(
                min_length=10,
                max_length=10,
                description=(
                    "How the five hang together, as a judged head's do: their correlations, in"
                    " the order above and row by row, each with those before it. None when absent."
                ),
            ),
        ]
        | None
    ) = None
    seen: Annotated[
        bool,
        Meta(
            description="Whether a look at the mix on this hair is in it already, as in a judged"
            " head. Then the label's doubt is part of the uptake, and less of the model's is left."
        ),
    ] = False


class HairReading(Shape):
    """A measured colour of the bare hair, in the state it was measured in."""

    lab: Lab
    state: Literal["dry", "damp", "wet"]
    sd: ReadingSd | UnsetType = UNSET


class OtherHair(Shape):
    """Other hair on the same head that gets the same mix: ends, or hair between foils."""

    hair: Hair
    share: Annotated[float, Meta(gt=0, lt=1, description="Share of the head's hair.")]
    name: Name


class Hair(Shape):
    """The hair in front of the colourist. `level` may be absent only when `reading` is there."""

    level: Level | None = None
    warmth: Annotated[
        float, Meta(ge=0.2, le=5, description="Warm pigment left, 1 is usual for the level.")
    ] = 1.0
    porosity: Annotated[
        float, Meta(ge=0, le=1, description="0 tight, 0.5 usual, 1 very porous.")
    ] = 0.5
    damp: Annotated[
        float, Meta(ge=0, le=1, description="How wet when the mix goes on; 0.6 is towel-damp.")
    ] = 0.6
    white_share: Share = 0.0
    lifted: Annotated[bool, Meta(description="Pre-lightened (true) or natural hair.")] = True
    rate: Annotated[
        float, Meta(ge=0.2, le=5, description="How fast this head develops, 1 is usual.")
    ] = 1.0
    uptake: Annotated[
        float, Meta(ge=0.2, le=5, description="How much this head takes up, 1 is usual.")
    ] = 1.0
    white_uptake: Annotated[
        float,
        Meta(
            ge=0.3,
            le=1.5,
            description="How much its white hair takes up: 1 is usual, 0.6–0.75 is resistant.",
        ),
    ] = 1.0
    reading: HairReading | None = None
    already_on: Annotated[
        list[Mix], Meta(max_length=8, description="Mixes already on this hair, oldest first.")
    ] = []
    sure: Sure = field(default_factory=Sure)
    also: Annotated[list[OtherHair], Meta(max_length=6)] = []
