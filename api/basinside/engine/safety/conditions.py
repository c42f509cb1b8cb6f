"""Conditions over facts in three values: true, false, and open while a fact is missing.

Kleene's strong three-valued logic: an
open part leaves the whole open unless the rest decides it. An open condition is for the
review to judge, and there it counts as true: unknown is never "no".
"""

import re
from typing import Literal, NamedTuple

NOT_ASKED = "not_asked"
UNKNOWN = "unknown"


class Ask(NamedTuple):
    """A fact that can be asked for, and where its answer belongs in the request."""

    fact: str
    pointer: str


class Known(NamedTuple):
    """A fact as it is now: a word, a number or a set of words, and what to ask when missing.

    A missing one is `not_asked` (nobody asked or looked) or `unknown` (somebody did).
    """

    value: str | float | frozenset[str]
    ask: tuple[Ask, ...] = ()


Facts = dict[str, Known]


class Verdict(NamedTuple):
    """What a condition comes to: true, false or open (None), and the facts that are missing.

    `open_by` are those of the missing facts that leave it open; the rest were "not" a safe value.
    """

    truth: bool | None
    missing: tuple[str, ...] = ()
    open_by: tuple[str, ...] = ()


class Term(NamedTuple):
    """One fact against values or a number."""

    fact: str
    operator: Literal["is", "not", "over", "under", "least"]
    words: frozenset[str]
    number: float


class Condition(NamedTuple):
    """All or any of its parts."""

    whole: bool
    parts: "tuple[Term | Condition, ...]"


_TERM = re.compile(r"(\w+) (is|not|over|under|least) (\S+)")


def read_condition(written: list[object], *, whole: bool = True) -> Condition:
    """Return the condition that a list of the file means; lists inside alternate all and any.

    Raises ValueError for a term that cannot be read.
    """
    return Condition(
        whole,
        tuple(
            read_condition(part, whole=not whole) if isinstance(part, list) else _term(str(part))
            for part in written
        ),
    )


def facts_in(condition: Condition) -> list[str]:
    """Return the facts a condition reads, each once, in its order."""
    found: dict[str, None] = {}
    for part in condition.parts:
        found |= dict.fromkeys([part.fact] if isinstance(part, Term) else facts_in(part))
    return list(found)


def in_words(condition: Condition) -> str:
    """Return the condition as a sentence people can read."""
    joined = " and " if condition.whole else " or "
    words = [
        _term_in_words(part) if isinstance(part, Term) else f"({in_words(part)})"
        for part in condition.parts
    ]
    return joined.join(words)


def judge(condition: Condition, facts: Facts) -> Verdict:
    """Return what the condition comes to for these facts."""
    settling = not condition.whole  # one false settles all-of, one true settles any-of
    true: list[Verdict] = []
    open_: list[Verdict] = []
    for part in condition.parts:
        verdict = _judge_term(part, facts) if isinstance(part, Term) else judge(part, facts)
        if verdict.truth is settling and not verdict.missing:
            return verdict
        if verdict.truth is not False:
            (open_ if verdict.truth is None else true).append(verdict)
    if settling and true:
        open_ = []
    truth = None if open_ else (bool(true) or not settling)
    # What leaves it open comes first.
    missing = dict.fromkeys(fact for verdict in [*open_, *true] for fact in verdict.missing)
    open_by = dict.fromkeys(fact for verdict in open_ for fact in verdict.open_by)
    return Verdict(truth, tuple(missing), tuple(open_by))


def _term(written: str) -> Term:
    if (found := _TERM.fullmatch(written)) is None:
        raise ValueError(f"A condition reads: fact is|not|over|under|least value; got {written!r}.")
    fact, operator, value = found.groups()
    if operator in ("over", "under", "least"):
        return Term(fact, operator, frozenset(), float(value))  # type: ignore[arg-type]
    return Term(fact, operator, frozenset(value.split("|")), 0.0)  # type: ignore[arg-type]


def _judge_term(term: Term, facts: Facts) -> Verdict:
    value = facts[term.fact].value
    if isinstance(value, float):
        return Verdict(
            {"over": value > term.number, "under": value < term.number}.get(
                term.operator, value >= term.number
            )
        )
    if isinstance(value, frozenset):
        return _judge_set(term, value)
    missing = value in (NOT_ASKED, UNKNOWN)
    if term.operator == "not":
        # Literally: a value that is missing is not the safe one.
        return Verdict(value not in term.words, (term.fact,) if missing else ())
    if term.operator == "is":
        if value in term.words:
            return Verdict(True, (term.fact,) if value == NOT_ASKED else ())
        if missing and not term.words <= {NOT_ASKED}:
            return Verdict(None, (term.fact,), (term.fact,))
        return Verdict(False)
    return Verdict(None, (term.fact,), (term.fact,))


def _judge_set(term: Term, value: frozenset[str]) -> Verdict:
    if term.operator == "is" and value & term.words:
        return Verdict(True)
    if value & {UNKNOWN, NOT_ASKED}:
        return Verdict(None, (term.fact,), (term.fact,))
    return Verdict(False)


def _term_in_words(term: Term) -> str:
    if not term.words:
        compared = {"over": "over", "under": "under", "least": "at least"}[term.operator]
        return f"{term.fact} is {compared} {term.number:g}"
    *rest, last = sorted(term.words)
    listed = f"{', '.join(rest)} or {last}" if rest else last
    return f"{term.fact} is {'not ' if term.operator == 'not' else ''}{listed}".replace("_", " ")
