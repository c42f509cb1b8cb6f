"""README's commands do what they promise, exactly as they are printed."""

import os
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from drawing import in_turn

from basinside.cli import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text()
BLOCKS = re.findall(r"^```\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
COMMANDS = [
    line.removeprefix("$ ").partition("#")[0].strip()
    for block in BLOCKS
    for line in block.splitlines()
    if line.startswith((".venv/bin/", "$ .venv/bin/", "make "))
]
ASKING = {"predict", "formulate", "judge", "weigh", "schedule", "mend", "lighten", "labels"}


def test_every_asking_command_is_shown_and_so_are_the_two_of_make():
    assert {command.split()[1] for command in COMMANDS} == ASKING | {"run", "test"}


OF_THE_APP = [each for each in COMMANDS if not each.startswith("make ")]


@pytest.mark.parametrize("command", in_turn(OF_THE_APP))
def test_a_shell_answers_a_command_as_printed(command):
    ended = subprocess.run(
        command, shell=True, cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    assert ended.stdout


@pytest.mark.parametrize("command", OF_THE_APP)
def test_a_command_is_answered_as_printed(command, monkeypatch, capsys):
    """Without a second of starting up for each; the shell answers another of them each day."""
    program, *arguments = shlex.split(command, comments=True)
    assert program == ".venv/bin/basinside"
    monkeypatch.chdir(ROOT)
    assert main(arguments) == 0
    told = capsys.readouterr()
    assert told.out
    assert told.err == ""


def test_make_run_starts_the_app_at_the_address_it_prints(tmp_path):
    ours = os.environ | {"PORT": "0", "BASINSIDE_DATA": str(tmp_path)}
    with subprocess.Popen(
        ["make", "run"],
        cwd=ROOT,
        env=ours,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as process:
        printed = next((line for line in process.stdout if "http://" in line), "")
        os.killpg(process.pid, signal.SIGINT)
    assert re.fullmatch(r"Basinside is ready at http://127\.0\.0\.1:\d+/?\n", printed)


def test_make_test_runs_the_tests():
    steps = subprocess.run(
        ["make", "--dry-run", "test"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert "scripts/suite.py" in steps.stdout


def test_every_question_in_the_examples_is_asked():
    asked = {word for command in COMMANDS for word in command.split() if word.endswith(".json")}
    assert asked == {f"examples/{path.name}" for path in (ROOT / "examples").iterdir()}


def check(script: str, readme: Path) -> subprocess.CompletedProcess[str]:
    """Run the script's check on another README than the committed one."""
    aimed = script.replace('README = ROOT / "README.md"', f"README = ROOT / {str(readme)!r}")
    return subprocess.run(
        [sys.executable, "-c", aimed, "--check"],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT / "scripts")},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_printed_answer_is_the_real_one_and_a_changed_one_is_seen(tmp_path):
    script = (ROOT / "scripts" / "examples.py").read_text()
    planted = tmp_path / "README.md"
    planted.write_text(README)
    assert check(script, planted).returncode == 0
    planted.write_text(re.sub(r"^1  \d+ g", "1  1 g", README, count=1, flags=re.MULTILINE))
    ended = check(script, planted)
    assert ended.returncode == 1
    assert "scripts/examples.py" in ended.stderr
