"""Formulations: what to mix from this shelf for this hair and this wish."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Lab, Level, Line, Name, PeroxidePercent, Shape, Share, ToneWord
from .colours import Colour, Hex
from .hair import Hair
from .mixes import Mix
from .predictions import Products, Window
from .products import ProductClass
from .wishes import Wish


class Limits(Shape):
    """What the answer must keep to."""

    classes: Annotated[list[ProductClass], Meta(min_length=1, max_length=5)] | None = None
    lines: Annotated[list[Line], Meta(min_length=1, max_length=100)] | None = None
    max_minutes: Annotated[int, Meta(ge=1, le=120)] | None = None
    max_products: Annotated[int, Meta(ge=1, le=3, description="Clear is not counted.")] = 3
    total_g: Annotated[
        float, Meta(gt=0, le=2000, description="Grams of colour, before developer.")
    ] = 60.0
    step_g: Annotated[
        float,
        Meta(gt=0, le=500, description="The smallest amount weighed; total_g is whole steps."),
    ] = 5.0
    developer_percent: (
        Annotated[
            PeroxidePercent,
            Meta(
                description="Use only this strength of developer, percent; absent, every strength"
                " that the leaflets allow is weighed."
            ),
        ]
        | None
    ) = None
    count: Annotated[int, Meta(ge=1, le=10, description="How many formulas at most.")] = 5
    unlikely: Annotated[
        bool,
        Meta(
            description="Also answer with what is not worth a card: the mix closest on the hair as"
            " described, and mixes that under 1 in 10 such heads would land with."
        ),
    ] = False


class FormulationRequest(Shape):
    """What should be mixed for this hair and this wish?"""

    hair: Hair
    wish: Wish
    products: Products
    limits: Limits = Limits()


class OtherHairResult(Shape):
    """What the same mix does to other hair on the head."""

    name: Name
    share: Share
    predicted: Colour
    delta_e: DeltaE
    expected_delta_e: DeltaE
    chance: Share


class Stronger(Shape):
    """The next stronger developer that the leaflets allow: what it adds to a mix, and costs."""

    percent: PeroxidePercent
    more_levels: Annotated[float, Meta(ge=0, description="Levels it lifts natural hair further.")]
    words: str


Coverage = Literal["covered", "blended", "seen"]


class Formula(Shape, rename={"class_": "class"}):
    """One answer: a bowl, its minutes, what it will give and how sure that is."""

    mix: Mix
    class_: Annotated[ProductClass, Meta(description="The class of every product in the bowl.")]
    predicted: Annotated[Colour, Meta(description="Dry, rinsed at `mix.minutes`.")]
    delta_e: Annotated[DeltaE, Meta(description="From the wish, on the hair as described.")]
    expected_delta_e: Annotated[
        DeltaE, Meta(description="Mean distance from the wish over how unsure the hair is.")
    ]
    chance: Annotated[Share, Meta(description="Share of such heads that land within tolerance.")]
    window: Window
    choose_when: str
    reasons: list[str]
    cost: float | UnsetType = UNSET
    also: list[OtherHairResult] | UnsetType = UNSET
    coverage: (
        Annotated[
            Coverage,
            Meta(
                description="White hair beside pigmented hair: `covered` one cannot tell them apart"
                " (CIEDE2000 at most 3, half the dye natural), `blended` at most 10, `seen`"
                " beyond. Absent without white hair."
            ),
        ]
        | UnsetType
    ) = UNSET
    stronger: (
        Annotated[Stronger, Meta(description="On natural hair, where leaflets allow a stronger.")]
        | UnsetType
    ) = UNSET


class WouldHelp(Shape, rename={"class_": "class"}):
    """One product that is not on the shelf and would come closer, alone or thinned with clear."""

    class_: ProductClass
    level: Annotated[float, Meta(ge=1, le=11)]
    tone: list[ToneWord]
    delta_e: Annotated[DeltaE, Meta(description="Over all hair under the mix, by share.")]


First = Literal["lift", "wash", "remove", "nothing"]


class Shortfall(Shape):
    """Why the shelf cannot do it, and what could."""

    delta_e: Annotated[DeltaE, Meta(description="The lowest the shelf reaches.")]
    direction: Literal["too_warm", "too_dark", "too_cool", "too_light"]
    words: str
    first: Annotated[
        First,
        Meta(
            description="What to do before any mix. `lift`: the bare hair is too deep or too warm"
            " for any dye. `wash`: clarify, then look again; what is on is no permanent, or"
            " washing takes enough of it off. `remove`: take the colour off, then look again."
            " `nothing`: the hair is ready; a product or another wish is missing."
        ),
    ]
    at_best: Annotated[
        str,
        Meta(
            description="The nearest any dye could bring this hair as it is now, in words.",
            examples=["level 8, gold"],
        ),
    ]
    lift_first: (
        Annotated[Level, Meta(description="Lift to this level first; only with `lift`.")]
        | UnsetType
    ) = UNSET
    would_help: WouldHelp | UnsetType = UNSET


class WishedColour(Shape):
    """The dry colour a wish asks for, so that words can be looked at."""

    lab: Lab
    hex: Hex


class Already(Shape):
    """The hair has the wished colour as it is."""

    delta_e: Annotated[DeltaE, Meta(description="From the wish, dry, before any mix; at most 1.")]
    words: str


class FormulationReply(Shape):
    """Ranked formulas; `shortfall` is null when some mix is within tolerance.

    `formulas` is empty when the wish is there already, when nothing on the shelf can be used, and
    when fewer than 1 in 10 heads like this one would land with any mix (see `limits.unlikely`).
    """

    formulas: list[Formula]
    shortfall: Shortfall | None
    engine_version: str
    wish: WishedColour
    closest_delta_e: (
        Annotated[DeltaE, Meta(description="The lowest any mix reaches on the hair as described.")]
        | UnsetType
    ) = UNSET
    already: Already | UnsetType = UNSET
