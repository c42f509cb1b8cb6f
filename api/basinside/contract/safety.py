"""Safety: what is planned, what the rules find, what is still to be asked."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Line, Name, Shape
from .fact_rows import AskedOf, Input, KeptWith
from .products import ProductClass
from .safety_facts import Instant, SafetyFacts, YesNo

Profile = Literal["eu", "uk", "us", "other"]
Severity = Literal["stop", "decide", "advise"]
Status = Literal["published", "common_practice", "not_yet_checked"]
Phase = Literal["booking", "start", "mix", "live", "after"]
Role = Literal["assistant", "colourist", "in_charge"]
Area = Literal["scalp", "lengths", "off_scalp_foil", "beard", "brows", "lashes"]
Purpose = Literal["client", "test_dab", "strand", "swatch", "training_head"]
ServiceClass = Literal[
    "oxidative_permanent", "oxidative_toner", "direct_dye", "plant_dye", "lightener_powder",
    "lightener_cream", "colour_remover", "oxidant_only", "no_chemical",
]  # fmt: skip
NeverBlocked = Literal["rinse", "first_aid", "call_for_help", "end_service", "export"]

RuleId = Annotated[str, Meta(min_length=1, max_length=64, examples=["alert-test-missing"])]
Sentence = Annotated[str, Meta(min_length=1, max_length=1000)]
TimeZone = Annotated[
    str,
    Meta(
        pattern=r"^[A-Za-z][A-Za-z0-9_+-]*(/[A-Za-z0-9_+-]+){0,2}$(?!\n)",
        max_length=64,
        description="The IANA name, kept with the record. Times rest on the offsets given.",
        examples=["Europe/Lisbon"],
    ),
]
Percent = Annotated[float, Meta(ge=0, le=100, description="Percent, never volumes.")]


class LeafletTest(Shape):
    """How the maker's leaflet wants the alert test done."""

    min_hours: Annotated[float, Meta(ge=0, le=1000)] | None = None
    max_hours: Annotated[float, Meta(ge=0, le=20_000)] | None = None
    site: Name | None = None
    method: Name | None = None


class LineCard(Shape, rename={"class_": "class"}):
    """One line in the bowl, as its leaflet and label describe it. Give one of the two classes."""

    line: Line
    class_: ServiceClass | None = None
    product_class: ProductClass | None = None
    maker: Name | None = None
    generation: Annotated[Name, Meta(description="The formula's generation.")] | None = None
    leaflet_version: Name | None = None
    test: LeafletTest = LeafletTest()
    sensitiser: (
        Annotated[
            YesNo,
            Meta(description="Absent: yes for all that takes developer, unknown for the rest."),
        ]
        | None
    ) = None
    persulfate: YesNo | None = None
    releases_peroxide: (
        Annotated[YesNo, Meta(description="Percarbonate or perborate, with no figure. Absent: no.")]
        | None
    ) = None
    labelled: (
        Annotated[YesNo, Meta(description="In the maker's own pack, with its label.")] | None
    ) = None
    label_caution: (
        Annotated[YesNo, Meta(description="Allergy caution and test directions are on the label.")]
        | None
    ) = None
    max_minutes: Annotated[int, Meta(ge=1, le=240)] | None = None
    heat_allowed: YesNo | None = None
    scalp_max_percent: Annotated[Percent, Meta(description="Strongest for scalp.")] | None = None
    may_mix_with: Annotated[list[Line], Meta(max_length=50)] = []
    cleared_for_lashes: YesNo | None = None
    listed_lash_gel: (
        Annotated[YesNo, Meta(description="Silver nitrate gel up to 4 %, as listed in the US.")]
        | None
    ) = None
    for_fresh_lightened: (
        Annotated[YesNo, Meta(description="The leaflet names freshly lightened hair.")] | None
    ) = None
    min_age: Annotated[int, Meta(ge=0, le=130)] | None = None
    nh3_percent: (
        Annotated[Percent, Meta(description="Ammonia as NH3. Absent: as the label's law allows.")]
        | None
    ) = None


