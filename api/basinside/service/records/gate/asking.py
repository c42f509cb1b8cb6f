"""Builds the whole question about a service, as the page asks it before a clock starts."""

from collections.abc import Iterable
from typing import Any

from ..fold import State
from .book import Book
from .facts import facts_of
from .plan import plan_of


def request_of(
    states: Iterable[State], service_id: str, now: str, profile: str, time_zone: str
) -> dict[str, Any] | None:
    """Return the request for a safety review of a service, or None if there is no such service.

    `now` is RFC 3339. `web/src/gate/review.ts` asks the same.
    """
    book = Book(states)
    service = book.one("service", service_id)
    if service is None:
        return None
    return {
        "facts": facts_of(book, service),
        "plan": plan_of(book, service),
        "now": now,
        "starts_at": now,
        "time_zone": time_zone,
        "profile": profile,
    }
