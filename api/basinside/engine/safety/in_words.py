"""The rule book in words, for people and for the page that lists it."""

from ...contract.safety import FactInWords, RuleInWords, SafetyRules, SafetySource
from ..version import engine_version
from .conditions import in_words
from .questions import answers_in_words
from .review import NEVER_BLOCKED
from .rulebook import PROFILES, condition_of, rule_book

# The words for a number that each finding fills in.
_IN_GENERAL = {"test_age": "N h", "ready": "day, time", "emergency": "112, 999, 911"}


def rules_in_words() -> SafetyRules:
    """Return every rule, fact and source."""
    book = rule_book()
    return SafetyRules(
        edition=book.edition,
        rules=[
            RuleInWords(
                id=rule.id,
                part=rule.part,
                severity={
                    profile: severity
                    for profile in PROFILES
                    if (severity := rule.severity_in(profile)) is not None
                },
                phases=rule.phases,
                purposes=rule.purposes,
                when=in_words(condition_of(rule.id)),
                message=rule.say.format(**_IN_GENERAL),
                next=rule.next,
                status=rule.status,
                sources=rule.sources,
                decided_by=rule.decided_by if _decided(rule.severity) else [],
                may_loosen=rule.loosen,
            )
            for rule in book.rules
        ],
        facts=[
            FactInWords(
                name=name,
                question=fact.ask,
                answers=answers_in_words(fact),
                caution=fact.caution,
                fresh_hours=fact.fresh_hours,
                of=fact.asked_of,
            )
            for name, fact in book.facts.items()
        ],
        worked_out=book.worked_out,
        sources=[
            SafetySource(key, source.title, source.says, source.where, source.seen, source.checked)
            for key, source in book.sources.items()
        ],
        never_blocked=NEVER_BLOCKED,
        engine_version=engine_version(),
    )


def _decided(severity: object) -> bool:
    return "decide" in (severity.values() if isinstance(severity, dict) else [severity])
