"""The rows of safety_facts.toml: what is known of each fact the safety rules may ask for."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Literal

import msgspec

AskedOf = Literal["client", "colourist", "card", "app"]
KeptWith = Literal["client", "service", "zone", "line", "test"]
Input = Literal["choice", "number", "text", "past", "elsewhere"]

_NOT_ASKED = "not_asked"


class _Strict(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    pass


class Fact(_Strict, frozen=True):
    """One fact that can be asked for; the head of the file says what each value means."""

    was: str
    ask: str
    asked_of: AskedOf
    kept_with: KeptWith
    input: Input
    to_client: str = ""
    merges: bool = False
    answers: dict[str, str] = {}
    caution: list[str] = []
    fresh_hours: float | None = None
    place: str = ""


class Seen(_Strict, frozen=True):
    """What is written down without a question, in words of more or less caution.

    `blank` are the words that say nobody knows yet. The first is the value where nothing was
    written.
    """

    caution: list[str]
    blank: list[str]


class _File(_Strict, frozen=True):
    facts: dict[str, Fact]
    seen: dict[str, Seen]


class Caution(_Strict, frozen=True):
    """The words of a merged fact, least caution first, and those that say nobody knows.

    `blank[0]` is the value where nothing was ever written. From a blank word an answer may lead to
    less caution; from any other word only a decision to clear it. A word that is not in `order`
    comes from a newer app and counts as the most cautious of all.
    """

    order: tuple[str, ...]
    blank: tuple[str, ...]


@cache
def _rows() -> _File:
    text = (files(__package__) / "safety_facts.toml").read_text("utf-8")
    return msgspec.convert(tomllib.loads(text), _File)


def fact_rows() -> dict[str, Fact]:
    """Return each fact's row by its name. Raises ValidationError when the file is misshapen."""
    return _rows().facts


@cache
def merged_facts() -> tuple[str, ...]:
    """Return the facts that are fields of the client's record and merge toward caution."""
    return tuple(name for name, fact in fact_rows().items() if fact.merges)


@cache
def cautions() -> dict[str, Caution]:
    """Return the order of caution of all that merges toward it, by the record field's name."""
    asked = {name: _caution(fact_rows()[name].caution) for name in merged_facts()}
    return asked | {name: _caution(row.caution, row.blank) for name, row in _rows().seen.items()}


def _caution(words: list[str], blank: list[str] | None = None) -> Caution:
    blank = blank or [_NOT_ASKED, "unknown"]
    least, *more = words
    return Caution(order=(least, blank[0], *more), blank=tuple(blank))
