"""A regular whose service may start, bent by a test, and the review of it at the door."""

import copy
import json

from basinside.engine.door import answer
from basinside.service.http.document import examples

GONE = object()
REGULAR = next(iter(examples.SAFETY_REVIEWS.values()))
FRESH = REGULAR["facts"]["tests"][0]
PLAN = {
    "lines", "areas", "moment", "purpose", "grams", "client", "opened_at", "touches_skin", "zones",
    "developer_percent", "on_head_percent", "mix_ratio", "heat", "started_at", "planned_minutes",
    "seen_until", "decisions", "house", "mix_chosen",
}  # fmt: skip


def bent(changes, profile="uk"):
    """Return the regular's request with changes, by the name of the fact or field of the plan."""
    request = copy.deepcopy(REGULAR) | {"profile": profile}
    for name, value in changes.items():
        head, *rest = name.split(".")
        if head in ("now", "starts_at"):
            request[head] = value
            continue
        home = request["plan"] if head in PLAN else request["facts"]
        if not rest:
            where, key = home, head
        elif len(rest) == 1:
            where, key = home[head], int(rest[0])
        else:
            where, key = home[head][int(rest[0])], rest[1]
        if value is GONE:
            if not isinstance(where, dict) or key in where:
                del where[key]
        else:
            where[key] = copy.deepcopy(value)
    return request


def reviewed(request):
    """Return the review of a request that must be answered."""
    reply = answer("safety/reviews", json.dumps(request).encode())
    assert reply.status == 200, reply.body
    return json.loads(reply.body)


def found(request):
    """Return the findings of a request by the id of their rule."""
    return {finding["id"]: finding for finding in reviewed(request)["findings"]}


def decided(request, rule, **other):
    """Return the request with a decision on what the review finds for a rule."""
    finding = found(request)[rule]
    decision = {
        "rule": rule,
        "by": "Ana",
        "role": finding["decided_by"][-1],
        "saw": "skin calm",
        "why": "leaflet allows it",
        "at": request["now"],
        "basis": finding["basis"],
    } | other
    request = copy.deepcopy(request)
    request["plan"].setdefault("decisions", []).append(decision)
    return request


def at(**fields):
    """Return the regular's own test with other fields."""
    return {"tests": [FRESH | fields]}
