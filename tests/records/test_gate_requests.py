"""The server puts a service before the safety rules with the same question as the page does."""

import json
from pathlib import Path

import msgspec
import pytest
from drawing import seeds
from gate_cases import case
from pages_code import told_of_each

from basinside.contract.safety import SafetyReviewRequest
from basinside.service.records.fold import fold
from basinside.service.records.gate.asking import request_of
from basinside.service.records.operation import Operation
from basinside.service.records.upcast import upcast

ROOT = Path(__file__).resolve().parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/gate.json").read_text("utf-8"))
SALONS = seeds(1500)
NOW = "2026-11-25T12:30:00Z"


def asked(operations, service):
    """The facts and the plan of a service as the server has them."""
    states = {}
    for op in map(upcast, operations):
        states[op.entity_id] = fold(states.get(op.entity_id), op)
    return request_of(states.values(), service, NOW, "eu", "UTC")


def plain(value):
    """A part of a request with what is not said left out, and moments to the second in UTC."""
    if isinstance(value, dict):
        kept = {name: plain(each) for name, each in value.items() if each is not None}
        if "seen_until" in kept:
            kept["seen_until"] = kept["seen_until"][:19]
        return kept
    return [plain(each) for each in value] if isinstance(value, list) else value


def comparable(request):
    return request and plain({name: request[name] for name in ("facts", "plan")})


@pytest.mark.parametrize("each", VECTORS, ids=lambda each: each["name"])
def test_a_service_is_asked_about_as_written_down(each):
    operations = msgspec.convert(each["operations"], list[Operation])
    assert comparable(asked(operations, each["service"])) == plain(each["asked"])


def test_the_page_asks_the_same_of_every_salon(tmp_path):
    cases = [case(seed) for seed in SALONS]
    told = told_of_each("gate_requests.mjs", cases, tmp_path)
    theirs = [json.loads(line) for line in told.splitlines()]
    readable = 0
    for seed, each, other in zip(SALONS, cases, theirs, strict=True):
        mine = asked(each["operations"], each["service"])
        assert comparable(mine) == plain(other), f"salon {seed}"
        try:
            msgspec.convert(mine, SafetyReviewRequest)
            readable += 1
        except msgspec.ValidationError:
            continue
    assert readable > len(SALONS) / 2  # the salons are such as the rules can read
