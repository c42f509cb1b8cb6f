"""Each field of a record has a type in the contract, and what phones write fits it."""

import json
import random
from pathlib import Path

import msgspec
import pytest
from drawing import seeds
from msgspec import inspect
from pages_code import told_of_each
from wrong_values import FIELDS, drawn_faults, right_value

from basinside.contract.records import RECORD_FIELDS
from basinside.service.records.fields import KINDS
from basinside.service.records.operation import Operation
from basinside.service.records.typed import fault_in, type_of_field, unreadable
from basinside.service.records.upcast import upcast

ROOT = Path(__file__).resolve().parents[2]
ID = "0199c0de-0000-7000-8000-000000000001"
AT = "2026-11-25T10:15:00+01:00"
LAB = [72.0, 2.0, 9.0]
MIX = {"parts": [{"product": "st9vb", "grams": 40}], "minutes": 10}


@pytest.mark.parametrize("kind", KINDS)
def test_the_types_and_the_merge_rules_name_the_same_fields(kind):
    typed = {field.encode_name for field in inspect.type_info(RECORD_FIELDS[kind]).fields}
    assert typed == set(KINDS[kind].fields)


def test_every_kind_has_its_types_and_no_other_has():
    assert set(RECORD_FIELDS) == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_may_be_missing_or_taken_away(kind):
    for field in inspect.type_info(RECORD_FIELDS[kind]).fields:
        assert not field.required, field.name
        name = field.encode_name
        assert (
            fault_in(kind, f"{name}.x" if KINDS[kind].fields[name] == "each" else name, None)
            is None
        )


FITTING = [
    ("client", "name", "x" * 65_536, "x" * 65_537),
    ("client", "phone", "", 5),
    ("client", "usual_formula", ID, "formula 1"),
    ("client", "answers.pregnant", {"value": "no", "at": AT, "by": ""}, {"value": "no"}),
    ("client", "answers.age_years", {"value": 34, "at": AT, "by": ID, "asked": "Age?"}, "34"),
    ("line", "legend.N", ["natural"], "natural"),
    ("tube", "opened_at", "2028-02-29T10:00Z", "2026-02-29T10:00Z"),
    ("tube", "opened_at", "2026-12-31T23:59:59-11:00", "2026-12-31T24:00:00Z"),
    ("tube", "opened_at", "2999-01-01T00:00Z", "9999-99-99"),
    ("client", "answers.pregnant", {"value": ["a"], "at": AT, "by": ""}, {"value": {"x": 1}}),
    ("line", "leaflet", {"min_hours": 48, "of_a_newer_app": 1}, {"min_hours": "48"}),
    ("line", "developer_percent", [1.9, 100], [100.1]),
    ("product", "in_stock", False, "no"),
    ("service", "state", "ended", "paused"),
    ("service", "facts.scalp", {"value": "sound", "at": AT, "by": ""}, []),
    ("zone", "mix", MIX, MIX | {"minutes": 121}),
    ("zone", "first_section_at", "2026-11-25T09:15:00.120Z", "2026-11-25"),
    ("zone", "order", 2, "2"),
    ("zone", "area", "scalp", "head"),
    ("reading", "lab", LAB, LAB[:2]),
    ("reading", "words", "patchy", "purple"),
    ("reading", "minute", 0, -1),
    ("reaction", "signs", ["itch", "a word of a newer app"], "itch"),
    ("note", "photo", "0" * 64, "0" * 63),
    ("setting", "value", {"months": 3, "by": "Ana"}, {"months": [3]}),
    ("alert_test", "result", "a word of a newer app", "x" * 65),
]


@pytest.mark.parametrize(("kind", "field", "fits", "fails"), FITTING)
def test_a_value_within_its_bounds_fits_and_one_outside_does_not(kind, field, fits, fails):
    assert fault_in(kind, field, fits) is None
    if fails is not None:
        assert fault_in(kind, field, fails)


DRAWN = seeds(1000)


def test_a_value_that_fits_is_drawn_for_each_field_and_a_wrong_one_never_fits():
    for seed in DRAWN:
        kind, field = FIELDS[seed % len(FIELDS)]
        name = f"{field}.of" if KINDS[kind].fields[field] == "each" else field
        value = right_value(random.Random(seed), kind, name)
        assert fault_in(kind, name, value) is None, (seed, kind, name, value)
        kind, name, value = drawn_faults(seed)
        assert fault_in(kind, name, value), (seed, kind, name, value)


def test_the_page_reads_the_same_values_as_the_desk(tmp_path):
    asked = [drawn_faults(seed) for seed in DRAWN]
    asked += [(kind, name, fits) for kind, name, fits, _ in FITTING]
    asked += [(kind, name, fails) for kind, name, _, fails in FITTING]
    asked += [
        (kind, field, right_value(random.Random(seed), kind, field))
        for seed, (kind, field) in enumerate(FIELDS)
    ]
    told = told_of_each("record_faults.mjs", asked, tmp_path).splitlines()
    for (kind, field, value), place in zip(asked, told, strict=True):
        theirs, mine = json.loads(place), unreadable(kind, field, value)
        assert (theirs is None) == (mine is None), (kind, field, value, theirs, mine)


def test_a_field_that_no_record_has_is_said():
    said = "A record of kind client has no field shoe_size."
    assert fault_in("client", "shoe_size", 5) == (said, "")
    with pytest.raises(KeyError):
        type_of_field("client", "name.first")


def phones_operations():
    """Operations that phones wrote: an outbox of an older version, and the gate's cases."""
    for path in (ROOT / "tests/vectors").glob("outbox.*.json"):
        left = json.loads(path.read_text("utf-8"))["operations"]
        yield from map(upcast, msgspec.convert(left, list[Operation]))


def test_what_older_phones_wrote_fits_the_types_of_today():
    seen = 0
    for op in phones_operations():
        kind, _, verb = op.kind.partition(".")
        if verb not in ("create", "set"):
            continue
        for field, value in op.fields.items():
            fault = fault_in(kind, field, value)
            # Vectors have short ids, so that they can be read.
            assert fault is None or "has not the form" in fault.said, (op.kind, field, fault)
            seen += 1
    assert seen > 5
