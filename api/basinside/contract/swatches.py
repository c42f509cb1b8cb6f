"""Swatches: painted hair that was read, what it teaches of products, and which to paint next."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Level, Minute, Shape, Share
from .hair import Hair
from .judgements import Reading
from .labels import LabelColour
from .mixes import Mix
from .predictions import Products
from .products import Product, ProductId

SwatchId = Annotated[
    str,
    Meta(
        pattern=r"^[a-zA-Z0-9_-]{1,64}$(?!\n)",
        description="1 to 64 of a-z A-Z 0-9 _ -",
        examples=["w1"],
    ),
]
Group = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=64,
        description="The picture or the instrument that `after` was read with. Readings of one"
        " group share an error, which is found from hair of known colour in it: a swatch rinsed at"
        " minute 0, whose `hair` has its colour as a `reading`.",
        examples=["photo1"],
    ),
]


class Swatch(Shape):
    """Hair that was painted, rinsed, dried and read."""

    id: SwatchId
    hair: Annotated[
        Hair,
        Meta(
            description="The hair before. A piece of swatch hair has the `reading` of its bare end"
            " and no `sure` of its own. Then its level may be off by 0.15, its warmth by 12 %"
            " and its porosity by 0.05, and it takes dye as usual. All other hair is as unsure as"
            " its `sure` says, as a client's head is: its result moves the head a lot and the"
            " product a little."
        ),
    ]
    mix: Mix
    after: Annotated[
        Reading,
        Meta(description="A reading `dried`, with its Lab; `minute` is when it was rinsed."),
    ]
    group: Group | UnsetType = UNSET
    of: (
        Annotated[
            Literal["swatch_hair", "head"],
            Meta(description="What the hair is. When absent, `hair` tells, as described there."),
        ]
        | UnsetType
    ) = UNSET


Swatches = Annotated[
    list[Swatch],
    Meta(min_length=1, max_length=200, description="At most 40 products with dye may be in them."),
]


class CalibrationRequest(Shape):
    """What do these swatches say about these products?

    Send all swatches each time. What a product was `known` by before is left out, so that no
    swatch counts twice. `dyes` without `known` are where the search starts in place of the words.
    """

    products: Products
    swatches: Swatches


class Split(Shape):
    """How a client's result was shared out between her head and the product."""

    product_delta_e: Annotated[DeltaE, Meta(description="How far this moved the product's colour.")]
    head_delta_e: Annotated[DeltaE, Meta(description="How far it moved the head's own.")]
    hair: Annotated[Hair, Meta(description="The head as it now seems, before this mix.")]


class SwatchFit(Shape):
    """One swatch beside what the products, as now known, would make of it."""

    id: SwatchId
    predicted: LabelColour
    delta_e: Annotated[DeltaE, Meta(description="From the reading, its group's error taken out.")]
    delta_e_left_out: Annotated[
        DeltaE, Meta(description="The same, had this swatch not been used: an honest test.")
    ]
    weight: Annotated[
        Share,
        Meta(description="How much it counts: near 1 as expected, near 0 as good as left out."),
    ]
    odd: Annotated[bool, Meta(description="Whether it hardly fits the others or the label.")]
    words: Annotated[str, Meta(description="What is odd, and what to look at; or that it fits.")]
    split: Annotated[
        Split | UnsetType, Meta(description="For the hair of a head only, not for swatch hair.")
    ] = UNSET


class SwatchToPaint(Shape):
    """One swatch to paint."""

    product: ProductId
    level: Level
    minutes: Minute
    strength: Annotated[
        Share, Meta(description="Share of the colour by weight; the rest is clear of its line.")
    ]
    hair: Annotated[Hair, Meta(description="The hair to paint; natural under level 7.")]
    mix: Annotated[Mix, Meta(description="As weighed: 12 g of colour, clear included.")]
    predicted: Annotated[LabelColour, Meta(description="What it should dry to, as now known.")]
    expected_delta_e: Annotated[
        DeltaE,
        Meta(
            description="How far off predictions of these products would be on such hair, on"
            " average, once this swatch and those before it are read."
        ),
    ]
    words: str


class CalibrationReply(Shape):
    """The products as the swatches make them known, and how well each swatch fits.

    Of `products`, those in a swatch come with new `dyes`, `rate` and `known`. The rest of such a
    line come with its `rate`. They go as they are into every other call.
    """

    products: Annotated[list[Product], Meta(description="All that were sent, in their order.")]
    fits: Annotated[list[SwatchFit], Meta(description="In the order of the swatches.")]
    next_swatches: Annotated[
        list[SwatchToPaint],
        Meta(description="Up to three that would teach most, for the products in the swatches."),
    ]
    engine_version: str


class SwatchPlanRequest(Shape):
    """Which swatches of these products would teach most?"""

    products: Annotated[
        Products,
        Meta(description="Those to learn, and the clears of their lines. At most 40 with dye."),
    ]
    levels: Annotated[
        list[Level],
        Meta(min_length=1, max_length=12, description="The levels of the swatch hair at hand."),
    ]
    count: Annotated[int, Meta(ge=1, le=24, description="How many swatches to plan.")]
    swatches: Annotated[
        list[Swatch],
        Meta(max_length=200, description="Those painted and read so far."),
    ] = []


class SwatchPlanReply(Shape):
    """The swatches to paint; the first teaches most, the next most after it."""

    swatches: Annotated[
        list[SwatchToPaint], Meta(description="In the order in which they teach most.")
    ]
    expected_delta_e: Annotated[
        DeltaE, Meta(description="How far off such predictions are now, on average, as expected.")
    ]
    engine_version: str
