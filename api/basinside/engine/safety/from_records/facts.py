"""Turns the records of a service into the facts that the safety rules read.

They are the client's answers with their times, today's checks, the alert tests and the hair's past.
A question that nobody asked is left out, never answered "no". `tests/vectors/gate.json` has cases.
"""

from typing import Any

from msgspec import UNSET

from ....contract.fact_rows import fact_rows, merged_facts
from ....contract.service_reviews import (
    AlertTestOnRecord,
    AnswerOnRecord,
    HistoryOnRecord,
    ServiceOnRecord,
)
from .book import Book, said, seconds_of

_MOST_PAST = 50
_DAY = 10
_NOT_ASKED = "not_asked"
_PAST_OF_WORDS = {
    "coloured at home": ("permanent_colour",),
    "lightened elsewhere": ("lightened",),
    # Colour that nobody can name may hold metal, so the rules then ask.
    "henna or plant colour": ("plant_henna", "unknown"),
    "metallic or progressive colour": ("metallic",),
    "relaxed or straightened": ("hydroxide_relaxer",),
    "permed": ("perm",),
}


def answers_of(book: Book, service: ServiceOnRecord) -> dict[str, AnswerOnRecord]:
    """Return the answers on a service: today's, and those the client gave before."""
    client = book.client_of(service)
    before = client.answers if client else []
    return {answer.fact: answer for answer in (*before, *service.facts)}


def facts_of(book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    """Return all facts of a service as the rules read them."""
    client = book.client_of(service)
    facts: dict[str, Any] = {}
    said_at = []
    for fact, answer in answers_of(book, service).items():
        # Answers about one test have a colon; the hair's past and the plan's own come below.
        if ":" in fact or fact == "hair_past" or _is_of_plan(fact):
            continue
        if answer.value is not UNSET:
            facts[fact] = answer.value
        said_at.append({"fact": fact} | said({"at": answer.at}))
    for fact in merged_facts():
        word = getattr(client, fact, UNSET)
        if word and word != _NOT_ASKED:
            facts[fact] = word
    if "new_to_client" not in facts and _had_these_lines(book, service):
        facts["new_to_client"] = "no"
    past = _past_of(book, service)
    if past is not None:
        facts["hair_past"] = past
    return facts | {"tests": tests_as_facts(book, service), "said_at": said_at}


def _is_of_plan(fact: str) -> bool:
    row = fact_rows().get(fact)
    return row is not None and row.place.startswith("/plan/")


def tests_of(book: Book, service: ServiceOnRecord) -> list[AlertTestOnRecord]:
    """Return the alert tests of a service's client that say of what and when they are."""
    return [
        test
        for test in book.tests
        if test.client and test.client == service.client and test.line and test.applied_at
    ]


def tests_as_facts(book: Book, service: ServiceOnRecord) -> list[dict[str, Any]]:
    """Return the alert tests of a service's client as the rules take them."""
    return [_test_of(book, test, service) for test in tests_of(book, service)]


def _past_of(book: Book, service: ServiceOnRecord) -> list[Any] | None:
    answer = answers_of(book, service).get("hair_past")
    if answer is None or not isinstance(answer.value, list):
        return None
    noted = [
        {"what": past}
        for entry in _history_of(book, service)
        for past in _PAST_OF_WORDS.get(entry.what or "", ("unknown",))
    ]
    lifted = [
        {"what": "lightened", "on": str(zone.first_section_at)[:_DAY]}
        for zone in book.zones_before(service)
        if zone.work == "lightener"
    ]
    return [*answer.value, *noted, *lifted][:_MOST_PAST]


def _history_of(book: Book, service: ServiceOnRecord) -> list[HistoryOnRecord]:
    """Return the client's hair history, without entries that a later one corrects."""
    found = [entry for entry in book.history if entry.client == service.client]
    corrected = {entry.corrects for entry in found}
    return [entry for entry in found if entry.id not in corrected]


def _test_of(book: Book, test: AlertTestOnRecord, service: ServiceOnRecord) -> dict[str, Any]:
    answers = answers_of(book, service)

    def answered(fact: str) -> Any:
        answer = answers.get(f"{fact}:{test.id}")
        return answer.value if answer else None

    used_before = "yes" if _relied_on(book, test, service) else answered("used_before")
    if used_before in (None, UNSET) and not test.from_paper:
        used_before = "no"
    own = ("maker", "generation", "leaflet_version", "read_at", "read_by", "site")
    known = {name: getattr(test, name) for name in own}
    method, by = test.method, test.applied_by
    known["method"] = answered("test_method") if method is UNSET else method
    known["applied_by"] = answered("test_applied_by") if by is UNSET else by
    known["used_before"] = used_before
    return {
        "line": test.line,
        "applied_at": test.applied_at,
        "result": "not_read" if test.result is UNSET else test.result,
        "from_paper": False if test.from_paper is UNSET else test.from_paper,
        **{name: value for name, value in known.items() if value},
    }


def _relied_on(book: Book, test: AlertTestOnRecord, service: ServiceOnRecord) -> bool:
    """Return whether an earlier service of this client went on after this test, with its line."""
    applied = seconds_of(test.applied_at)
    return applied is not None and any(
        (began := seconds_of(zone.first_section_at)) is not None
        and began > applied
        and any(product.line == test.line for product in zone.products)
        for zone in book.zones_before(service)
    )


def _had_these_lines(book: Book, service: ServiceOnRecord) -> bool:
    before = {product.line for zone in book.zones_before(service) for product in zone.products}
    lines = [
        product.line
        for zone in book.zones
        if zone.service == service.id and zone.mix is not UNSET
        for product in zone.products
    ]
    return bool(lines) and all(line in before for line in lines)
