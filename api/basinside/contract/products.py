"""Products: what is on the shelf, as the leaflet describes it."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Line, Name, PeroxidePercent, Shape, ToneWord

ProductClass = Literal["alkaline_demi", "neutral_demi", "acid_demi", "permanent", "direct"]
Consistency = Literal["liquid", "gel", "light_cream", "cream"]
PromisedOn = Literal["lifted", "white"]
MadeFor = Annotated[
    Literal["any", "lifted", "white"],
    Meta(
        description="The hair a line is made for, by its maker's chart. `any` is for natural and"
        " white hair up to level 7, and for lightened hair from 8."
    ),
]

ProductId = Annotated[
    str,
    Meta(
        pattern=r"^[a-zA-Z0-9_-]{1,64}$(?!\n)",
        description="1 to 64 of a-z A-Z 0-9 _ -",
        examples=["st9vb"],
    ),
]
DyeAmount = Annotated[
    float,
    Meta(ge=0, le=5, description="K/S at the dye's peak, on hair of porosity 0.5, fully taken up."),
]


class Dyes(Shape):
    """How much of each dye component a product holds, in K/S at the component's peak."""

    yellow: DyeAmount = 0.0
    orange: DyeAmount = 0.0
    red: DyeAmount = 0.0
    violet: DyeAmount = 0.0
    blue: DyeAmount = 0.0
    blue_green: DyeAmount = 0.0
    blue_violet_direct: DyeAmount = 0.0
    orange_direct: DyeAmount = 0.0
    red_direct: DyeAmount = 0.0
    violet_direct: DyeAmount = 0.0
    blue_direct: DyeAmount = 0.0


_DyeSd = Annotated[float, Meta(ge=0, le=5, description="One standard deviation of a dye's K/S.")]


class DyesSd(Shape):
    """How sure each dye of a product is: one standard deviation, in K/S; 0 when known exactly."""

    yellow: _DyeSd = 0.0
    orange: _DyeSd = 0.0
    red: _DyeSd = 0.0
    violet: _DyeSd = 0.0
    blue: _DyeSd = 0.0
    blue_green: _DyeSd = 0.0
    blue_violet_direct: _DyeSd = 0.0
    orange_direct: _DyeSd = 0.0
    red_direct: _DyeSd = 0.0
    violet_direct: _DyeSd = 0.0
    blue_direct: _DyeSd = 0.0


class Known(Shape):
    """How well painted swatches have made a product known. A calibration writes it.

    Ranges and chances then go by this, and no longer by what a label may be off.
    """

    dyes_sd: DyesSd
    rate_sd: Annotated[
        float,
        Meta(ge=0, le=1, description="One standard deviation of the logarithm of `rate`."),
    ]
    swatches: Annotated[
        int, Meta(ge=0, le=200, description="How many swatches with this product went in.")
    ]
    correlations: (
        Annotated[
            list[Annotated[float, Meta(ge=-1, le=1)]],
            Meta(
                max_length=66,
                description="How these hang together: the correlations of all that have a"
                " deviation over 0, the dyes in their order and then the rate, row by row, each"
                " with those before it. None when absent.",
            ),
        ]
        | UnsetType
    ) = UNSET


class MinuteSpan(Shape):
    """The maker's own development time for toning lightened hair, from the leaflet."""

    min: Annotated[int, Meta(ge=0, le=120, description="Earliest minute the leaflet allows.")]
    max: Annotated[int, Meta(ge=1, le=120, description="Latest minute the leaflet allows.")]


class Product(Shape, rename={"class_": "class"}):
    """One tube, bottle or jar.

    Its `dyes` are either measured or, when absent, worked out from its class, level
    and tone words. `tone` ["clear"] means no dye at all.
    """

    id: ProductId
    name: Name
    line: Line
    class_: ProductClass
    level: Annotated[float, Meta(ge=1, le=11, description="The level on the label.", examples=[9])]
    tone: Annotated[list[ToneWord], Meta(min_length=1, max_length=2, examples=[["violet", "blue"]])]
    developer_percent: Annotated[
        list[PeroxidePercent],
        Meta(
            max_length=12,
            description="Strengths the leaflet allows; none for class direct.",
            examples=[[1.9]],
        ),
    ]
    window: MinuteSpan
    mix_ratio: (
        Annotated[
            float,
            Meta(
                ge=0,
                le=4,
                description="Grams of developer per gram of colour: 1 when absent, direct 0.",
            ),
        ]
        | None
    ) = None
    promised_on: (
        Annotated[
            PromisedOn,
            Meta(
                description=(
                    "The hair on which the label's words come true, by the maker's chart. When"
                    " absent: natural and white hair up to level 7, lightened hair from 8."
                )
            ),
        ]
        | None
    ) = None
    dyes: Dyes | None = None
    rate: (
        Annotated[
            float,
            Meta(
                ge=0.2,
                le=5,
                description="How fast the line develops, 1 when absent. Painted swatches tell.",
            ),
        ]
        | UnsetType
    ) = UNSET
    known: Known | UnsetType = UNSET
    consistency: Consistency | None = None
    may_mix_with: Annotated[
        list[Line],
        Meta(
            max_length=50,
            description="Other lines the leaflet allows in one bowl; both must name each other.",
        ),
    ] = []
    price_per_100g: (
        Annotated[float, Meta(ge=0, le=100_000, description="In the salon's currency.")] | None
    ) = None
    use_within_min: (
        Annotated[
            int,
            Meta(
                ge=1, le=1440, description="How long the leaflet lets it be used once it is mixed."
            ),
        ]
        | None
    ) = None


class Shelf(Shape):
    """The products at hand."""

    products: list[Product]
    demo: bool | UnsetType = UNSET
