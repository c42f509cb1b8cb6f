"""Each kind of record: the fields it may have, and what each may hold.

Every field may be missing. In an operation `null` takes a value away. How a field merges is in
`service/records/fields.py`, which has the same fields; the pages' types are written from here.
"""

from typing import Annotated

import msgspec
from msgspec import UNSET, Meta, UnsetType

from .base import Shape
from .colours import Colour
from .entered import Entered
from .hair import Hair
from .mixes import Mix
from .predictions import Window
from .products import Consistency, Dyes, MadeFor, MinuteSpan, ProductClass
from .record_parts import (
    Answered,
    Answers,
    Called,
    Corrected,
    Heards,
    Id,
    Leaflet,
    Learnt,
    Minutes,
    Moment,
    Number,
    Percent,
    ProductsThen,
    SaidOption,
    Share,
    Text,
    Word,
)
from .swatch_records import CalibrationFields, CardFields, SwatchFields, SwatchPlanFields
from .visit_records import (
    ClosingFields,
    DecisionFields,
    NoteFields,
    ReactionFields,
    ReadingFields,
    ServiceFields,
    StartFields,
    StepFields,
    ZoneFields,
)
from .wishes import Wish


class ClientFields(Shape):
    """A client."""

    name: Text | UnsetType = UNSET
    phone: Called | UnsetType = UNSET
    born: Annotated[str, Meta(max_length=40, description="YYYY or YYYY-MM-DD.")] | UnsetType = UNSET
    hair: Hair | UnsetType = UNSET
    learnt: Learnt | UnsetType = UNSET
    history: Text | UnsetType = UNSET
    usual_formula: Id | UnsetType = UNSET
    colour_reaction: Word | UnsetType = UNSET
    black_tattoo: Word | UnsetType = UNSET
    dye_allergy: Word | UnsetType = UNSET
    persulfate_reaction: Word | UnsetType = UNSET
    answers: Answers | UnsetType = UNSET


class HistoryEntryFields(Shape, rename={"class_": "class"}):
    """One thing that happened to a client's hair before."""

    client: Id | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    what: Text | UnsetType = UNSET
    class_: Word | UnsetType = UNSET
    level: Number | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class LineFields(Shape, rename={"class_": "class"}):
    """A product line."""

    name: Text | UnsetType = UNSET
    class_: ProductClass | UnsetType = UNSET
    mix_ratio: Number | UnsetType = UNSET
    developer_percent: Annotated[list[Percent], Meta(max_length=50)] | UnsetType = UNSET
    window: MinuteSpan | UnsetType = UNSET
    may_mix_with: Annotated[list[Called], Meta(max_length=200)] | UnsetType = UNSET
    leaflet_version: Called | UnsetType = UNSET
    legend: (
        Annotated[
            dict[str, Annotated[list[Called], Meta(max_length=10)]],
            Meta(description="What each code of the line's shade names means, in tone words."),
        ]
        | UnsetType
    ) = UNSET
    consistency: Consistency | UnsetType = UNSET
    promised_on: MadeFor | UnsetType = UNSET
    leaflet: Leaflet | UnsetType = UNSET
    calibration: (
        Annotated[Id, Meta(description="What is known of its products; none: their labels.")]
        | UnsetType
    ) = UNSET


class ProductFields(Shape):
    """A product of a line."""

    line: Id | UnsetType = UNSET
    code: Called | UnsetType = UNSET
    name: Text | UnsetType = UNSET
    level: Number | UnsetType = UNSET
    tone: Annotated[list[Called], Meta(max_length=10)] | UnsetType = UNSET
    dyes: Dyes | UnsetType = UNSET
    price_per_100g: Number | UnsetType = UNSET
    in_stock: bool | UnsetType = UNSET


class TubeFields(Shape):
    """One tube of a product."""

    product: Id | UnsetType = UNSET
    batch: Called | UnsetType = UNSET
    opened_at: Moment | UnsetType = UNSET
    finished_at: Moment | UnsetType = UNSET


class FormulaFields(Shape):
    """A formula that was kept."""

    name: Text | UnsetType = UNSET
    parent: Id | UnsetType = UNSET
    client: Id | UnsetType = UNSET
    entered: Entered | UnsetType = UNSET
    hair: Hair | UnsetType = UNSET
    wish: Wish | UnsetType = UNSET
    mix: Mix | UnsetType = UNSET
    products: ProductsThen | UnsetType = UNSET
    window: Window | UnsetType = UNSET
    most_minutes: Minutes | UnsetType = UNSET
    predicted: Colour | UnsetType = UNSET
    chance: Share | UnsetType = UNSET
    engine_version: Word | UnsetType = UNSET
    calibrations: (
        Annotated[list[Id], Meta(max_length=50, description="Those in force when it was kept.")]
        | UnsetType
    ) = UNSET


class AlertTestFields(Shape):
    """An alert test. `line` is the name on the box: the test outlives the shelf."""

    client: Id | UnsetType = UNSET
    line: Called | UnsetType = UNSET
    maker: Called | UnsetType = UNSET
    generation: Called | UnsetType = UNSET
    leaflet_version: Called | UnsetType = UNSET
    applied_at: Moment | UnsetType = UNSET
    site: Text | UnsetType = UNSET
    method: Text | UnsetType = UNSET
    applied_by: Called | UnsetType = UNSET
    from_paper: bool | UnsetType = UNSET
    result: Word | UnsetType = UNSET
    read_at: Moment | UnsetType = UNSET
    read_by: Called | UnsetType = UNSET
    heard: Heards | UnsetType = UNSET


class PersonFields(Shape):
    """Somebody of the team."""

    name: Text | UnsetType = UNSET
    role: Word | UnsetType = UNSET


class SettingInParts(msgspec.Struct, frozen=True):
    """A setting of several parts: an answer of a line, or the insurer's terms. It may hold more."""

    value: Answered | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    asked: Text | UnsetType = UNSET
    words: Text | UnsetType = UNSET
    options: Annotated[list[SaidOption], Meta(max_length=50)] | UnsetType = UNSET
    months: Number | UnsetType = UNSET
    why: Text | UnsetType = UNSET
    review_on: Word | UnsetType = UNSET


SettingValue = (
    Text | Number | bool | Annotated[list[Called | Number], Meta(max_length=200)] | SettingInParts
)


class SettingFields(Shape):
    """A setting of the salon. What it holds depends on its key."""

    key: Annotated[str, Meta(max_length=1000)] | UnsetType = UNSET
    value: SettingValue | UnsetType | None = UNSET


class DeviceFields(Shape):
    """A phone of the salon."""

    name: Called | UnsetType = UNSET


RECORD_FIELDS: dict[str, type[Shape]] = {
    "client": ClientFields,
    "history_entry": HistoryEntryFields,
    "line": LineFields,
    "product": ProductFields,
    "tube": TubeFields,
    "formula": FormulaFields,
    "service": ServiceFields,
    "zone": ZoneFields,
    "start": StartFields,
    "note": NoteFields,
    "reading": ReadingFields,
    "step": StepFields,
    "decision": DecisionFields,
    "closing": ClosingFields,
    "reaction": ReactionFields,
    "alert_test": AlertTestFields,
    "swatch_plan": SwatchPlanFields,
    "swatch": SwatchFields,
    "calibration": CalibrationFields,
    "card": CardFields,
    "person": PersonFields,
    "setting": SettingFields,
    "device": DeviceFields,
}
"""The shape of each kind's fields, by the kind's name in operations."""