class Decision(Shape):
    """A named person's decision on one finding. Counts while `basis` is the finding's own."""

    rule: RuleId
    by: Annotated[Name, Meta(description="Who decided: a name or id, never the client's.")]
    role: Role
    saw: Annotated[Sentence, Meta(description="What this person saw.")]
    why: Annotated[Sentence, Meta(description="Why this person goes on.")]
    at: Instant
    basis: Annotated[
        str,
        Meta(
            max_length=2000, description="`basis` of the finding, unchanged: what was decided on."
        ),
    ]
    edition: Annotated[str, Meta(max_length=40)] | None = None


class HouseRule(Shape):
    """A severity of the salon's own for one rule: stricter, or looser where that is allowed."""

    rule: RuleId
    severity: Severity
    by: Name
    why: Sentence
    review_on: Instant | None = None


class TestValidity(Shape):
    """The insurer's terms, by which one test holds for several services."""

    months: Annotated[int, Meta(ge=1, le=12)]
    by: Name
    why: Sentence
    review_on: Instant


class House(Shape):
    """The salon's own settings."""

    rules: Annotated[list[HouseRule], Meta(max_length=85)] = []
    test_validity: TestValidity | None = None
    test_min_hours: (
        Annotated[float, Meta(ge=48, le=1000, description="May only be raised above 48.")] | None
    ) = None


class SafetyPlan(Shape):
    """What is to be done, with what, where on the head, and what was decided about it."""

    lines: Annotated[list[LineCard], Meta(min_length=1, max_length=8)]
    areas: Annotated[list[Area], Meta(min_length=1, max_length=6)]
    mix_chosen: Annotated[
        bool,
        Meta(description="False while `lines` only hold a place: nothing is asked of a mix then."),
    ] = True
    moment: Annotated[
        Literal["booking", "start", "live", "after"],
        Meta(description="live: the mix is on. At booking, test times are taken at `starts_at`."),
    ] = "start"
    purpose: Purpose = "client"
    grams: (
        Annotated[
            float,
            Meta(gt=0, le=5000, description="The whole bowl; needed unless purpose is client."),
        ]
        | None
    ) = None
    client: (
        Annotated[Name, Meta(description="The client, so that nobody decides alone.")] | None
    ) = None
    opened_at: (
        Annotated[Instant, Meta(description="When this service's record was opened.")] | None
    ) = None
    touches_skin: YesNo | None = None
    zones: Annotated[list[Name], Meta(max_length=20, description="Zones the mix goes on.")] = []
    developer_percent: Annotated[Percent, Meta(description="The bottle's strength.")] | None = None
    on_head_percent: (
        Annotated[Percent, Meta(description="After mixing. Absent: worked out from the ratio.")]
        | None
    ) = None
    mix_ratio: (
        Annotated[float, Meta(ge=0, le=20, description="Developer per 1 of colour.")] | None
    ) = None
    heat: YesNo | None = None
    started_at: Instant | None = None
    planned_minutes: Annotated[int, Meta(ge=0, le=240)] | None = None
    seen_until: (
        Annotated[
            Instant,
            Meta(description="The latest moment in any record here: shows a clock set back."),
        ]
        | None
    ) = None
    decisions: Annotated[list[Decision], Meta(max_length=200)] = []
    house: House = House()


class SafetyReviewRequest(Shape):
    """May this service start, what holds it, and what must still be asked?"""

    facts: SafetyFacts
    plan: SafetyPlan
    now: Instant
    starts_at: Instant
    time_zone: TimeZone
    profile: Profile = "other"


class Because(Shape):
    """One fact a finding rests on, as it stood."""

    fact: str
    value: str


class Finding(Shape):
    """One rule that speaks, worst first."""

    id: RuleId
    severity: Severity
    group: Literal["holds", "needs_decision", "good_to_know"]
    phase: Phase
    message: Annotated[str, Meta(max_length=140)]
    next: str
    source: Annotated[str, Meta(description="The sources in words.")]
    sources: list[str]
    status: Status
    certain: Annotated[bool, Meta(description="False: a fact is missing and counts as unsafe.")]
    because: list[Because]
    basis: Annotated[str, Meta(description="What a decision on this finding must carry.")]
    decided_by: Annotated[list[Role], Meta(description="Who may decide; empty for the rest.")]
    decision: Decision | UnsetType = UNSET
    opens_at: Annotated[Instant, Meta(description="When time alone lifts it.")] | UnsetType = UNSET


