"""What the safety rules are asked about a service, made of its records behind the door."""

import msgspec

from basinside.contract.service_reviews import ServiceReviewRequest
from basinside.engine.refusal import Unfit
from basinside.engine.safety.from_records.asking import request_of
from basinside.engine.safety.from_records.book import Book
from basinside.service.records.fold import fold
from basinside.service.records.put_forward import records_of_review
from basinside.service.records.upcast import upcast

NOW = "2026-11-25T12:30:00Z"


def sent(operations, service):
    """What the server puts before the rules of a service."""
    states = {}
    for op in map(upcast, operations):
        states[op.entity_id] = fold(states.get(op.entity_id), op)
    records = records_of_review(states.values())
    return {"records": records, "service": service, "now": NOW, "time_zone": "UTC"}


def made_of(body):
    """The facts and the plan that are made of what was sent; a word of what does not fit."""
    asked = msgspec.convert(body, ServiceReviewRequest)
    book = Book(asked.records)
    service = book.service(asked.service)
    if service is None:
        return None
    try:
        made = msgspec.to_builtins(request_of(asked, book, service))
    except Unfit as unfit:
        return str(unfit)
    return plain({name: made[name] for name in ("facts", "plan")})


def plain(value):
    """A part of a request with what is not said left out, and moments to the second in UTC."""
    if isinstance(value, dict):
        kept = {name: plain(each) for name, each in value.items() if each is not None}
        if "seen_until" in kept:
            kept["seen_until"] = kept["seen_until"][:19]
        return kept
    return [plain(each) for each in value] if isinstance(value, list) else value
