"""The rule book as docs/safety.md, for people to read."""

import msgspec

from ..contract.safety import RuleInWords, SafetyRules, SafetySource
from ..engine.door import answer
from ..service import ROOT

PAGE = ROOT / "docs" / "safety.md"
_STATUS = {
    "published": "published",
    "common_practice": "common practice, no published source",
    "not_yet_checked": "not yet checked against the primary text",
}
_SEEN = {"read": "read", "from_memory": "from memory", "trade_page": "trade pages only"}
_OPENING = """\
# Safety: the rules, their sources, and what they cannot do

This page is written by `basinside safety` from the rule book the engine reads; `make check`
says when it has drifted. Edition {edition}, {count} rules.

Basinside is a checklist that remembers, not a clinician. In this order, the maker's leaflet,
local law and licensing, and a doctor come before anything it says.

## How it works

- **stop** holds the service until the facts change; nobody can override it. **decide** holds it
  until a named person says what they saw and why they go on. **advise** is shown and holds nothing.
- A fact nobody asked for and an answer of "not sure" count as unsafe, never as "no".
- A decision counts for the facts it was taken on. When the line, the class, the area, the strength
  or the heat it rests on changes, it must be taken again. Nobody can date it back, and the client
  cannot take it. About a line (leaflet, label) it is taken once, not at each visit.
- 48 hours are elapsed time between stored moments, whatever clocks and zones did. A test's months
  are calendar months and end with the same day of the month (the last, where there is none). A
  clock set back makes ages unknown, and an unknown age opens nothing. The engine carries no table
  of time zones: it works from the offset written with each moment, and says which it used.
- Where no profile fits, `other` takes the strictest of all. A salon may make a rule stricter, and
  milder only where this page says so, with a name, a reason and a day to look again.
- **Never held: rinsing, first aid, a call for help, ending a service, an export.** A hold that
  comes while the mix is on says rinse.

## What it cannot do

- **It has not been reviewed by a doctor, a lawyer or an insurer.** It is a reading of published
  sources, and of what the trade does where there are none; each rule says which.
- A clear alert test lowers the risk and proves nothing safe: false negatives are on record.
- It knows what it was told. It cannot see the scalp, smell the fumes or feel the foil.
- A fact that is not on this phone is not known here; that is not the same as "no".
- Licensing by state, national ages of consent and periods for keeping records are not in it, but
  for the strictest usual figure; set your own.
- It asks nothing about epilepsy, diabetes, blood pressure, thyroid or vaccination: no source was
  found, and a question without a rule would only collect health data.
- The 2 minutes for a mild tingle and the 24 hours after which scalp and face are asked again are
  our own figures.
"""


def safety_page() -> str:
    """Return the page as Markdown."""
    book = msgspec.json.decode(answer("safety/rules", b"").body, type=SafetyRules)
    parts = dict.fromkeys(rule.part for rule in book.rules)
    lines = [_OPENING.format(edition=book.edition, count=len(book.rules))]
    lines += ["## The rules", ""]
    for part in parts:
        lines += [f"### {part}", ""]
        for rule in book.rules:
            if rule.part == part:
                lines += [*_rule(rule), ""]
    lines += ["## The sources", "", "| key | source | what we use | checked |", "|---|---|---|---|"]
    lines += [_source(source) for source in book.sources]
    lines += ["", "## The facts", "", "| fact | question | lapses |", "|---|---|---|"]
    for fact in book.facts:
        lapses = f"after {fact.fresh_hours:g} h" if fact.fresh_hours else ""
        lines.append(f"| `{fact.name}` | {fact.question} | {lapses} |")
    lines += [
        "",
        "Worked out from these and from the plan:",
        "",
        "| fact | what it is |",
        "|---|---|",
    ]
    lines += [f"| {name.replace('_', ' ')} | {words} |" for name, words in book.worked_out.items()]
    return "\n".join(lines) + "\n"


def _rule(rule: RuleInWords) -> list[str]:
    same = set(rule.severity.values())
    severity = (
        rule.severity["eu"]
        if len(same) == 1 and len(rule.severity) == 4
        else ", ".join(f"{profile} {value}" for profile, value in rule.severity.items())
    )
    who = f", by {' or '.join(rule.decided_by).replace('_', ' ')}" if rule.decided_by else ""
    milder = "; a salon may take a milder one" if rule.may_loosen else ""
    return [
        f"**{rule.id}** ({severity}{who}{milder}): “{rule.message}” {rule.next}",
        f"When {rule.when}. *{_STATUS[rule.status]}*: {', '.join(rule.sources)}.",
    ]


def _source(source: SafetySource) -> str:
    return (
        f"| {source.key} | {source.title}. {source.where} | {source.says}"
        f" | {_SEEN[source.seen]}: {source.checked} |"
    )
