"""Lists each kind of record, its fields, and how each field merges: the one source of both.

The phone records and folds before Python has started there, so it reads the same table as JSON.
`scripts/record_fields.py` writes that table and says when it has drifted.

Each rule says which value shows when two people wrote a field without seeing each other's write:

- `ordinary`: the later write; the other stays in the history.
- `text`: the later write; both are kept and flagged, since both are somebody's words.
- `safety`: the most cautious of all, and all are flagged.
- `fixed`: set when the record is made, and never again.
- `each`: an object whose keys are written apart, each `ordinary`.

Every kind can be deleted and brought back. A record of an append-only kind never changes. A
correction is a new record that names the old one in `corrects`.
"""

from dataclasses import dataclass, field
from typing import Any, Literal

from ...contract.fact_rows import Caution, cautions, merged_facts

Merge = Literal["ordinary", "text", "safety", "fixed", "each"]

SCHEMA = 3
"""The version in every new operation. `upcast` reads older ones."""


@dataclass(frozen=True)
class Kind:
    """One kind of record: its name in a sentence, and its fields with their rule."""

    words: str
    fields: dict[str, Merge] = field(default_factory=dict)
    append_only: bool = False


def _kind(words: str, *, append_only: bool = False, **names: str) -> Kind:
    fields: dict[str, Merge] = {}
    for rule, listed in names.items():
        fields |= dict.fromkeys(listed.split(), rule)  # type: ignore[arg-type]
    if append_only:
        fields["corrects"] = "fixed"
    return Kind(words, fields, append_only)


KINDS: dict[str, Kind] = {
    "client": _kind(
        "client",
        text="name history",
        ordinary="phone born hair learnt usual_formula",
        safety=" ".join(merged_facts()),
        each="answers",
    ),
    "history_entry": _kind(
        "entry of a hair's history", append_only=True, fixed="client at what class level"
    ),
    "line": _kind(
        "product line",
        # Two calibrations in force are a conflict that somebody has to settle.
        text="name calibration",
        ordinary="class mix_ratio developer_percent window may_mix_with leaflet_version"
        " consistency promised_on leaflet",
        each="legend",
    ),
    "product": _kind(
        "product",
        fixed="line",
        text="name",
        ordinary="code level tone dyes price_per_100g in_stock",
    ),
    "tube": _kind("tube", fixed="product", ordinary="batch opened_at finished_at"),
    "formula": _kind(
        "formula",
        text="name",
        fixed="parent client entered hair wish mix products window most_minutes predicted chance"
        " engine_version calibrations",
    ),
    "service": _kind(
        "service",
        fixed="client purpose",
        ordinary="planned_at state profile wish hair person result next_visit held not_done",
        each="facts",
    ),
    "zone": _kind(
        "zone",
        fixed="service",
        text="name",
        ordinary="work lightener looked area heat entered hair wish mix mix_chosen products window"
        " most_minutes look_again_min predicted formula order first_section_at last_section_at"
        " deadline_at rinsed_at",
        each="heard",
    ),
    # A visit as it stood when a zone's first section went on; nothing learnt later is in it.
    "start": _kind(
        "start of a visit",
        append_only=True,
        fixed="service client zone at worker salon name profile wish hair answers tests decisions"
        " work bowl lightener window most_minutes predicted",
    ),
    "note": _kind("note", append_only=True, fixed="service client text photo at"),
    "reading": _kind(
        "reading", append_only=True, fixed="service zone minute where source lab words at trusted"
    ),
    "step": _kind("step", append_only=True, fixed="service what at by"),
    "decision": _kind(
        "decision", append_only=True, fixed="service rule basis edition saw why by role at"
    ),
    # Its id is the id of the matter that it closes.
    "closing": _kind("closing", append_only=True, fixed="client service saw why by role at"),
    "reaction": _kind(
        "reaction",
        append_only=True,
        fixed="client service zone at signs outcome batches done told by text photo",
    ),
    "alert_test": _kind(
        "alert test",
        fixed="client line maker generation leaflet_version applied_at site method applied_by"
        " from_paper",
        safety="result",
        ordinary="read_at read_by",
        each="heard",
    ),
    "swatch_plan": _kind(
        "plan of swatches", text="name", fixed="line products rows at", each="painted"
    ),
    "swatch": _kind(
        "swatch",
        append_only=True,
        fixed="plan code hair mix after group batch card photo words at",
    ),
    "calibration": _kind(
        "calibration", fixed="line swatches left_out products error engine_version by at"
    ),
    "card": _kind("card for photos", text="name", fixed="patches at"),
    "person": _kind("person", text="name", ordinary="role"),
    "setting": _kind("setting", fixed="key", ordinary="value"),
    "device": _kind("device", ordinary="name"),
}

# The order of caution is the safety rules' own: contract/safety_facts.toml has it.
CAUTION: dict[str, Caution] = cautions()


def table() -> dict[str, Any]:
    """Return the whole table as plain values, for the phone to read as JSON."""
    return {
        "schema": SCHEMA,
        "kinds": {
            name: {"words": kind.words, "append_only": kind.append_only, "fields": kind.fields}
            for name, kind in KINDS.items()
        },
        "caution": {
            name: {"order": list(caution.order), "blank": list(caution.blank)}
            for name, caution in CAUTION.items()
        },
    }
