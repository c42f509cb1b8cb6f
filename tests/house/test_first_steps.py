"""What `make` does before there is anything installed: it speaks, and does nothing twice."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def run_with_python(folder_of_python: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run `scripts/with_python` where the only Python is the one in `folder_of_python`."""
    return subprocess.run(
        ["/bin/sh", ROOT / "scripts" / "with_python", "-c", "print('ran')"],
        env={"PATH": str(folder_of_python), **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def test_without_python_one_sentence_says_what_to_install(tmp_path):
    ended = run_with_python(tmp_path)
    assert ended.returncode == 1
    assert ended.stdout == ""
    assert ended.stderr.count("\n") == 1
    assert "needs Python 3.11 or newer" in ended.stderr
    assert "apt-get install python3" in ended.stderr


def test_an_old_python_is_passed_over_for_a_newer_one(tmp_path):
    # An interpreter too old to qualify is one that fails the version question.
    (tmp_path / "python3").symlink_to("/bin/false")
    (tmp_path / "python3.11").symlink_to(sys.executable)
    assert run_with_python(tmp_path).stdout == "ran\n"


def test_a_python_that_was_named_and_is_too_old_is_named_in_the_sentence(tmp_path):
    (tmp_path / "python3").symlink_to(sys.executable)
    ended = run_with_python(tmp_path, PYTHON="python2")
    assert ended.returncode == 1
    assert "python2 is not" in ended.stderr


@pytest.fixture
def clone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The preparing module, with its idea of the clone moved to an empty folder."""
    monkeypatch.syspath_prepend(ROOT / "scripts")
    import prepare  # noqa: PLC0415

    monkeypatch.setattr(prepare, "ROOT", tmp_path)
    monkeypatch.setattr(prepare, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(prepare, "VENV_STAMP", tmp_path / ".venv" / "prepared.json")
    return prepare


def test_a_virtual_environment_without_its_python_or_stamp_counts_as_unfinished(clone, tmp_path):
    assert clone.read_venv_stamp() == {}
    (tmp_path / ".venv" / "bin").mkdir(parents=True)
    (tmp_path / ".venv" / "bin" / "python").symlink_to(sys.executable)
    assert clone.read_venv_stamp() == {}
    clone.VENV_STAMP.write_text('{"run": "a", "de')
    assert clone.read_venv_stamp() == {}
    clone.VENV_STAMP.write_text('{"run": "a", "dev": ""}')
    assert clone.read_venv_stamp() == {"run": "a", "dev": ""}


def test_the_stamp_follows_every_page_source_and_nothing_that_the_build_makes(clone, tmp_path):
    web = tmp_path / "web"
    for name in ("src/main.tsx", "index.html", "dist/index.html", "node_modules/preact/index.js"):
        (web / name).parent.mkdir(parents=True, exist_ok=True)
        (web / name).write_text(name)

    def stamp() -> str:
        return clone.digest(clone.files_under([web]))

    first = stamp()
    (web / "dist" / "index.html").write_text("built again")
    (web / "node_modules" / "preact" / "index.js").write_text("installed again")
    assert stamp() == first
    (web / "src" / "main.tsx").write_text("changed")
    changed = stamp()
    assert changed != first
    (web / "src" / "main.tsx").rename(web / "src" / "other.tsx")
    assert stamp() not in (first, changed)
    (web / "src" / "other.tsx").unlink()
    assert stamp() not in (first, changed)
