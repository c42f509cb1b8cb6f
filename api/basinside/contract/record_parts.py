"""The values inside records that are more than a word or a number, and the bounds they share.

A bound here is what a field may hold for ever: a record is kept for years, and an older one must
still be read. What a calculation takes is narrower, and its own shapes say so.
"""

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from .base import Lab, Shape
from .hair import Sure
from .products import Product
from .sync import Sha256, Uuid

Id = Uuid
"""The id of another record."""
# A day that the calendar has, of the years 1900 to 2999.
_YEAR = r"(19|2[0-9])[0-9]{2}"
_LEAP_YEAR = r"((19|2[0-9])(0[48]|[2468][048]|[13579][26])|2[048]00)"
_DAY = (
    rf"({_YEAR}-((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)"
    rf"|02-(0[1-9]|1[0-9]|2[0-8]))|{_LEAP_YEAR}-02-29)"
)
_HOUR = r"([01][0-9]|2[0-3]):[0-5][0-9]"
Moment = Annotated[
    str,
    Meta(pattern=rf"^{_DAY}T{_HOUR}(:[0-5][0-9](\.[0-9]{{1,9}})?)?(Z|[+-]{_HOUR})$(?!\n)"),
]
"""RFC 3339, with its offset."""
Text = Annotated[str, Meta(max_length=65_536)]
"""Somebody's own words. An operation's own bound is the tighter one."""
Called = Annotated[str, Meta(max_length=500)]
"""A name or a short phrase."""
Word = Annotated[str, Meta(max_length=64)]
"""One word of a list that may grow."""
Number = Annotated[float, Meta(ge=-1e9, le=1e9)]
Minutes = Annotated[float, Meta(ge=0, le=10_000)]
Grams = Annotated[float, Meta(ge=0, le=100_000)]
Percent = Annotated[float, Meta(ge=0, le=100)]
Share = Annotated[float, Meta(ge=0, le=1)]
Corrected = Annotated[Id, Meta(description="The record of the same kind that this one corrects.")]
ProductsThen = Annotated[
    list[Product], Meta(max_length=500, description="As they were, to be worked out again.")
]
Photo = Annotated[Sha256, Meta(description="The SHA-256 of a photo that was kept.")]


class SaidOption(Shape):
    """One of the answers that could be given."""

    value: str
    words: Text


class PastSaid(msgspec.Struct, frozen=True):
    """One thing that was done to this hair before, as it was said. It may hold more."""

    what: Word | UnsetType = UNSET
    on: Word | UnsetType | None = UNSET
    zone: Text | UnsetType | None = UNSET


Answered = Text | Number | bool | Annotated[list[Called | PastSaid], Meta(max_length=200)] | None
"""The value of one answer, of whatever fact. The safety rules check it against the fact's own."""


class KeptAnswer(Shape):
    """One answer, with its moment and who wrote it down."""

    value: Answered
    at: Moment
    by: Annotated[Called, Meta(description="Who wrote it down; empty while nobody has said.")]
    asked: Text | UnsetType = UNSET
    words: Text | UnsetType = UNSET
    options: Annotated[list[SaidOption], Meta(max_length=50)] | UnsetType = UNSET


Answers = dict[Annotated[str, Meta(max_length=200)], KeptAnswer]


class Leaflet(msgspec.Struct, frozen=True):
    """What was entered of a line's leaflet. It may hold more."""

    min_hours: Number | UnsetType = UNSET
    max_hours: Number | UnsetType = UNSET
    site: Text | UnsetType = UNSET
    method: Text | UnsetType = UNSET
    max_minutes: Minutes | UnsetType = UNSET
    heat_allowed: bool | UnsetType = UNSET
    contains: Annotated[list[Called], Meta(max_length=200)] | UnsetType = UNSET


class LightenerSaid(Shape):
    """A lightener by its leaflet. Until `max_min` is known, it cannot go on."""

    kind: Literal["powder", "cream"]
    developer_percent: Annotated[Percent, Meta(description="Of peroxide: at most 12.")]
    check_every_min: Minutes
    mix_ratio: Annotated[Number, Meta(description="Grams of developer per gram of lightener.")]
    grams: Grams
    max_min: Minutes | UnsetType = UNSET


class Looked(Shape):
    """A wiped strand under a lightener at a minute: its level by the chart, or measured wet."""

    minute: Minutes
    level: Number | UnsetType = UNSET
    warmth: Number | UnsetType = UNSET
    lab: Lab | UnsetType = UNSET


class Learnt(Shape):
    """What earlier visits taught about a head."""

    porosity: Number | UnsetType = UNSET
    rate: Number | UnsetType = UNSET
    uptake: Number | UnsetType = UNSET
    sure: Sure | UnsetType = UNSET


class Heard(Shape):
    """Who heard an alarm, and when."""

    at: Moment
    by: Annotated[Called, Meta(description="The person, or the device where nobody was named.")]


Heards = Annotated[
    dict[Annotated[str, Meta(max_length=200)], Heard],
    Meta(
        description="Each alarm that was heard, under what it asked for and its moment in UTC, as"
        ' in "by 2026-11-30T10:12:00Z". An alarm of another moment was not heard by that.'
    ),
]


class Result(Shape):
    """What came of a service."""

    at: Moment
    lab: Lab | UnsetType = UNSET
    words: Text | UnsetType = UNSET
    photo: Photo | UnsetType = UNSET


class HeldAt(Shape):
    """What held a service when somebody last wanted to begin, in the rules' own words."""

    at: Moment
    rules: Annotated[list[Word], Meta(max_length=100)]
    words: Text


class NotDone(Shape):
    """Why a service was not done, where somebody said so."""

    at: Moment
    why: Text


class BatchOn(Shape):
    """A product that was on, with its tube's batch where it is known."""

    product: Called
    line: Called | UnsetType = UNSET
    batch: Called | UnsetType = UNSET


class FrozenAnswer(Shape):
    """An answer as it stood when a visit began: what was asked, what was said, when, to whom."""

    fact: Annotated[str, Meta(max_length=200)]
    value: Answered
    asked: Text | UnsetType = UNSET
    words: Text | UnsetType = UNSET
    at: Moment | UnsetType = UNSET
    by: Called | UnsetType = UNSET


class FrozenTest(Shape):
    """An alert test as it stood when a visit began."""

    line: Called | UnsetType = UNSET
    applied_at: Moment | UnsetType = UNSET
    site: Text | UnsetType = UNSET
    applied_by: Called | UnsetType = UNSET
    result: Word | UnsetType = UNSET
    read_at: Moment | UnsetType = UNSET
    read_by: Called | UnsetType = UNSET
    from_paper: bool | UnsetType = UNSET


class FrozenDecision(Shape):
    """A decision as it stood when a visit began."""

    rule: Word | UnsetType = UNSET
    basis: Text | UnsetType = UNSET
    saw: Text | UnsetType = UNSET
    why: Text | UnsetType = UNSET
    by: Called | UnsetType = UNSET
    role: Word | UnsetType = UNSET
    at: Moment | UnsetType = UNSET


class BowlPart(Shape):
    """One product that was weighed."""

    product: Called
    name: Called
    grams: Grams
    line: Called | UnsetType = UNSET
    batch: Called | UnsetType = UNSET


class BowlDeveloper(Shape):
    """The developer that was weighed."""

    percent: Percent
    grams: Grams


class Bowl(Shape):
    """What was weighed, by the names on the tubes."""

    parts: Annotated[list[BowlPart], Meta(max_length=20)]
    developer: BowlDeveloper | UnsetType = UNSET
