"""Each recipe of DEVELOPERS.md, *How to add*, is followed in a copy, and nothing else is needed.

That a dye which no product holds changes no answer is tested in tests/engine/test_a_new_dye.py.
"""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from drawing import in_turn
from recipes import CALL, DYE, FIELD_OF_A_RECORD, RULE_WITH_NEW_FACTS, SCREEN, follow

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## How to add")[2]
# The commands that write files again, in the order that the recipes name them.
WRITERS = {
    ".venv/bin/basinside safety": [sys.executable, "-m", "basinside.cli", "safety"],
    "scripts/record_fields.py": [sys.executable, "scripts/record_fields.py"],
    ".venv/bin/basinside openapi": [sys.executable, "-m", "basinside.cli", "openapi"],
    "npm --prefix web run types": ["node", "web/scripts/types.mjs"],
}
# The tests that know of rules, facts, dyes, fields and calls.
TESTS = [
    "tests/house/test_safety_facts.py",
    "tests/house/test_record_fields.py",
    "tests/records/test_field_types.py",
    "tests/engine/test_safety_rules.py",
    "tests/outside/test_dye_kinetics.py",
    "tests/service/test_document.py",
]
MASK = {
    "id": "mask",
    "name": "mask",
    "line": "Own",
    "class": "direct",
    "level": 9,
    "tone": ["red"],
    "developer_percent": [],
    "window": {"min": 1, "max": 20},
}
ASK = """
import json, sys
from basinside.engine.door import answer
for question, body in json.load(sys.stdin):
    reply = answer(question, json.dumps(body).encode())
    print(json.dumps([reply.status, json.loads(reply.body)]))
"""


class Copy(NamedTuple):
    """A copy of the tree after every recipe was followed."""

    tree: Path

    def run(self, *command: str, stdin: str = "", folder: str = ".") -> str:
        """What a command says that must succeed."""
        ended = subprocess.run(
            command,
            cwd=self.tree / folder,
            env=os.environ | {"PYTHONPATH": str(self.tree / "api")},
            input=stdin,
            capture_output=True,
            text=True,
            check=False,
        )
        assert ended.returncode == 0, ended.stdout[-4000:] + ended.stderr[-4000:]
        return ended.stdout

    def answers(self, *asked: tuple[str, dict]) -> list[tuple[int, dict]]:
        """The replies of the copy's engine."""
        told = self.run(sys.executable, "-c", ASK, stdin=json.dumps(asked))
        return [tuple(json.loads(line)) for line in told.splitlines()]


@pytest.fixture(scope="module")
def followed(tmp_path_factory):
    """A copy in which each recipe was followed, and its files written again."""
    tree = tmp_path_factory.mktemp("recipes")
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    for name in filter(None, listed.stdout.split("\0")):
        if (ROOT / name).is_file() and not name.endswith(".png"):
            (tree / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, tree / name)
    (tree / "web" / "node_modules").symlink_to(ROOT / "web" / "node_modules")
    for recipe in (RULE_WITH_NEW_FACTS, DYE, FIELD_OF_A_RECORD, CALL, SCREEN):
        follow(tree, recipe)
    copy = Copy(tree)
    for command in WRITERS.values():
        copy.run(*command)
    return copy


@pytest.mark.parametrize(
    ("heading", "edits"),
    [
        ("A rule of the safety review.", RULE_WITH_NEW_FACTS),
        ("A dye.", DYE),
        ("A field of a record.", FIELD_OF_A_RECORD),
        ("A call.", CALL),
        ("A screen.", SCREEN),
    ],
)
def test_a_recipe_names_every_file_that_it_needs(heading, edits):
    recipe = GUIDE.partition(f"- **{heading}**")[2].partition("\n- **")[0]
    assert recipe
    for file in {file for file, _, _ in edits}:
        path = Path(file)
        # A new file is named by its folder.
        assert path.name in recipe or f"{path.parent.name}/" in recipe, file


@pytest.mark.parametrize("command", WRITERS)
def test_the_guide_names_every_command_that_writes_files_again(command):
    assert command in GUIDE


def rules_dyes_fields_and_calls_are_tested(followed):
    followed.run(sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *TESTS)


def the_pages_keep_their_types(followed):
    followed.run("node", "node_modules/typescript/bin/tsc", "--noEmit", folder="web")


# Each takes a quarter of a minute.
SLOW = [rules_dyes_fields_and_calls_are_tested, the_pages_keep_their_types]


@pytest.mark.parametrize("hold", in_turn(SLOW), ids=lambda hold: hold.__name__)
def test_what_takes_long_in_the_copy_holds(followed, hold):
    hold(followed)


def test_the_python_checks_hold(followed):
    followed.run(sys.executable, "-m", "ruff", "check", "--quiet", "--ignore=I001", "api")
    followed.run(sys.executable, "scripts/record_fields.py", "--check")
    followed.run(str(Path(sys.executable).with_name("lint-imports")), "--no-logo")


def test_the_pages_take_the_new_screen_where_it_is(followed):
    followed.run("node", "scripts/imports.mjs", folder="web")


def test_the_new_call_is_answered(followed):
    assert followed.answers(("dilutions", {"developer_percent": 6})) == [(200, {"percent": 3.0})]


def test_the_new_dye_is_seen_where_a_product_holds_it(followed):
    asked = [
        {
            "products": [MASK | {"dyes": dyes}],
            "mix": {"parts": [{"product": "mask", "grams": 30}], "minutes": 10},
            "hair": {"level": 10},
        }
        for dyes in ({}, {"brick": 2.0})
    ]
    replies = followed.answers(*(("predictions", each) for each in asked))
    bare, dyed = (reply["strip"][-1]["if_rinsed"]["lab"] for _, reply in replies)
    # It takes blue-green light away, so the hair turns red: a* rises.
    assert dyed[1] > bare[1] + 5


def test_the_new_facts_are_asked_kept_and_believed(followed):
    client = {"id": "c1", "created_at": "2026-11-20T09:00:00.000Z", "name": "Ona"}
    service = {"id": "s1", "created_at": "2026-11-20T09:00:00.000Z", "client": "c1"}
    at = "2026-11-25T09:00:00+00:00"
    told = {
        "client": client | {"resin_reaction": "none"},
        "service": service | {"facts": [{"fact": "fever", "value": "no", "at": at}]},
    }
    asked = [
        {
            "records": {kind: [record] for kind, record in records.items()},
            "service": "s1",
            "now": "2026-11-25T10:00:00+00:00",
            "time_zone": "UTC",
            "profile": "eu",
        }
        for records in ({"client": client, "service": service}, told)
    ]
    (_, before), (_, after) = followed.answers(*(("safety/services", each) for each in asked))
    questions = {each["fact"]: each for each in before["questions"]}
    assert (questions["fever"]["kept_with"], questions["fever"]["input"]) == ("service", "choice")
    assert questions["resin_reaction"]["kept_with"] == "client"
    rules = {"fever-today", "resin-reacted"}
    assert rules <= {each["id"] for each in before["findings"]}
    assert not rules & {each["id"] for each in after["findings"]}
    assert not {"fever", "resin_reaction"} & {each["fact"] for each in after["questions"]}
