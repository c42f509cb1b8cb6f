"""What is known of the client, the hair and the room, in the words the safety rules read.

Every fact may be absent. Absent means that nobody asked or looked; `unknown` means that
somebody did and it could not be said. Neither ever counts as "no".
"""

from typing import Annotated, Literal

from msgspec import Meta

from .base import Name, Shape

Instant = Annotated[
    str,
    Meta(
        pattern=(
            r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,9})?"
            r"(Z|[+-][0-9]{2}:[0-9]{2})$(?!\n)"
        ),
        description="A moment with its offset (RFC 3339), as 2026-11-25T10:15:00+01:00",
        examples=["2026-11-25T10:15:00+01:00"],
    ),
]
Day = Annotated[
    str,
    Meta(
        pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$(?!\n)",
        description="A day, as 2026-11-25",
        examples=["2026-11-25"],
    ),
]
YesNo = Literal["yes", "no", "unknown"]

Reaction = Literal["none", "mild", "severe", "unknown"]
BlackTattoo = Literal["never", "yes_no_reaction", "yes_reaction", "unknown"]
DyeAllergy = Literal["none", "suspected", "diagnosed", "unknown"]
PersulfateReaction = Literal["none", "skin", "breathing", "faint", "unknown"]
Chemo = Literal["none", "ended", "in_treatment", "unknown"]
ScalpState = Literal[
    "sound", "settled_condition", "sensitive", "irritated", "broken", "sunburnt", "rash",
    "healing", "unknown",
]  # fmt: skip
MetalTest = Literal[
    "not_done", "clear", "heat", "fizz", "smell", "colour_change", "breaks", "unknown"
]
StretchTest = Literal["not_done", "returns", "no_return", "gummy", "snaps", "unknown"]
StrandTest = Literal["not_done", "pass", "fail", "unknown"]
PastService = Literal[
    "metallic", "progressive_restorer", "compound_henna", "plant_henna", "hydroxide_relaxer",
    "thio_relaxer", "perm", "lightened", "permanent_colour", "unknown",
]  # fmt: skip
Sign = Literal[
    "mild_tingle", "itch", "tingling", "burning", "pain", "hives", "swelling_face",
    "swelling_throat", "breathing", "dizzy", "faint", "eye_splash", "hot_foil", "breakage",
    "unknown",
]  # fmt: skip
Outcome = Literal[
    "none", "hospital", "disability", "life_threatening", "death", "infection", "birth_defect",
    "lasting_rash", "hair_loss", "disfigurement", "unknown",
]  # fmt: skip
TestResult = Literal[
    "not_read", "clear", "itch", "redness", "swelling", "blister", "burning", "spread", "other"
]


class AlertTest(Shape):
    """One allergy alert test: a spot of one line on this client's skin, and its result."""

    line: Annotated[Name, Meta(description="The line tested, as its card names it.")]
    applied_at: Instant
    result: TestResult = "not_read"
    read_at: Instant | None = None
    read_by: Name | None = None
    maker: Name | None = None
    generation: Annotated[Name, Meta(description="The formula's generation.")] | None = None
    leaflet_version: Name | None = None
    site: Annotated[Name, Meta(description="Where on the skin, in the leaflet's words.")] | None = (
        None
    )
    method: Annotated[Name, Meta(description="How, in the leaflet's words.")] | None = None
    applied_by: Literal["salon", "client", "unknown"] | None = None
    used_before: (
        Annotated[YesNo, Meta(description="Has an earlier colouring already relied on it?")] | None
    ) = None
    from_paper: bool = False


class HairPast(Shape):
    """One thing done to this hair before."""

    what: PastService
    on: Day | None = None
    zone: Annotated[Name, Meta(description="Where; absent counts as everywhere.")] | None = None


class SaidAt(Shape):
    """When one fact was said or seen."""

    fact: Annotated[str, Meta(min_length=1, max_length=64, examples=["scalp"])]
    at: Instant


class SafetyFacts(Shape):
    """All that was asked, seen and tested. Absent is not asked; neither it nor unknown is no."""

    age_years: Annotated[int, Meta(ge=0, le=130, description="Whole years.")] | None = None
    sixteen_or_over: YesNo | None = None
    eighteen_or_over: YesNo | None = None
    could_be_under_18: (
        Annotated[YesNo, Meta(description="The colourist's own look, where no age is said.")] | None
    ) = None
    guardian_consent: YesNo | None = None
    colour_reaction: Reaction | None = None
    black_tattoo: BlackTattoo | None = None
    dye_allergy: DyeAllergy | None = None
    persulfate_reaction: PersulfateReaction | None = None
    asthma: YesNo | None = None
    change_since_test: YesNo | None = None
    test_masking: YesNo | None = None
    tests: Annotated[list[AlertTest], Meta(max_length=50)] = []
    pregnant: YesNo | None = None
    breastfeeding: YesNo | None = None
    chemo: Chemo | None = None
    chemo_ended_months: (
        Annotated[int, Meta(ge=0, le=1200, description="Whole months since it ended.")] | None
    ) = None
    scalp: ScalpState | None = None
    face_rash: YesNo | None = None
    hair_past: Annotated[list[HairPast], Meta(max_length=50)] | None = None
    hair_past_doubt: (
        Annotated[YesNo, Meta(description="Could unknown colour in this hair hold metal?")] | None
    ) = None
    metal_test: MetalTest | None = None
    stretch_test: StretchTest | None = None
    strand_test: StrandTest | None = None
    new_to_client: (
        Annotated[YesNo, Meta(description="First service on this client, or with this line?")]
        | None
    ) = None
    hair_doubt: YesNo | None = None
    signs: Annotated[list[Sign], Meta(max_length=15, description="Seen or felt just now.")] = []
    tingle_stayed: (
        Annotated[YesNo, Meta(description="Still there, worse or spreading after 2 minutes?")]
        | None
    ) = None
    signs_later: Annotated[
        list[Sign], Meta(max_length=15, description="Told after the client left.")
    ] = []
    outcome: Annotated[list[Outcome], Meta(max_length=11)] = []
    reaction_record: Literal["none", "open", "complete", "unknown"] | None = None
    gloves: YesNo | None = None
    air: Literal["open", "extract", "poor", "unknown"] | None = None
    worker_skin: Literal["clear", "signs", "unknown"] | None = None
    worker_breathing: Literal["clear", "signs", "unknown"] | None = None
    worker_dye_allergy: YesNo | None = None
    health_note: (
        Annotated[YesNo, Meta(description="Was free text typed into a health field?")] | None
    ) = None
    health_kept: (
        Annotated[YesNo, Meta(description="Is a fact about health kept past this visit?")] | None
    ) = None
    health_basis: Literal["consent", "other_basis", "none", "unknown"] | None = None
    record_age_months: Annotated[int, Meta(ge=0, le=1200)] | None = None
    state_board_set: YesNo | None = None
    said_at: Annotated[
        list[SaidAt],
        Meta(max_length=100, description="When facts were said; those that must be fresh lapse."),
    ] = []
