"""The rule book as it is read from rules.toml: checked when read, the same for ever after."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Literal

import msgspec

from ...contract.fact_rows import Fact, fact_rows
from ...contract.safety import Phase, Profile, Purpose, Role, Severity, Status
from .conditions import Condition, read_condition

PROFILES: tuple[Profile, ...] = ("eu", "uk", "us", "other")
RANK: dict[Severity, int] = {"advise": 1, "decide": 2, "stop": 3}
_FIRES = "fires"
ASKS = "asks"


class _Strict(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    pass


class ProfileRow(_Strict, frozen=True):
    """What a jurisdiction sets."""

    emergency_number: str
    consent_age: int
    keep_months: int


class Rule(_Strict, frozen=True, kw_only=True):
    """One rule, as its row in the file has it."""

    id: str
    part: str
    severity: Severity | dict[Profile, Severity]
    phases: list[Phase]
    when: list[object]
    say: str
    next: str
    sources: list[str]
    status: Status
    say_unknown: str = ""
    purposes: list[Purpose] = msgspec.field(default_factory=lambda: ["client"])
    decided_by: list[Role] = msgspec.field(default_factory=lambda: ["colourist", "in_charge"])
    stop_when: list[object] = []
    unasked: str = _FIRES
    unknown: str = _FIRES
    other: Literal["strictest", "off"] = "strictest"
    basis_also: list[str] = []
    once_per_line: bool = False
    loosen: bool = False

    def severity_in(self, profile: Profile) -> Severity | None:
        """Return the severity under a profile; none where the rule does not apply.

        `other`, a place no profile describes, takes the strictest of all.
        """
        if not isinstance(self.severity, dict):
            return self.severity
        if profile != "other":
            return self.severity.get(profile)
        if self.other == "off":
            return None
        return max(self.severity.values(), key=RANK.__getitem__)


class Source(_Strict, frozen=True):
    """One source of the register."""

    title: str
    says: str
    where: str
    seen: Literal["read", "from_memory", "trade_page"]
    checked: str


class RuleBook(_Strict, frozen=True):
    """Everything in the file, in its order. The facts have a file of their own."""

    edition: str
    profiles: dict[Profile, ProfileRow]
    rules: list[Rule]
    worked_out: dict[str, str]
    sources: dict[str, Source]

    @property
    def facts(self) -> dict[str, Fact]:
        """Every fact that can be asked for, by name."""
        return fact_rows()


_YES_NO = {"yes": "Yes", "no": "No", "unknown": "Not sure"}


@cache
def rule_book() -> RuleBook:
    """Return the rule book. Raises ValidationError when the file is not of its shape."""
    text = (files(__package__) / "rules.toml").read_text("utf-8")
    return msgspec.convert(tomllib.loads(text), RuleBook)


@cache
def rules_by_id() -> dict[str, Rule]:
    """Return each rule by its id."""
    return {rule.id: rule for rule in rule_book().rules}


_RELIED_ON = "test_used_before"


def each_time_advice() -> dict[Profile, str]:
    """Return, by profile, the advice where an alert test serves one colouring and no more.

    Under these rules the months of an insurer's terms do not count. A profile whose rules let them
    count is absent.
    """
    return {
        profile: rule.next
        for profile in PROFILES
        for rule in rule_book().rules
        if any(str(clause).startswith(_RELIED_ON) for clause in rule.when)
        and rule.severity_in(profile) in ("stop", "decide")
    }


@cache
def condition_of(rule_id: str) -> Condition:
    """Return the condition of a rule."""
    return read_condition(rules_by_id()[rule_id].when)


@cache
def stop_condition_of(rule_id: str) -> Condition | None:
    """Return the condition that turns a rule into a stop, where it has one."""
    when = rules_by_id()[rule_id].stop_when
    return read_condition(when) if when else None


def answers_of(fact: Fact) -> dict[str, str]:
    """Return the answers to a fact's question in words; none for numbers, dates and lists."""
    if fact.answers or not {"yes", "no"} <= set(fact.caution):
        return fact.answers
    return _YES_NO


def place_of(name: str, fact: Fact) -> str:
    """Return where in the request a fact belongs; `*` means each entry of a list."""
    return fact.place or f"/facts/{name}"
