"""The pages' import check (web/scripts/imports.mjs) sees a fault against each of its rules."""

import re
import subprocess
from pathlib import Path

import pytest

WEB = Path(__file__).resolve().parents[2] / "web"

# In each room a file that imports from a room it must not know.
PLANTED = [
    ("pages/a.ts", "shell.ts", "pages-imports-only-"),
    ("screens/one/a.ts", "pages/b.ts", "screens-imports-only-"),
    ("gate/a.ts", "bench/b.ts", "gate-imports-only-"),
    ("alarm.ts", "bench/b.ts", "alarm-imports-only-"),
    ("salon/service/a.ts", "screens/one/b.ts", "salon-imports-only-"),
    ("salon/a.ts", "api/client.ts", "salon-imports-only-"),
    ("bench/a.ts", "salon/b.ts", "bench-imports-only-"),
    ("shelf/a.ts", "bench/b.ts", "shelf-imports-only-"),
    ("courier/a.ts", "bench/b.ts", "courier-imports-only-"),
    ("records/a.ts", "device/b.ts", "records-imports-only-"),
    ("outbox/a.ts", "records/b.ts", "outbox-imports-only-"),
    ("parts/a.ts", "records/b.ts", "parts-imports-only-"),
    ("engine/a.ts", "records/b.ts", "engine-imports-only-"),
    ("device/a.ts", "records/b.ts", "device-imports-only-"),
    ("offline/a.ts", "records/b.ts", "offline-imports-only-"),
    ("api/a.ts", "records/b.ts", "api-imports-only-"),
    ("photo_reading/a.ts", "records/b.ts", "photo_reading-imports-only-"),
    ("references/a.ts", "records/b.ts", "references-imports-only-"),
    ("place.ts", "records/b.ts", "place-imports-only-"),
    ("wide.ts", "records/b.ts", "wide-imports-only-"),
    ("screens/one/c.ts", "screens/two/b.ts", "a-screen-never-imports-a-screen"),
    ("records/c.ts", "../tests/b.ts", "only-tests-import-what-helps-tests"),
    ("records/d.ts", "records/gone", "nothing-unresolved"),
]


def checked(folder):
    """What the check says of a page whose sources are in this folder."""
    return subprocess.run(
        ["node", "scripts/imports.mjs", folder],
        cwd=WEB,
        capture_output=True,
        text=True,
        check=False,
    )


def plant(folder, module, imported=""):
    """Writes a module under `folder`/src that imports another, which is made where it lacks."""
    source = folder / "src" / module
    source.parent.mkdir(parents=True, exist_ok=True)
    path = Path("../" * (len(Path(module).parts) - 1) or "./", imported)
    line = f'import "{path if str(path).startswith(".") else f"./{path}"}";\n'
    source.write_text(line.replace(".ts", "") if imported else "export {};\n")
    other = folder / "src" / imported
    if imported.endswith(".ts") and not other.exists():
        other.parent.mkdir(parents=True, exist_ok=True)
        other.write_text("export {};\n")


@pytest.fixture(scope="module")
def said_of_planted(tmp_path_factory):
    """What the check says of all the planted faults at once."""
    folder = tmp_path_factory.mktemp("planted")
    for module, imported, _ in PLANTED:
        plant(folder, module, imported)
    plant(folder, "outbox/one.ts", "outbox/two.ts")
    plant(folder, "outbox/two.ts", "outbox/one.ts")
    ended = checked(folder)
    assert ended.returncode != 0
    return ended.stderr


@pytest.mark.parametrize(("module", "imported", "rule"), PLANTED)
def test_an_import_that_points_the_wrong_way_is_named(said_of_planted, module, imported, rule):
    told = [line for line in said_of_planted.splitlines() if f"src/{module} imports" in line]
    assert any(Path(imported).name in line and rule in line for line in told)


def test_a_circle_inside_a_room_is_named(said_of_planted):
    assert "src/outbox/one.ts imports src/outbox/two.ts: no-circles" in said_of_planted


def test_a_room_and_a_file_without_a_rule_fail(tmp_path):
    plant(tmp_path, "records/a.ts")
    assert checked(tmp_path).returncode == 0
    plant(tmp_path, "drawer/a.ts")
    plant(tmp_path, "stray.ts")
    ended = checked(tmp_path)
    assert ended.returncode != 0
    (named,) = re.findall("Error: No import rule for (.*): add it", ended.stderr)
    assert sorted(named.split(", ")) == ["src/drawer", "src/stray.ts"]
