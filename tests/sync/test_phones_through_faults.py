"""The pages' own courier against the real server, through a proxy that loses, repeats and cuts.

Each seed is a history of two or three phones: what they write, send and fetch, windows closed
over an exchange, a desk put back from a copy, clients erased. Held at its end: nothing waits,
nothing is lost or double, all phones show the same, and nobody erased is on any of them.
"""

import subprocess
import sys
from pathlib import Path

import pytest
from drawing import seeds, tenth
from pages_code import assert_every_seed_holds

HERE = Path(__file__).resolve().parent
SEEDS = seeds(200, parts=20)


@pytest.fixture
def salons():
    """The address of the salons, each under its seed."""
    command = [sys.executable, HERE / "faulty_salons.py"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        yield server.stdout.readline().strip()
        server.kill()


def test_phones_lose_nothing_in_a_bad_network(salons):
    # One more asks whether a seed gives one history.
    assert_every_seed_holds(
        "courier/histories", SEEDS, __file__, beside=1, SALONS=salons, RUNS=str(tenth(50))
    )
