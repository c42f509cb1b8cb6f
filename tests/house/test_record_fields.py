"""The table of record fields: one source for both languages, and free of contradictions."""

import json
import subprocess
import sys
from pathlib import Path

from basinside.service.records.fields import CAUTION, KINDS, table

ROOT = Path(__file__).resolve().parents[2]
WRITTEN = ROOT / "web" / "src" / "records" / "fields.generated.json"


def test_the_pages_read_the_table_that_is_written_here():
    assert json.loads(WRITTEN.read_text()) == json.loads(json.dumps(table()))


def test_a_drifted_table_is_seen_and_said_with_what_to_do(tmp_path):
    script = (ROOT / "scripts" / "record_fields.py").read_text()
    planted = tmp_path / "fields.generated.json"
    planted.write_text(WRITTEN.read_text().replace('"ordinary"', '"text"', 1))
    aimed = script.replace("TARGET = ROOT", f"TARGET = ROOT / {str(planted)!r}\n_ = ROOT")
    aimed = aimed.replace("TARGET.relative_to(ROOT)", "TARGET")
    ended = subprocess.run(
        [sys.executable, "-c", aimed, "--check"],
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT / "scripts")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 1
    assert "scripts/record_fields.py" in ended.stderr


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
