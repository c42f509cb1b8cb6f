"""A service put before the safety rules by its records, as a phone or the desk keeps them.

Only what the rules read is taken. A record is as it is shown: one value for each field. What a
field may hold is `records.py`'s to say; here it is read, and the review refuses what it cannot be.
"""

from typing import Annotated, Any

from msgspec import UNSET, Meta, UnsetType

from .base import Shape
from .products import ProductClass
from .safety import Profile, TimeZone
from .safety_facts import Instant

Text = Annotated[str, Meta(max_length=10_000)]
Said = Text | UnsetType
Number = Annotated[int, Meta(ge=-(10**9), le=10**9)] | Annotated[float, Meta(ge=-1e9, le=1e9)]


class OnRecord(Shape):
    """A record: its id, and when it was made."""

    id: Annotated[str, Meta(min_length=1, max_length=64)]
    created_at: Annotated[str, Meta(max_length=64, description="When it was made, UTC.")]


class AnswerOnRecord(Shape):
    """One answer. Of one alert test, `fact` is the question, a colon and the test's id."""

    fact: Annotated[str, Meta(min_length=1, max_length=200)]
    value: Any = UNSET
    at: Said = UNSET


Answers = Annotated[list[AnswerOnRecord], Meta(max_length=1000)]


class ClientOnRecord(OnRecord):
    """The client, with the answers that are theirs from visit to visit."""

    name: Said = UNSET
    answers: Answers = []
    colour_reaction: Said = UNSET
    black_tattoo: Said = UNSET
    dye_allergy: Said = UNSET
    persulfate_reaction: Said = UNSET


class ServiceOnRecord(OnRecord):
    """One of the client's services, with what was answered at that visit."""

    client: Said = UNSET
    facts: Answers = []


class PartOnRecord(Shape):
    """One product in a mix."""

    product: Said = UNSET


class DeveloperOnRecord(Shape):
    """The developer in a mix."""

    percent: Number | UnsetType = UNSET


class MixOnRecord(Shape):
    """What is in a zone's bowl."""

    parts: Annotated[list[PartOnRecord], Meta(max_length=100)] = []
    developer: DeveloperOnRecord | UnsetType | None = UNSET


class SpanOnRecord(Shape):
    """The leaflet's minutes."""

    max: Number


class ProductOnRecord(Shape, rename={"class_": "class"}):
    """A product as it was when the zone was mixed."""

    line: Text
    id: Said = UNSET
    class_: Said = UNSET
    developer_percent: Annotated[list[Number], Meta(max_length=100)] = []
    may_mix_with: Annotated[list[Text], Meta(max_length=100)] = []
    window: SpanOnRecord | UnsetType = UNSET


class LightenerOnRecord(Shape):
    """A lightener as it was entered for a zone."""

    kind: Said = UNSET
    developer_percent: Number | UnsetType = UNSET
    max_min: Number | UnsetType = UNSET


class ZoneOnRecord(OnRecord):
    """A zone of one of the client's services."""

    service: Said = UNSET
    name: Said = UNSET
    work: Said = UNSET
    lightener: LightenerOnRecord | UnsetType = UNSET
    area: Said = UNSET
    heat: Said = UNSET
    mix: MixOnRecord | UnsetType = UNSET
    products: Annotated[list[ProductOnRecord], Meta(max_length=500)] = []
    order: Number | UnsetType = UNSET
    first_section_at: Said = UNSET
    rinsed_at: Said = UNSET


class AlertTestOnRecord(OnRecord):
    """An alert test of the client."""

    client: Said = UNSET
    line: Said = UNSET
    maker: Said = UNSET
    generation: Said = UNSET
    leaflet_version: Said = UNSET
    applied_at: Said = UNSET
    site: Said = UNSET
    method: Said = UNSET
    applied_by: Said = UNSET
    from_paper: bool | UnsetType = UNSET
    result: Said = UNSET
    read_at: Said = UNSET
    read_by: Said = UNSET


class HistoryOnRecord(OnRecord):
    """What happened to the client's hair before."""

    client: Said = UNSET
    what: Said = UNSET
    corrects: Said = UNSET


class LeafletOnRecord(Shape):
    """What was entered of a line's leaflet."""

    min_hours: Number | UnsetType = UNSET
    max_hours: Number | UnsetType = UNSET
    site: Said = UNSET
    method: Said = UNSET
    max_minutes: Number | UnsetType = UNSET
    heat_allowed: bool | UnsetType = UNSET


class LineOnRecord(OnRecord, rename={"class_": "class"}):
    """A product line, with its leaflet."""

    name: Said = UNSET
    class_: Said = UNSET
    leaflet_version: Said = UNSET
    leaflet: LeafletOnRecord | UnsetType = UNSET


class SettingOnRecord(OnRecord):
    """A setting of the salon: what was answered of a line, or for how long a test holds."""

    key: Said = UNSET
    value: Any = UNSET


class DecisionOnRecord(OnRecord):
    """A named person's decision on a finding of the service."""

    service: Said = UNSET
    rule: Said = UNSET
    by: Said = UNSET
    role: Said = UNSET
    saw: Said = UNSET
    why: Said = UNSET
    at: Said = UNSET
    basis: Said = UNSET
    edition: Said = UNSET


class RecordsOfService(Shape):
    """All records that a review of one service reads, by kind; none that was deleted."""

    client: Annotated[list[ClientOnRecord], Meta(max_length=100)] = []
    service: Annotated[list[ServiceOnRecord], Meta(max_length=5000)] = []
    zone: Annotated[list[ZoneOnRecord], Meta(max_length=10_000)] = []
    alert_test: Annotated[list[AlertTestOnRecord], Meta(max_length=5000)] = []
    history_entry: Annotated[list[HistoryOnRecord], Meta(max_length=5000)] = []
    line: Annotated[list[LineOnRecord], Meta(max_length=5000)] = []
    setting: Annotated[list[SettingOnRecord], Meta(max_length=10_000)] = []
    decision: Annotated[list[DecisionOnRecord], Meta(max_length=5000)] = []


class LineBooked(Shape):
    """A line that a coming service will use, with the class of its products where it is known."""

    line: Text
    product_class: ProductClass | UnsetType = UNSET


class ServiceReviewRequest(Shape):
    """May this service start, by its records?"""

    records: RecordsOfService
    service: Annotated[str, Meta(min_length=1, max_length=64, description="The service's id.")]
    now: Instant
    time_zone: TimeZone
    starts_at: Annotated[Instant, Meta(description="When it is to start; absent, now.")] | None = (
        None
    )
    seen_until: (
        Annotated[
            Instant,
            Meta(description="The latest moment of any record kept here, sent or not."),
        ]
        | None
    ) = None
    booking: Annotated[
        list[LineBooked],
        Meta(
            max_length=8,
            description="Days before: the lines that will be used. Only how the alert test will"
            " do by then is asked, and nothing else of the plan.",
        ),
    ] = []
    ahead: Annotated[
        bool,
        Meta(
            description="Days before: what will hold the service at `starts_at`, by all that is on"
            " record now. Without a mix of its own, the lines of `booking` are taken."
        ),
    ] = False
    profile: Profile = "other"
