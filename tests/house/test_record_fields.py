"""The table of record fields: one source for both languages, and free of contradictions."""

import json
import sys
from pathlib import Path

import pytest

from basinside.engine.safety.rulebook import each_time_advice
from basinside.service.records.fields import CAUTION, KINDS, table
from basinside.service.records.put_forward import wanted_fields

ROOT = Path(__file__).resolve().parents[2]
WRITTEN = ROOT / "web" / "src" / "records" / "fields.generated.json"


def test_the_pages_read_the_table_that_is_written_here():
    assert json.loads(WRITTEN.read_text()) == json.loads(json.dumps(table()))


def test_the_pages_read_which_fields_a_safety_review_takes():
    written = ROOT / "web" / "src" / "gate" / "wanted.generated.json"
    assert json.loads(written.read_text()) == wanted_fields()


def test_the_pages_read_under_which_rules_an_alert_test_serves_once():
    written = ROOT / "web" / "src" / "gate" / "each_time.generated.json"
    assert json.loads(written.read_text()) == each_time_advice()


TABLES = [
    "records/fields.generated.json",
    "records/types.generated.ts",
    "gate/wanted.generated.json",
]


@pytest.mark.parametrize("table", TABLES)
def test_a_drifted_table_is_seen_and_said_with_what_to_do(tmp_path, monkeypatch, table):
    written = ROOT / "web" / "src"
    for name in ("records", "gate"):
        (tmp_path / "web" / "src" / name).mkdir(parents=True)
        for each in (written / name).glob("*.generated.*"):
            (tmp_path / "web" / "src" / name / each.name).write_bytes(each.read_bytes())
    planted = tmp_path / "web" / "src" / table
    planted.write_text(planted.read_text().replace("client", "klient", 1))
    script = (ROOT / "scripts" / "record_fields.py").read_text()
    aimed = script.replace("from quietly import ROOT", f"ROOT = Path({str(tmp_path)!r})")
    assert aimed != script
    monkeypatch.syspath_prepend(ROOT / "scripts")
    monkeypatch.setattr(sys, "argv", ["record_fields.py", "--check"])
    # In this process, which has loaded the package already.
    with pytest.raises(SystemExit) as ended:
        exec(compile(aimed, "record_fields.py", "exec"), {"__name__": "__main__"})
    assert table in ended.value.code
    assert "scripts/record_fields.py" in ended.value.code


def test_a_review_reads_no_field_that_no_record_has():
    for kind, fields in wanted_fields().items():
        known = {*KINDS[kind].fields, "by"}
        assert set(fields) <= known, kind


def test_every_safety_field_has_its_words_and_a_name_of_its_own():
    named = [
        field for kind in KINDS.values() for field, rule in kind.fields.items() if rule == "safety"
    ]
    assert sorted(named) == sorted(CAUTION)


def test_no_caution_lies_below_its_blank_words_but_the_one_that_says_no():
    for caution in CAUTION.values():
        assert set(caution.blank) <= set(caution.order)
        assert caution.order[1 : 1 + len(caution.blank)] == caution.blank


def test_an_append_only_kind_sets_everything_once():
    for kind in KINDS.values():
        assert ("corrects" in kind.fields) == kind.append_only
        if kind.append_only:
            assert set(kind.fields.values()) == {"fixed"}
