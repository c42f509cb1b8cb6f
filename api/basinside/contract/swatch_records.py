"""The fields of the swatch bench: planned swatches, painted ones, what they taught, and a card.

As in `records.py`, every field may be missing, and `null` takes a value away.
"""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Lab, Shape
from .hair import Hair
from .mixes import Mix
from .record_parts import (
    Called,
    Corrected,
    Id,
    Minutes,
    Moment,
    Number,
    Photo,
    ProductsThen,
    Text,
    Word,
)

Code = Annotated[
    str, Meta(max_length=20, description="The short code on a swatch's label, as in A3.")
]
_PLACE = Annotated[int, Meta(ge=1, le=100)]


class DryReading(Shape):
    """The colour of a swatch that was rinsed at `minute` and dried."""

    minute: Minutes
    source: Literal["instrument", "photo", "eye"]
    lab: Lab
    where: Literal["dried"] = "dried"
    sd: (
        Annotated[
            float,
            Meta(
                gt=0, le=20, description="How far each of L*, a* and b* is off, where it is known."
            ),
        ]
        | UnsetType
    ) = UNSET


class PlannedSwatch(Shape):
    """One swatch of a plan."""

    code: Code
    hair: Hair
    mix: Mix
    expected: (
        Annotated[Lab, Meta(description="Its dry colour by what was known when it was planned.")]
        | UnsetType
    ) = UNSET


class Painted(Shape):
    """When a planned swatch was painted and rinsed."""

    on_at: Moment
    by: Annotated[Called, Meta(description="The person, or the device where nobody was named.")]
    rinsed_at: Moment | UnsetType = UNSET


class SwatchPlanFields(Shape):
    """Swatches to be painted, and which of them have been."""

    name: Text | UnsetType = UNSET
    line: Id | UnsetType = UNSET
    products: ProductsThen | UnsetType = UNSET
    rows: Annotated[list[PlannedSwatch], Meta(max_length=100)] | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    painted: (
        Annotated[dict[Code, Painted], Meta(description="By the code of the swatch.")] | UnsetType
    ) = UNSET


class SwatchFields(Shape):
    """A painted swatch, read once it was dry."""

    plan: Id | UnsetType = UNSET
    code: Code | UnsetType = UNSET
    hair: (
        Annotated[Hair, Meta(description="Its bare end, measured where it could be.")] | UnsetType
    ) = UNSET
    mix: Mix | UnsetType = UNSET
    after: DryReading | UnsetType = UNSET
    group: (
        Annotated[
            str,
            Meta(
                max_length=64,
                description="What it was read together with: one photo, one instrument.",
            ),
        ]
        | UnsetType
    ) = UNSET
    batch: Called | UnsetType = UNSET
    card: Id | UnsetType = UNSET
    photo: Photo | UnsetType = UNSET
    words: Text | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class CalibrationFields(Shape):
    """What swatches taught about a line. It never changes; the line says which is in force."""

    line: Id | UnsetType = UNSET
    swatches: Annotated[list[Id], Meta(max_length=200)] | UnsetType = UNSET
    left_out: Annotated[list[Id], Meta(max_length=200)] | UnsetType = UNSET
    products: (
        Annotated[ProductsThen, Meta(description="With the amounts and the speed learnt.")]
        | UnsetType
    ) = UNSET
    error: (
        Annotated[
            Number,
            Meta(description="Median CIEDE2000 of the swatches, each left out of the fit in turn."),
        ]
        | UnsetType
    ) = UNSET
    engine_version: Word | UnsetType = UNSET
    by: (
        Annotated[Called, Meta(description="The person, or the device where nobody was named.")]
        | UnsetType
    ) = UNSET
    at: Moment | UnsetType = UNSET


class CardPatch(Shape):
    """One patch of a card for photos, by its row and column from the top left."""

    row: _PLACE
    column: _PLACE
    lab: Lab


class CardFields(Shape):
    """A card of patches of known colour, which lies beside swatches in a photo."""

    name: Text | UnsetType = UNSET
    patches: Annotated[list[CardPatch], Meta(max_length=200)] | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
