"""Weighing: a mix as a ladder of scale readings, its developer made from what is in stock."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Line, Minute, Name, PeroxidePercent, Shape
from .hair import Hair
from .mixes import Developer, Mix, Part
from .predictions import Products
from .products import ProductId

Unit = Literal["g", "oz", "parts"]
HairLength = Literal["cropped", "short", "chin", "shoulder", "long", "very_long"]
HairDensity = Literal["fine", "medium", "thick"]
LeftOver = Literal["none", "a_little", "half"]

ColourTotal = Annotated[
    float,
    Meta(gt=0, le=2000, description="Grams of colour, before developer.", examples=[60]),
]
Weighed = Annotated[float, Meta(ge=0, le=100_000, description="Grams.")]
Price = Annotated[float, Meta(ge=0, le=100_000, description="In the salon's currency.")]


class StockedDeveloper(Shape):
    """A developer on the shelf. One of 0 % is the maker's own diluent."""

    percent: PeroxidePercent
    name: Name | None = None
    line: Annotated[Line, Meta(description="When given, it goes with this line only.")] | None = (
        None
    )
    price_per_100g: Price | None = None


class Before(Shape):
    """What was mixed for this hair the last time, and how much was left over."""

    left_over: LeftOver
    total_g: ColourTotal | None = None


class HairAmount(Shape):
    """How much hair the mix has to cover."""

    length: HairLength = "shoulder"
    density: HairDensity = "medium"
    share: Annotated[
        float, Meta(gt=0, le=1, description="The share of the head's hair that gets this mix.")
    ] = 1.0
    before: Before | None = None


class MixRequest(Shape):
    """How is this mix weighed? Either `mix`, or `parts` with `total_g` or `hair_amount`."""

    products: Products
    mix: Mix | None = None
    parts: (
        Annotated[
            list[Part],
            Meta(
                min_length=1,
                max_length=8,
                description="Their grams are proportions: all are brought to `total_g`.",
            ),
        ]
        | None
    ) = None
    developer: (
        Annotated[Developer, Meta(description="With `parts`, and in proportion to them.")] | None
    ) = None
    total_g: (
        Annotated[
            ColourTotal,
            Meta(description="Grams of colour, before developer; a `mix` is brought to it too."),
        ]
        | None
    ) = None
    minutes: (
        Annotated[Minute, Meta(description="With `parts`: how long they are to stay on.")] | None
    ) = None
    developers_in_stock: (
        Annotated[
            list[StockedDeveloper | PeroxidePercent],
            Meta(
                max_length=40,
                description=(
                    "Strengths on the shelf, in percent, or developers with a name, line and"
                    " price. 0 is the maker's diluent, which is used only when listed. When"
                    " absent, the strength wanted is taken to be there."
                ),
                examples=[[1.9, 6]],
            ),
        ]
        | None
    ) = None
    step_g: Annotated[
        float, Meta(ge=0.01, le=50, description="The smallest step the scale shows, in grams.")
    ] = 0.1
    unit: Annotated[Unit, Meta(description="The unit the amounts are said in.")] = "g"
    hair_amount: HairAmount | None = None
    hair: (
        Annotated[
            Hair, Meta(description="Then what rounding does to its colour is worked out too.")
        ]
        | None
    ) = None


class Rung(Shape):
    """One thing poured into the bowl, and what the scale shows after it."""

    pour: Literal["colour", "developer", "diluent"]
    name: Annotated[str, Meta(description="What to pour, as the bottle or tube says it.")]
    grams: Weighed
    reading_g: Annotated[
        float,
        Meta(ge=0, le=1_000_000, description="What the scale shows then, grams since the tare."),
    ]
    wanted_g: Annotated[
        float, Meta(ge=0, le=100_000, description="Grams before rounding to the scale's step.")
    ]
    words: Annotated[str, Meta(description="The amount in the unit asked for.", examples=["24 g"])]
    reading_words: Annotated[
        str, Meta(description="The reading in that unit; in grams where the unit is parts.")
    ]
    product: ProductId | UnsetType = UNSET
    percent: PeroxidePercent | UnsetType = UNSET


class Pour(Shape):
    """A developer from the shelf, and its grams."""

    percent: PeroxidePercent
    grams: Weighed
    name: Name | UnsetType = UNSET


class MadeDeveloper(Shape):
    """The developer in the bowl, as weighed."""

    percent: Annotated[
        PeroxidePercent, Meta(description="What the pours come to, by mass; never above wanted.")
    ]
    wanted_percent: PeroxidePercent
    volumes: Annotated[
        float, Meta(ge=0, le=40, description="The trade's name for it: percent × 10 / 3.")
    ]
    grams: Weighed
    in_bowl_percent: Annotated[
        PeroxidePercent, Meta(description="Peroxide in the finished mix, by mass.")
    ]
    from_stock: list[Pour]
    words: str


class Rounding(Shape):
    """What rounding to the scale's step does to the dry colour."""

    delta_e: Annotated[DeltaE, Meta(description="The weighed mix against the wanted one.")]
    minute: Minute
    words: str


class SuggestedAmount(Shape):
    """How much colour this much hair needs."""

    total_g: Annotated[float, Meta(gt=0, le=5000, description="Grams of colour, before developer.")]
    mixed_g: Annotated[float, Meta(gt=0, le=20_000, description="Grams with its developer.")]
    source: str
    words: str


class UseWithin(Shape):
    """How long the finished mix may be put on. `minutes` only when every product says."""

    words: str
    minutes: Annotated[int, Meta(ge=1, le=1440)] | UnsetType = UNSET


class MixReply(Shape):
    """The recipe as a ladder: tare the bowl, then pour to each reading."""

    recipe: list[Rung]
    developer: MadeDeveloper | None
    cost: Annotated[
        float | None,
        Meta(
            description=(
                "Of the colour, and of developer that has a price; null while a colour has none."
            )
        ),
    ]
    mix: Annotated[Mix | None, Meta(description="As weighed; null when no minutes were given.")]
    total_g: Annotated[
        float, Meta(ge=0, le=1_000_000, description="All that is in the bowl, grams.")
    ]
    use_within: UseWithin
    engine_version: str
    rounding: Rounding | UnsetType = UNSET
    suggested: SuggestedAmount | UnsetType = UNSET
