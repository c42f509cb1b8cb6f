"""The pages' own courier against the real server, through a proxy that loses, repeats and cuts.

Each seed is a history of two or three phones: what they write, send and fetch, windows closed
over an exchange, a desk put back from a copy, clients erased. Held at its end: nothing waits,
nothing is lost or double, all phones show the same, and nobody erased is on any of them.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent
WEB = HERE.parents[1] / "web"
SEEDS = 200
VITEST = ["npx", "vitest", "run", "--config", "vitest.server.config.ts"]


@pytest.fixture
def salons():
    """The address of the salons, each under its seed."""
    command = [sys.executable, HERE / "faulty_salons.py"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        yield server.stdout.readline().strip()
        server.kill()


def test_phones_lose_nothing_in_a_bad_network(salons):
    seeds = os.environ.get("SEED", f"0-{SEEDS - 1}")
    ran = subprocess.run(
        [*VITEST, "src/courier", "--reporter", "dot"],
        cwd=WEB,
        check=False,
        env=os.environ | {"SALONS": salons, "SEEDS": seeds},
        capture_output=True,
        text=True,
    )
    last_words = (ran.stdout + ran.stderr)[-8000:]
    replay = ".venv/bin/pytest tests/sync/test_phones_through_faults.py"
    assert ran.returncode == 0, f"{last_words}\nOne seed again: SEED=<seed> {replay}"
    assert f"{SEEDS} passed" in last_words or "SEED" in os.environ
