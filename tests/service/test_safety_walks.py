"""No order of acts starts a clock, or shows what is weighed, on a service that must be held.

10,000 acts in 500 seeded walks go through the engine's door, a tenth of them at each run, and
every fifth request through the server too. What must hold is told by `holds`, written from the
published texts and not from the rule book. One walk again:
`SEED=<seed> .venv/bin/pytest tests/service/test_safety_walks.py`.
"""

import json
import os
import re

import pytest
from drawing import LONG, seeds
from safety_walks import Walk, holds

from basinside.engine.door import answer

WALKS, STEPS, SHARES = seeds(500), 20, 5
OXIDATIVE = {"oxidative_toner", "oxidative_permanent"}


def asked(request):
    """Return the body of the review; decisions of a wrong clock are refused, and left out then."""
    reply = answer("safety/reviews", json.dumps(request).encode())
    if reply.status == 422 and request["plan"].get("decisions"):
        places = {error["pointer"] for error in json.loads(reply.body)["errors"]}
        assert all(re.fullmatch(r"/plan/decisions/\d+/at", place) for place in places), places
        request["plan"]["decisions"] = []
        reply = answer("safety/reviews", json.dumps(request).encode())
    assert reply.status == 200, reply.body
    return reply.body


def check(walk, reply):
    """Check what must be so after any act."""
    request = walk.request
    live = request["plan"].get("moment") == "live"
    stops = [f["id"] for f in reply["findings"] if f["severity"] == "stop"]
    assert reply["never_blocked"] == [
        "rinse", "first_aid", "call_for_help", "end_service", "export",
    ]  # fmt: skip
    assert reply["rinse_now"] == (live and bool(stops))
    assert reply["may_start"] <= reply["may_mix"]
    assert not (reply["may_start"] and stops)
    if request["plan"]["lines"][0]["class"] in OXIDATIVE and (why := holds(request)):
        assert not reply["may_start"], why
        assert not reply["may_mix"], why
        assert any(f["group"] == "holds" for f in reply["findings"]) or any(
            f["group"] == "needs_decision" for f in reply["findings"]
        ), why


def refuses_to_decide_a_stop(client, walk, reply):
    """A decision on what stops is refused by the server, whoever takes it."""
    stop = next((f for f in reply["findings"] if f["severity"] == "stop"), None)
    if stop is None or stop["id"] == "decision-unsigned":
        return 0
    plan = walk.request["plan"]
    forced = {
        "rule": stop["id"], "by": "Ana", "role": "in_charge", "saw": "calm", "why": "fine",
        "at": walk.request["now"], "basis": stop["basis"],
    }  # fmt: skip
    request = walk.request | {"plan": plan | {"decisions": [forced]}}
    reply = client.post("/api/safety/reviews", json=request)
    if reply.status_code == 200:  # a rule that stops here may be decided where it is milder
        assert not reply.json()["may_start"]
        assert stop["id"] in {f["id"] for f in reply.json()["findings"] if f["group"] == "holds"}
    else:
        assert reply.status_code == 422
        assert "/plan/decisions/0/rule" in {e["pointer"] for e in reply.json()["errors"]}
    return 1


@pytest.mark.parametrize("share", range(SHARES))
def test_no_order_of_acts_begins_a_held_service(client, share):
    drawn = WALKS[share::SHARES]
    if (only := os.environ.get("SEED")) is not None:
        drawn = [int(only)] if int(only) % SHARES == share else []
    acts = begun = opened = forced = 0
    for seed in drawn:
        walk = Walk(seed)
        reply = json.loads(asked(walk.request))
        try:
            for step in range(STEPS):
                walk.step(reply)
                body = asked(walk.request)
                reply = json.loads(body)
                check(walk, reply)
                acts += 1
                opened += reply["may_start"]
                if step % 5 == 0:
                    told = client.post("/api/safety/reviews", json=walk.request)
                    assert told.content == body, "the server says what the engine says"
                    forced += refuses_to_decide_a_stop(client, walk, reply)
        except AssertionError as why:
            raise AssertionError(f"SEED={seed}, after {walk.did}: {why}") from why
        begun += walk.begun
    if only is None:
        assert acts == len(drawn) * STEPS
    if only is None and LONG:
        # Were nothing ever open, or everything, this would prove little.
        assert begun > len(drawn) / 10
        assert acts / 50 < opened < acts / 2
        assert forced > len(drawn) / 2
