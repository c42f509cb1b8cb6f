"""What is asked days before a service: how its alert test will do, or all that will hold it."""

from typing import Any

from msgspec import UNSET

from ....contract.service_reviews import LineBooked, ServiceOnRecord, ServiceReviewRequest
from .book import Book, said
from .facts import tests_as_facts
from .plan import house_of, line_named, plan_of

_MOST_TESTS = 50
# Where nothing is known of a line's class, the strictest is taken.
_STRICTEST = "permanent"


def booking_facts(book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    """Return the client's alert tests, and whether a black tattoo was ever had."""
    client = book.client_of(service)
    tests = tests_as_facts(book, service)[:_MOST_TESTS]
    return {"tests": tests} | said({"black_tattoo": client.black_tattoo if client else None})


def booking_plan(asked: ServiceReviewRequest, book: Book) -> dict[str, Any]:
    """Return the lines that will be used, with their leaflets' terms of the test."""
    return {
        "lines": [_card(book, booked) for booked in asked.booking],
        "areas": ["scalp"],
        "moment": "booking",
        "purpose": "client",
        "house": house_of(book),
    }


def plan_ahead(asked: ServiceReviewRequest, book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    """Return the plan as it will be at the start: with its own mix, else with the lines booked."""
    plan = plan_of(asked, book, service) | {"moment": "booking"}
    if plan["mix_chosen"] or not asked.booking:
        return plan
    return plan | {"lines": [_card(book, booked) for booked in asked.booking], "mix_chosen": True}


def _card(book: Book, booked: LineBooked) -> dict[str, Any]:
    line = line_named(book, booked.line)
    leaflet = line.leaflet if line else UNSET
    of_class = line.class_ if line else UNSET
    terms = {name: getattr(leaflet, name, None) for name in ("min_hours", "max_hours")}
    return {
        "line": booked.line,
        "product_class": of_class or booked.product_class or _STRICTEST,
        **said({"leaflet_version": line.leaflet_version if line else None}),
        "test": {name: hours for name, hours in terms.items() if hours},
    }
