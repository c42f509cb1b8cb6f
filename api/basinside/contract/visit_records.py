"""The kinds of record that belong to one visit, and what their fields may hold."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .base import Lab, Shape
from .colours import Colour
from .entered import Entered
from .hair import Hair
from .mixes import Mix
from .predictions import Window
from .record_parts import (
    Answers,
    BatchOn,
    Bowl,
    Called,
    Corrected,
    FrozenAnswer,
    FrozenDecision,
    FrozenTest,
    Heards,
    HeldAt,
    Id,
    LightenerSaid,
    Looked,
    Minutes,
    Moment,
    NotDone,
    Number,
    Photo,
    ProductsThen,
    Result,
    Text,
    Word,
)
from .safety import Area, Purpose
from .wishes import Wish

Work = Literal["toner", "lightener"]


class ServiceFields(Shape):
    """A service: one visit."""

    client: Id | UnsetType = UNSET
    planned_at: Moment | UnsetType = UNSET
    purpose: Purpose | UnsetType = UNSET
    state: Literal["planned", "started", "ended", "cancelled"] | UnsetType = UNSET
    profile: (
        Annotated[Word, Meta(description="Whose rules held when its clock was started.")]
        | UnsetType
    ) = UNSET
    wish: Wish | UnsetType = UNSET
    hair: Hair | UnsetType = UNSET
    person: Id | UnsetType = UNSET
    result: Result | UnsetType = UNSET
    next_visit: Text | UnsetType = UNSET
    facts: Answers | UnsetType = UNSET
    held: HeldAt | UnsetType = UNSET
    not_done: NotDone | UnsetType = UNSET


class ZoneFields(Shape):
    """A zone of a service: a part of the head with its own mix."""

    service: Id | UnsetType = UNSET
    name: Text | UnsetType = UNSET
    work: Annotated[Work, Meta(description="What its mix does.")] | UnsetType = UNSET
    lightener: LightenerSaid | UnsetType = UNSET
    looked: Looked | UnsetType = UNSET
    area: Area | UnsetType = UNSET
    heat: Literal["yes", "no"] | UnsetType = UNSET
    entered: Entered | UnsetType = UNSET
    hair: Hair | UnsetType = UNSET
    wish: Wish | UnsetType = UNSET
    mix: Mix | UnsetType = UNSET
    mix_chosen: (
        Annotated[
            Mix,
            Meta(
                description="The mix as it was chosen, where another amount of it was weighed:"
                " `mix` is what was weighed."
            ),
        ]
        | UnsetType
    ) = UNSET
    products: ProductsThen | UnsetType = UNSET
    window: Window | UnsetType = UNSET
    most_minutes: (
        Annotated[Minutes, Meta(description="The longest its products may stay on, by leaflet.")]
        | UnsetType
    ) = UNSET
    look_again_min: (
        Annotated[
            Minutes,
            Meta(description="The minute another look is worth taking at, as the last look shows."),
        ]
        | UnsetType
    ) = UNSET
    predicted: Colour | UnsetType = UNSET
    formula: Id | UnsetType = UNSET
    order: Number | UnsetType = UNSET
    first_section_at: Moment | UnsetType = UNSET
    last_section_at: Moment | UnsetType = UNSET
    deadline_at: (
        Annotated[Moment, Meta(description="Wall clock, so that it outlives the page.")] | UnsetType
    ) = UNSET
    rinsed_at: Moment | UnsetType = UNSET
    heard: Heards | UnsetType = UNSET


class StartFields(Shape):
    """A visit as it stood when a zone's first section went on; nothing learnt later is in it."""

    service: Id | UnsetType = UNSET
    client: Id | UnsetType = UNSET
    zone: Id | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    worker: Called | UnsetType = UNSET
    salon: Called | UnsetType = UNSET
    name: Text | UnsetType = UNSET
    profile: Word | UnsetType = UNSET
    wish: Wish | UnsetType = UNSET
    hair: Hair | UnsetType = UNSET
    answers: Annotated[list[FrozenAnswer], Meta(max_length=1000)] | UnsetType = UNSET
    tests: Annotated[list[FrozenTest], Meta(max_length=1000)] | UnsetType = UNSET
    decisions: Annotated[list[FrozenDecision], Meta(max_length=1000)] | UnsetType = UNSET
    work: Work | UnsetType = UNSET
    bowl: Bowl | UnsetType = UNSET
    lightener: LightenerSaid | UnsetType = UNSET
    window: Window | UnsetType = UNSET
    most_minutes: Minutes | UnsetType = UNSET
    predicted: Colour | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class NoteFields(Shape):
    """A note."""

    service: Id | UnsetType = UNSET
    client: Id | UnsetType = UNSET
    text: Text | UnsetType = UNSET
    photo: Photo | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class ReadingFields(Shape):
    """A colour that was seen or measured."""

    service: Id | UnsetType = UNSET
    zone: Id | UnsetType = UNSET
    minute: Minutes | UnsetType = UNSET
    where: Literal["on_head", "wiped", "dried"] | UnsetType = UNSET
    source: Literal["instrument", "photo", "eye"] | UnsetType = UNSET
    lab: Lab | UnsetType = UNSET
    trusted: (
        Annotated[
            bool,
            Meta(
                description="Whether somebody has said that it is right, though hardly any such"
                " head looks so."
            ),
        ]
        | UnsetType
    ) = UNSET
    words: (
        Literal[
            "as_shown", "pinker", "yellower", "greener", "more_violet", "greyer", "darker",
            "lighter", "patchy",
        ]
        | UnsetType
    ) = UNSET  # fmt: skip
    at: Moment | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class StepFields(Shape):
    """Something that was done in a service."""

    service: Id | UnsetType = UNSET
    what: Text | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class DecisionFields(Shape):
    """A named person's decision on one finding."""

    service: Id | UnsetType = UNSET
    rule: Word | UnsetType = UNSET
    basis: (
        Annotated[
            Text,
            Meta(
                description="The finding's own words for what was decided on: another basis is"
                " another decision."
            ),
        ]
        | UnsetType
    ) = UNSET
    edition: Word | UnsetType = UNSET
    saw: Text | UnsetType = UNSET
    why: Text | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    role: Word | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class ClosingFields(Shape):
    """Closes a matter that needed a look, and bears its id: what was seen, why it may rest."""

    client: Id | UnsetType = UNSET
    service: Id | UnsetType = UNSET
    saw: Text | UnsetType = UNSET
    why: Text | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    role: Word | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET


class ReactionFields(Shape):
    """What a product did to somebody, as it was seen; never changed, only put right."""

    client: Id | UnsetType = UNSET
    service: Id | UnsetType = UNSET
    zone: Id | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    signs: (
        Annotated[list[Word], Meta(max_length=50, description="In the safety rules' words.")]
        | UnsetType
    ) = UNSET
    outcome: Annotated[list[Word], Meta(max_length=50)] | UnsetType = UNSET
    batches: Annotated[list[BatchOn], Meta(max_length=100)] | UnsetType = UNSET
    done: Annotated[Text, Meta(description="What was done about it.")] | UnsetType = UNSET
    told: Annotated[Text, Meta(description="Who was told.")] | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    text: Text | UnsetType = UNSET
    photo: Photo | UnsetType = UNSET
    corrects: Corrected | UnsetType = UNSET
