"""Judgements: what a look at the basin says about this head, and whether to wait or rinse."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import DeltaE, Lab, Minute, ReadingSd, Shape, Share
from .colours import Colour
from .hair import Hair
from .mixes import Mix
from .predictions import Look, Products, StripMinute, Window
from .products import ProductId
from .wishes import Wish

ReadingWord = Literal[
    "as_shown",
    "pinker",
    "yellower",
    "greener",
    "more_violet",
    "greyer",
    "darker",
    "lighter",
    "patchy",
]


class Reading(Shape):
    """A colour seen while the mix develops: either `lab`, or `words` that compare.

    A word compares with the strip as it stood then: after the readings before it.
    """

    minute: Minute
    where: Annotated[
        Literal["on_head", "wiped", "dried"],
        Meta(
            description="`on_head`: product on, wet. `wiped`: clean, wet. `dried`: a strand,"
            " rinsed at `minute` and dried."
        ),
    ]
    source: Annotated[
        Literal["instrument", "photo", "eye"],
        Meta(
            description="How well the colour is known: to 0.5, 4 or 4 on each CIELAB axis; a"
            " photo has one grey card in it."
        ),
    ]
    lab: Lab | None = None
    words: ReadingWord | None = None
    sd: ReadingSd | None = None


class JudgementRequest(Shape):
    """What do these looks say, and what is to be done now?

    `hair` is the hair as it was described when the mix went on, `readings` all so far.
    """

    hair: Hair
    mix: Mix
    products: Products
    wish: Wish
    readings: Annotated[
        list[Reading], Meta(min_length=1, max_length=24, description="In the order seen.")
    ]
    look: Look = Look()


class Advice(Shape):
    """What to do, and why, in colour. `at_minute` is when."""

    do: Literal["wait", "look_again", "rinse", "saturate_again"]
    words: str
    at_minute: Minute | UnsetType = UNSET


class Suspect(Shape):
    """Something else that would explain a reading: how well, and how to tell."""

    what: Literal["product", "ratio", "zone", "reading"]
    words: str
    product: ProductId | UnsetType = UNSET
    instead_of: Annotated[
        ProductId | UnsetType, Meta(description="The product of the mix that `product` replaces.")
    ] = UNSET


class Surprise(Shape):
    """A reading outside what 99 of 100 such heads would show."""

    reading: Annotated[int, Meta(ge=0, le=23, description="Its place in `readings`.")]
    words: str
    could_be: Annotated[list[Suspect], Meta(description="Likeliest first.")]


class RinsedThen(Shape):
    """What rinsing at another minute than the best would leave, on the head as judged."""

    minute: Minute
    if_rinsed: Colour
    delta_e: Annotated[DeltaE, Meta(description="From the wish.")]
    costs_delta_e: Annotated[
        DeltaE, Meta(description="How much further from the wish, as expected, than at the best.")
    ]
    words: str


class JudgementReply(Shape):
    """The head as it now seems, and what to do.

    `hair` goes as it is into every other calculation; `strip` and `window` are what
    predictions would give for it. Send all readings with the hair as first described each
    time: `hair` already holds them.
    """

    hair: Hair
    strip: list[StripMinute]
    window: Window
    advice: Advice
    surprise: Surprise | None
    engine_version: str
    this_head: Annotated[str, Meta(description="This head against its description, in words.")]
    chance: Annotated[
        Share, Meta(description="Share of such heads that land within tolerance as advised.")
    ]
    too_early: Annotated[RinsedThen | None, Meta(description="Rinsed now, when that is early.")]
    too_late: Annotated[RinsedThen | None, Meta(description="Left on to the leaflet's end.")]
    next_visit: Annotated[
        Hair,
        Meta(
            description="The description to start from next time: what this head did, less sure;"
            " its colour is read anew."
        ),
    ]
