"""The entries for one bowl, as a record keeps them: enough to ask the same again."""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Shape
from .record_parts import Called, Grams, Minutes, Number, Share

Typed = Annotated[str, Meta(max_length=100, description="As it was typed.")]
LabEntry = tuple[Typed, Typed, Typed]


class ReadingEntry(Shape):
    """A measured colour as it was typed."""

    lab: LabEntry
    state: Literal["dry", "damp", "wet"]


class AlreadyOn(Shape):
    """A mix that is on the hair already."""

    product: Called
    minutes: Minutes


class OtherHairEntry(Shape):
    """Other hair on the same head."""

    name: Called
    share: Share
    level: Number
    warmth: Number
    porosity: Number
    lifted: bool


class HairEntry(Shape):
    """The hair as it was described."""

    seen: Annotated[
        Literal["dry", "wet"],
        Meta(description="How the colourist looks at the hair while choosing its level."),
    ]
    level: Number
    warmth: Number
    porosity: Number
    damp: Number
    white_share: Share
    lifted: bool
    by_reading: bool
    reading: ReadingEntry
    already_on: Annotated[list[AlreadyOn], Meta(max_length=20)]
    also: Annotated[list[OtherHairEntry], Meta(max_length=20)]
    white_uptake: Annotated[
        Number, Meta(description="How much its white hair takes up; 1 is usual.")
    ] = 1.0


class WishEntry(Shape):
    """The wish as it was entered."""

    by_reading: bool
    level: Number
    tone: Annotated[list[Called], Meta(max_length=10)]
    lab: LabEntry
    tolerance: Number


class AmountsEntry(Shape):
    """How much is mixed, and of how many products."""

    total_g: Grams
    max_products: Number
    length: Annotated[
        str,
        Meta(
            max_length=64,
            description="How long the hair is; empty while the entered amount counts.",
        ),
    ]
    density: Annotated[str, Meta(max_length=64)]
    share: Annotated[
        Share,
        Meta(description="How much of the head the zone is; 0 while nobody has said."),
    ]
    left_over: Annotated[
        str,
        Meta(
            max_length=64,
            description="What was left over last time; empty until somebody says.",
        ),
    ]
    developer_percent: Annotated[
        Number,
        Meta(description="The only strength to use; 0 for the lowest that does it."),
    ] = 0.0


class Entered(Shape):
    """Everything entered for one bowl."""

    hair: HairEntry
    wish: WishEntry
    amounts: AmountsEntry
    chosen_mix: Annotated[str, Meta(max_length=2000)]
