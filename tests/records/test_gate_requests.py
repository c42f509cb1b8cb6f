"""The page and the server put a service before the safety rules with the same records.

The question that is made of them is held to `tests/vectors/gate.json`, written by hand.
"""

import json
from pathlib import Path

import msgspec
import pytest
from drawing import seeds
from gate_cases import case
from gate_question import NOW, made_of, plain, sent
from pages_code import told_of_each

from basinside.contract.safety import SafetyFacts, SafetyPlan
from basinside.service.records.operation import Operation

ROOT = Path(__file__).resolve().parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/gate.json").read_text("utf-8"))
SALONS = seeds(1500)


def whole(asked):
    """A written question with everything it leaves to the contract's own defaults."""
    shapes = {"facts": SafetyFacts, "plan": SafetyPlan}
    return plain(
        {name: msgspec.to_builtins(msgspec.convert(asked[name], shapes[name])) for name in shapes}
    )


@pytest.mark.parametrize("each", VECTORS, ids=lambda each: each["name"])
def test_a_service_is_asked_about_as_written_down(each):
    operations = msgspec.convert(each["operations"], list[Operation])
    assert made_of(sent(operations, each["service"])) == whole(each["asked"])


def test_the_page_s_records_make_the_question_written_down(tmp_path):
    told = told_of_each("gate_requests.mjs", VECTORS, tmp_path)
    for each, line in zip(VECTORS, told.splitlines(), strict=True):
        assert made_of(json.loads(line)) == whole(each["asked"]), each["name"]


def test_the_page_asks_the_same_of_every_salon(tmp_path):
    cases = [case(seed) for seed in SALONS]
    told = told_of_each("gate_requests.mjs", cases, tmp_path)
    readable = 0
    for seed, each, line in zip(SALONS, cases, told.splitlines(), strict=True):
        body, theirs = sent(each["operations"], each["service"]), json.loads(line)
        if theirs is None:
            assert made_of(body) is None, f"salon {seed}"
            continue
        # The page names the latest moment of all that it keeps; here that is what is sent.
        mine = made_of(body)
        assert made_of(theirs | {"now": NOW}) == mine, f"salon {seed}"
        readable += isinstance(mine, dict)
    assert readable > len(SALONS) / 2  # the salons are such as the rules can read
