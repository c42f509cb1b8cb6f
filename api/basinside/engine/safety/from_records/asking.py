"""Puts a service before the safety rules by its records: the facts, the plan, and the review."""

from typing import Any

import msgspec

from ....contract.problems import Fault
from ....contract.safety import SafetyReviewReply, SafetyReviewRequest
from ....contract.service_reviews import ServiceOnRecord, ServiceReviewRequest
from ...refusal import Faulty, Unfit
from ...whole_numbers import whole_numbers
from ..review import review
from .book import Book
from .booking import booking_facts, booking_plan, plan_ahead
from .facts import facts_of, tests_of
from .plan import plan_of

_NOT_HERE = "The service is not among the records. Send its own record, under `service`."


def review_service(asked: ServiceReviewRequest) -> SafetyReviewReply:
    """Return what the rules find of a service by what is on record.

    Raises Faulty for a service that was not sent, or for what cannot be meant; Unfit where a
    record holds what the rules cannot read.
    """
    book = Book(asked.records)
    service = book.service(asked.service)
    if service is None:
        raise Faulty([Fault("/service", _NOT_HERE)])
    reply = review(request_of(asked, book, service))
    tests = [test.id for test in tests_of(book, service)]
    lines = [card["line"] for card in _plan_of(asked, book, service)["lines"]]
    about = {"test": tests, "line": lines}
    questions = [
        msgspec.structs.replace(question, about=about[question.kept_with][_at(question.pointer)])
        if question.kept_with in about
        else question
        for question in reply.questions
    ]
    return msgspec.structs.replace(reply, questions=questions)


def _at(pointer: str) -> int:
    """Return which test or line a question is about: /facts/tests/0/… or /plan/lines/0/…."""
    return int(pointer.split("/")[3])


def _plan_of(asked: ServiceReviewRequest, book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    if asked.ahead:
        return plan_ahead(asked, book, service)
    return booking_plan(asked, book) if asked.booking else plan_of(asked, book, service)


def request_of(
    asked: ServiceReviewRequest, book: Book, service: ServiceOnRecord
) -> SafetyReviewRequest:
    """Return the review's question. Raises Unfit where a record holds what it cannot read."""
    test_alone = bool(asked.booking) and not asked.ahead
    made: dict[str, Any] = {
        "facts": booking_facts(book, service) if test_alone else facts_of(book, service),
        "plan": _plan_of(asked, book, service),
        "now": asked.now,
        "starts_at": asked.starts_at or asked.now,
        "time_zone": asked.time_zone,
        "profile": asked.profile,
    }
    try:
        return msgspec.convert(whole_numbers(made), SafetyReviewRequest)
    except msgspec.ValidationError as error:
        raise Unfit(error, msgspec.json.encode(made), SafetyReviewRequest) from error
