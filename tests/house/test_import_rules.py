"""The import rules of `pyproject.toml` are real: each is shown a fault and says so."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LINTER = Path(sys.executable).with_name("lint-imports")

# A file that imports what it must not: where it is planted, what it imports, which rule says so.
FAULTS = [
    ("service/store/planted.py", "service.records.fold", "Inside the service"),
    ("service/records/planted.py", "service.whole.ledger", "Inside the service"),
    ("service/whole/planted.py", "service.sync.pull", "Inside the service"),
    ("service/sync/planted.py", "service.desk.matters", "Inside the service"),
    ("service/desk/planted.py", "service.http.errors", "Inside the service"),
    ("service/http/document/planted.py", "service.desk.matters", "Inside the document"),
    ("service/http/document/examples.py", "service.http.document.calls.table", "Inside the doc"),
    ("service/http/document/calls/planted.py", "service.http.document.page", "Inside the doc"),
    ("service/http/health.py", "service.http.document.openapi", "No call reads the document"),
    ("engine/meaning.py", "engine.timing.kinetics", "Inside the engine"),
    ("engine/wording/planted.py", "engine.door", "Inside the engine"),
    ("engine/planted.py", "engine.version", "Inside the engine"),
    ("contract/planted.py", "engine.version", "Imports point downwards"),
]


def linted(folder: Path) -> subprocess.CompletedProcess:
    """What the rules say of the package in a folder."""
    return subprocess.run(
        [LINTER, "--no-logo", "--no-cache", "--config", ROOT / "pyproject.toml"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder), "COLUMNS": "400"},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def copied(tmp_path):
    package = tmp_path / "basinside"
    shutil.copytree(
        ROOT / "api" / "basinside",
        package,
        ignore=shutil.ignore_patterns("__pycache__", "pages", "*.json"),
    )
    return package


def test_the_package_as_it_is_breaks_no_rule(copied):
    ended = linted(copied.parent)
    assert ended.returncode == 0, ended.stdout
    assert "BROKEN" not in ended.stdout


@pytest.mark.parametrize(("where", "imported", "rule"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_planted_fault_is_seen(copied, where, imported, rule):
    planted = copied / where
    before = planted.read_text() if planted.exists() else ""
    planted.write_text(f"{before}\nimport basinside.{imported}\n")
    ended = linted(copied.parent)
    assert ended.returncode == 1
    broken = [line for line in ended.stdout.splitlines() if line.endswith("BROKEN")]
    assert any(line.startswith(rule) for line in broken), ended.stdout


@pytest.mark.parametrize("floor", ["service", "engine", "service/http/document"])
def test_a_new_folder_without_a_rule_is_refused(copied, floor):
    new = copied / floor / "annex"
    new.mkdir()
    (new / "__init__.py").write_text("")
    ended = linted(copied.parent)
    assert ended.returncode != 0
    assert "annex" in ended.stdout + ended.stderr
