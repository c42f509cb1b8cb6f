"""The demo day is made of records as the contract has them, and of the engine's own answers."""

import json
import subprocess
import sys
from pathlib import Path

from basinside.service.records.fields import KINDS
from basinside.service.records.typed import fault_in

ROOT = Path(__file__).resolve().parents[2]
DAY = json.loads((ROOT / "seed_demo" / "day.json").read_text())
ANY_MOMENT = "2026-11-28T10:30:00+01:00"


def with_moments(value):
    if isinstance(value, str):
        return ANY_MOMENT if value.startswith("@") else value
    if isinstance(value, list):
        return [with_moments(each) for each in value]
    if isinstance(value, dict):
        return {name: with_moments(each) for name, each in value.items()}
    return value


def records(kind=None):
    return [r for act in DAY["acts"] for r in act["records"] if kind in (None, r["kind"])]


def fields_of(record):
    """Each field with its value; an object whose keys merge apart, key by key."""
    for name, value in with_moments(record["fields"]).items():
        if KINDS[record["kind"]].fields.get(name) == "each":
            yield from ((f"{name}.{key}", each) for key, each in value.items())
        else:
            yield name, value


def test_every_field_is_of_the_contract_s_type():
    faults = [
        (record["kind"], name, fault)
        for record in records()
        for name, value in fields_of(record)
        if (fault := fault_in(record["kind"], name, value))
    ]
    assert faults == []


def test_every_id_that_a_record_names_is_a_record_of_the_day():
    made = {record["id"] for record in records()}
    assert len(made) == len(records())
    for record in records():
        for name in ("client", "service", "zone", "person"):
            assert record["fields"].get(name, record["id"]) in made


def test_it_has_what_a_saturday_has():
    visits = {record["id"]: record["fields"]["state"] for record in records("service")}
    zones = [record["fields"] for record in records("zone")]
    on_head = [zone for zone in zones if "first_section_at" in zone and "rinsed_at" not in zone]
    assert [visits[zone["service"]] for zone in on_head] == ["started", "started"]
    assert len(records("client")) == 8
    results = {record["fields"]["result"] for record in records("alert_test")}
    assert {"clear", "not_read", "redness"} <= results
    assert any("held" in record["fields"] for record in records("service"))
    assert {act["phone"] for act in DAY["acts"]} == {1, 2}


def test_its_mixes_windows_and_colours_are_the_engine_s_answers():
    asked = [sys.executable, "scripts/demo_day.py", "--check"]
    checked = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stderr
