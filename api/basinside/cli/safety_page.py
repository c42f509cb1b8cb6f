"""Writes the rule book as docs/safety.md, for people to read."""

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

`basinside safety` writes this page from the rule book that the engine reads. `make check` fails
when the two differ. Edition {edition}, {count} rules.

Basinside is a checklist that remembers, not a clinician. The maker's leaflet comes first, then
local law and licensing, then a doctor. All three come before anything it says.

## How it works

- **stop** holds the service until the facts change. Nobody can override it.
- **decide** holds the service until a named person says what they saw and why they go on.
- **advise** is shown and holds nothing.
- A fact nobody asked for and an answer of "not sure" count as unsafe, never as "no".
- A decision counts for the facts it was taken on. If its line, class, area, strength or heat
  changes, somebody must take it again. Nobody can date it back, and the client cannot take it. A
  decision about a line (leaflet, label) is taken once, not at each visit.
- 48 hours are elapsed time between stored moments, whatever clocks and time zones did. A test's
  months are calendar months and end on the same day of the month, or on its last day. A clock set
  back makes ages unknown, and an unknown age opens nothing. The engine has no table of time zones.
  It works from the offset written with each moment, and says which it used.
- If no profile fits, `other` takes the strictest of all. A salon may make a rule stricter. It may
  make one milder only if this page says so, with a name, a reason and a day to look again.
- **Never held: rinsing, first aid, a call for help, ending a service, an export.** A hold that
  comes while the mix is on says rinse.

## What it cannot do

- **No doctor, lawyer or insurer has reviewed it.** It reads published sources, and common practice
  if there is no source. Each rule says which.
- A clear alert test lowers the risk and proves nothing safe: false negatives are on record.
- It knows what it was told. It cannot see the scalp, smell the fumes or feel the foil.
- A fact that is not on this phone is not known here. That is not the same as "no".
- It leaves out licensing by state, national ages of consent and periods for keeping records. It
  has only the strictest usual figure, so set your own.
- It asks nothing about epilepsy, diabetes, blood pressure, thyroid or vaccination. We found no
  source, and a question without a rule would only collect health data.
- Two figures are our own: the 2 minutes for a mild tingle, and the 24 hours after which the app
  asks about scalp and face again.
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
