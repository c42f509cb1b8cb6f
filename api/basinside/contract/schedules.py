"""Schedules: in which order, and when, the zones of one head are put on and rinsed."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Name, Shape
from .hair import Hair
from .mixes import Mix
from .predictions import Window

Elapsed = Annotated[
    int, Meta(ge=0, le=10_000, description="Whole minutes since the first section went on.")
]

SoFar = Annotated[
    int, Meta(ge=0, le=1440, description="Whole minutes since the first section went on.")
]


class PutOn(Shape):
    """When a zone went on, once it is on or begun."""

    from_min: Annotated[SoFar, Meta(description="The minute of its first section.")]
    to_min: (
        Annotated[SoFar, Meta(description="Of its last section; absent while it goes on.")]
        | UnsetType
    ) = UNSET


class Zone(Shape):
    """One zone of the head: what it gets, when it may be rinsed, how long it takes to put on."""

    name: Name
    window: Annotated[
        Window, Meta(description="The minutes to rinse in, as a formula or a prediction gave them.")
    ]
    apply_min: Annotated[
        int, Meta(ge=1, le=120, description="Minutes one pair of hands takes to put it on.")
    ]
    hair: Hair | None = None
    mix: Mix | None = None
    clock_from: Annotated[
        Literal["last_section", "first_section"],
        Meta(description="From which section on the leaflet counts its minutes."),
    ] = "last_section"
    put_on: (
        Annotated[PutOn, Meta(description="For a zone that is on, or begun: it stays as it is.")]
        | UnsetType
    ) = UNSET


class ScheduleRequest(Shape):
    """When is each zone put on and rinsed, so that all land inside their windows?"""

    zones: Annotated[list[Zone], Meta(min_length=1, max_length=6)]
    hands: Annotated[int, Meta(ge=1, le=2, description="Pairs of hands.")] = 1
    basin_minutes: Annotated[
        int, Meta(ge=0, le=60, description="Minutes a rinse keeps basin and hands.")
    ] = 5
    rinse: Annotated[
        Literal["separate", "shared"],
        Meta(description="Each zone rinsed by itself, one after the other, or all in one rinse."),
    ] = "separate"
    now_min: Annotated[
        SoFar, Meta(description="How far the work is: what is not begun starts no sooner.")
    ] = 0


class Step(Shape):
    """One thing to do. A rinse says how far its zone has developed and how much room is left."""

    do: Literal["apply", "rinse"]
    zone: Name
    starts_min: Elapsed
    ends_min: Elapsed
    hands: Annotated[int, Meta(ge=1, le=2, description="Which pair of hands.")]
    words: str
    developed_min: (
        Annotated[
            int, Meta(ge=0, le=10_000, description="On the zone's own clock, as its rinse starts.")
        ]
        | UnsetType
    ) = UNSET
    slack_min: (
        Annotated[
            int,
            Meta(
                ge=-10_000,
                le=120,
                description="Minutes to the nearer end of the zone's window; below 0 outside it.",
            ),
        ]
        | UnsetType
    ) = UNSET


class Mend(Shape):
    """A change that makes the schedule possible; each was tried before it is named."""

    do: Literal[
        "second_hands",
        "rinse_shared",
        "rinse_separate",
        "apply_faster",
        "rinse_faster",
        "own_round",
    ]
    words: str
    zones: Annotated[
        list[Name], Meta(description="apply_faster: that zone. own_round: these, each by itself.")
    ]
    minutes: (
        Annotated[
            int,
            Meta(ge=0, le=120, description="The new apply_min or basin_minutes, at most."),
        ]
        | UnsetType
    ) = UNSET


class Miss(Shape):
    """A zone that cannot land inside its window, however the work is ordered."""

    zone: Name
    by_min: Annotated[int, Meta(ge=1, le=10_000, description="Minutes outside, at the least.")]
    direction: Literal["too_early", "too_late"]
    words: str
    mends: list[Mend]


class ScheduleReply(Shape):
    """The work in order. `slack_min` is the least of all zones; null when it cannot be done.

    Work that cannot be done has no steps before it is begun; then it has those that miss least.
    What is on already has no step for its putting on.
    """

    steps: list[Step]
    slack_min: Annotated[int, Meta(ge=0, le=120)] | None
    impossible: list[Miss]
    engine_version: str
    total_min: Annotated[int, Meta(ge=0, le=10_000, description="Until the last rinse ends.")] = 0
