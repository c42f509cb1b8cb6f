"""Turns the records of a service into the facts that the safety rules read.

They are the client's answers with their times, today's checks, the alert tests and the hair's past.
A question that nobody asked is left out, never answered "no". `web/src/gate/facts.ts` is the same
in TypeScript, and tests/vectors/gate.json compares the two.
"""

from collections.abc import Mapping
from typing import Any

from .book import Book, Entity, answer_in, ms_of

# The client's own answers that merge toward caution; each is a field of the client's record.
MERGED = ("colour_reaction", "black_tattoo", "dye_allergy", "persulfate_reaction")
_MOST_PAST = 50
_DAY = 10
_PAST_OF_WORDS = {
    "coloured at home": ("permanent_colour",),
    "lightened elsewhere": ("lightened",),
    # Colour that nobody can name may hold metal, so the rules then ask.
    "henna or plant colour": ("plant_henna", "unknown"),
    "metallic or progressive colour": ("metallic",),
    "relaxed or straightened": ("hydroxide_relaxer",),
    "permed": ("perm",),
}


def answers_of(book: Book, service: Entity) -> dict[str, Any]:
    """Return the answers on a service: today's, and those the client gave before."""
    client = book.one("client", service.get("client")) or {}
    return {**client.get("answers", {}), **service.get("facts", {})}


def facts_of(book: Book, service: Entity) -> dict[str, Any]:
    """Return all facts of a service as the rules read them."""
    client = book.one("client", service.get("client")) or {}
    facts: dict[str, Any] = {}
    said_at = []
    for fact, answer in answers_of(book, service).items():
        # Answers about one test or one line have names of their own.
        if ":" in fact or not isinstance(answer, Mapping):
            continue
        if fact in ("hair_past", "touches_skin"):
            continue
        if "value" in answer:
            facts[fact] = answer["value"]
        said_at.append({"fact": fact, **({"at": answer["at"]} if "at" in answer else {})})
    for fact in MERGED:
        word = client.get(fact)
        if word and word != "not_asked":
            facts[fact] = word
    if "new_to_client" not in facts and _had_these_lines(book, service):
        facts["new_to_client"] = "no"
    past = _past_of(book, service)
    if past is not None:
        facts["hair_past"] = past
    tests = [test for test in book.all("alert_test") if test.get("client") == service.get("client")]
    facts["tests"] = [
        _test_of(book, test, service)
        for test in tests
        if test.get("client") and test.get("line") and test.get("applied_at")
    ]
    facts["said_at"] = said_at
    return facts


def _past_of(book: Book, service: Entity) -> list[Any] | None:
    said = answer_in(answers_of(book, service).get("hair_past"))
    if not isinstance(said, list):
        return None
    noted = [
        {"what": past}
        for entry in _history_of(book, service.get("client"))
        for past in _PAST_OF_WORDS.get(entry.get("what", ""), ("unknown",))
    ]
    lifted = [
        {"what": "lightened", "on": zone["first_section_at"][:_DAY]}
        for zone in _zones_before(book, service)
        if zone.get("work") == "lightener"
    ]
    return [*said, *noted, *lifted][:_MOST_PAST]


def _history_of(book: Book, client: str | None) -> list[Entity]:
    """Return the client's hair history, without entries that a later one corrects."""
    found = [entry for entry in book.all("history_entry") if entry.get("client") == client]
    corrected = {entry.get("corrects") for entry in found}
    return [entry for entry in found if entry["id"] not in corrected]


def _test_of(book: Book, test: Entity, service: Entity) -> dict[str, Any]:
    answers = answers_of(book, service)

    def said(name: str) -> Any:
        return answer_in(answers.get(f"{name}:{test['id']}"))

    used_before = "yes" if _relied_on(book, test, service) else said("used_before")
    if used_before is None and not test.get("from_paper"):
        used_before = "no"
    own = ("maker", "generation", "leaflet_version", "read_at", "read_by", "site")
    known = {name: test.get(name) for name in own}
    known["method"] = test["method"] if "method" in test else said("test_method")
    known["applied_by"] = test["applied_by"] if "applied_by" in test else said("test_applied_by")
    known["used_before"] = used_before
    return {
        "line": test["line"],
        "applied_at": test["applied_at"],
        "result": test.get("result", "not_read"),
        "from_paper": test.get("from_paper", False),
        **{name: value for name, value in known.items() if value},
    }


def _relied_on(book: Book, test: Entity, service: Entity) -> bool:
    """Return whether an earlier service of this client went on after this test, with its line."""
    applied_ms = ms_of(test.get("applied_at"))
    return applied_ms is not None and any(
        (began_ms := ms_of(zone["first_section_at"])) is not None
        and began_ms > applied_ms
        and any(product.get("line") == test["line"] for product in zone.get("products", []))
        for zone in _zones_before(book, service)
    )


def _had_these_lines(book: Book, service: Entity) -> bool:
    before = {
        product.get("line")
        for zone in _zones_before(book, service)
        for product in zone.get("products", [])
    }
    lines = [
        product.get("line")
        for zone in book.all("zone")
        if zone.get("service") == service["id"] and "mix" in zone
        for product in zone.get("products", [])
    ]
    return bool(lines) and all(line in before for line in lines)


def _zones_before(book: Book, service: Entity) -> list[Entity]:
    """Return the zones of the same client's other services that went on."""
    return [
        zone
        for zone in book.all("zone")
        if zone.get("first_section_at")
        and zone.get("service") != service["id"]
        and (book.one("service", zone.get("service")) or {}).get("client") == service.get("client")
    ]
