"""Seeded histories of a salon with faults: nothing lost, nothing double, all agree.

A seed that fails is made shorter, and printed with the command that runs it again.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from drawing import seeds, tenth
from one_history import again, failure, history, outcome, shortened
from salon_world import STEPS, made_once

SEEDS = seeds(300)
RUNS = tenth(50)
HERE = Path(__file__).parent


@pytest.fixture(scope="module")
def template(tmp_path_factory):
    return made_once(tmp_path_factory.mktemp("template"))


def test_every_seed_keeps_what_was_written(template, tmp_path):
    drawn = [int(os.environ["SEED"])] if "SEED" in os.environ else SEEDS
    told = os.environ.get("STEPS")
    steps = [int(each) for each in told.split(",") if each] if told is not None else range(STEPS)
    for seed in drawn:
        try:
            history(seed, template, tmp_path / str(seed), steps)
        except Exception as error:
            fewer = shortened(seed, template) if told is None else steps
            said = f"seed {seed} fails; run it again:\n{again(seed, fewer)}"
            raise AssertionError(said) from error


def test_one_seed_gives_one_history(template, tmp_path):
    (seed,) = SEEDS[:1]
    told = outcome(seed, template, tmp_path / "first")
    assert len(told) > 1000
    for time in range(2, RUNS + 1):
        assert outcome(seed, template, tmp_path / str(time)) == told, f"run {time}"


# Sets of words have another order in each process.
TELL = """
import pathlib, sys, tempfile
sys.path[:0] = sys.argv[2:]
from one_history import outcome
from salon_world import made_once
with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    print(outcome(int(sys.argv[1]), made_once(folder / "template"), folder / "told"))
"""


def test_one_seed_gives_one_history_in_every_process():
    (seed,) = SEEDS[:1]
    told = {
        subprocess.run(
            [sys.executable, "-c", TELL, str(seed), str(HERE)],
            env=os.environ | {"PYTHONHASHSEED": order},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for order in ("1", "2", "3")
    }
    assert len(told) == 1


def test_a_failing_history_is_made_shorter_and_fails_alike(template):
    bug = {"view_without_outbox": True}
    seed = next(seed for seed in range(50) if failure(seed, template, **bug))
    steps = shortened(seed, template, **bug)
    assert len(steps) < STEPS / 4
    assert failure(seed, template, steps, **bug) == failure(seed, template, **bug)
    assert failure(seed, template, steps) is None
    assert f"SEED={seed} STEPS={steps[0]}" in again(seed, steps)