class Answer(Shape):
    """One answer to a question, and its words."""

    value: str
    words: str


class SafetyQuestion(Shape):
    """A fact that would close findings."""

    fact: str
    pointer: Annotated[str, Meta(description="Where in the request the answer belongs.")]
    words: str
    answers: Annotated[list[Answer], Meta(description="Empty: a number, a date or a list.")]
    closes: Annotated[list[RuleId], Meta(description="The rules that wait for it.")]
    may_skip: Annotated[bool, Meta(description="False while a stop waits for it.")]
    fresh: Annotated[bool, Meta(description="Asked again at each visit.")]
    of: Annotated[
        AskedOf,
        Meta(description="Who can say: client, colourist, the line's card, the app itself."),
    ]
    kept_with: Annotated[
        KeptWith,
        Meta(
            description="Where the answer is kept: with the client, the service, each zone of its"
            " mix, the line for every service, or the alert test."
        ),
    ]
    input: Annotated[
        Input,
        Meta(
            description="How it is entered: one of `answers`, a number, a few words, the hair's"
            " past, or elsewhere than under the question."
        ),
    ]
    about: (
        Annotated[str, Meta(description="The line's name or the test's record, if kept with one.")]
        | UnsetType
    ) = UNSET
    to_client: Annotated[
        str,
        Meta(description="The same as the client reads it; empty for what a client is not asked."),
    ] = ""


class AlertTestState(Shape):
    """The alert test this service rests on."""

    needed: YesNo
    state: Literal[
        "not_needed", "missing", "other_line", "too_soon", "unread", "reacted", "lapsed", "unsure",
        "clear",
    ]  # fmt: skip
    ready_at: Annotated[Instant, Meta(description="Earliest start.")] | UnsetType = UNSET
    last_day: Annotated[str, Meta(description="The last day it holds.")] | UnsetType = UNSET
    apply_by: (
        Annotated[Instant, Meta(description="Latest moment for a new test before `starts_at`.")]
        | UnsetType
    ) = UNSET


class SafetyReviewReply(Shape):
    """What the rules find. A hold is an answer, not a refusal."""

    findings: list[Finding]
    questions: list[SafetyQuestion]
    may_mix: Annotated[bool, Meta(description="Nothing before the mix holds: show the recipe.")]
    may_start: Annotated[bool, Meta(description="Nothing holds at all: the clock may start.")]
    rinse_now: Annotated[bool, Meta(description="The mix is on and something holds.")]
    never_blocked: list[NeverBlocked]
    alert_test: AlertTestState
    emergency_number: str
    profile: Profile
    time_zone: str
    edition: str
    engine_version: str


class SafetySource(Shape):
    """One source, and how far it was checked."""

    key: str
    title: str
    says: str
    where: str
    seen: Literal["read", "from_memory", "trade_page"]
    checked: Annotated[str, Meta(description="How and when it was looked at.")]


class RuleInWords(Shape):
    """One rule as people read it."""

    id: RuleId
    part: str
    severity: dict[Profile, Severity]
    phases: list[Phase]
    purposes: list[Purpose]
    when: str
    message: str
    next: str
    status: Status
    sources: list[str]
    decided_by: list[Role]
    may_loosen: bool


class FactInWords(Shape):
    """One fact the rules read."""

    name: str
    question: str
    answers: list[Answer]
    caution: Annotated[list[str], Meta(description="Its values from least to most caution.")]
    fresh_hours: float | None
    of: AskedOf


class SafetyRules(Shape):
    """The whole rule book in words."""

    edition: str
    rules: list[RuleInWords]
    facts: list[FactInWords]
    worked_out: Annotated[
        dict[str, str], Meta(description="What the rules read that is worked out, in words.")
    ]
    sources: list[SafetySource]
    never_blocked: list[NeverBlocked]
    engine_version: str
