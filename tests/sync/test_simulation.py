"""Seeded histories of a salon with faults: nothing lost, nothing double, all agree.

A seed that fails is made shorter, and printed with the command that runs it again.
"""

import os

import pytest
from drawing import seeds
from one_history import again, failure, history, shortened
from salon_world import STEPS, made_once

SEEDS = seeds(300)


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


def test_a_failing_history_is_made_shorter_and_fails_alike(template):
    bug = {"view_without_outbox": True}
    seed = next(seed for seed in range(50) if failure(seed, template, **bug))
    steps = shortened(seed, template, **bug)
    assert len(steps) < STEPS / 4
    assert failure(seed, template, steps, **bug) == failure(seed, template, **bug)
    assert failure(seed, template, steps) is None
    assert f"SEED={seed} STEPS={steps[0]}" in again(seed, steps)
