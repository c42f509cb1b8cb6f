"""Turns a service's records into the plan that the safety rules read.

It holds the lines with their leaflets, the areas, the strength and the decisions. If a record says
nothing, the plan takes the most cautious value. `tests/vectors/gate.json` has cases.
"""

from collections.abc import Mapping
from typing import Any

from msgspec import UNSET

from ....contract.fact_rows import fact_rows
from ....contract.service_reviews import (
    LightenerOnRecord,
    LineOnRecord,
    ProductOnRecord,
    ServiceOnRecord,
    ServiceReviewRequest,
    ZoneOnRecord,
)
from ..instants import text_of
from .book import Book, answer_in, said, seconds_of
from .facts import answers_of

# Takes the place of a mix until one is chosen, so that a client can be asked days before.
_NO_CARD = {"line": "a line not chosen yet", "class": "oxidative_permanent"}
_MOST_LINES, _MOST_MAY_MIX, _MOST_ZONES = 8, 50, 20


def plan_of(asked: ServiceReviewRequest, book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    """Return the plan of a service.

    All its bowls make one plan, with the strongest developer and every area. The bowls on one
    head hold or open together, and each person is asked once and not once a bowl.
    """
    zones = _mixed_zones(book, service.id)
    heats = [zone.heat for zone in zones]
    heat = "yes" if "yes" in heats else "no" if all(each == "no" for each in heats) else None
    started = sorted(
        str(zone.first_section_at) for zone in zones if zone.first_section_at is not UNSET
    )
    waiting = any(not zone.first_section_at for zone in zones)
    strengths = [strength for zone in zones for strength in _strengths_of(zone)]
    strengths += [lightener.developer_percent for lightener in _lighteners(zones)]
    client = book.client_of(service)
    areas = list(dict.fromkeys("scalp" if zone.area is UNSET else zone.area for zone in zones))
    names = dict.fromkeys(zone.name for zone in zones if zone.name)
    cards = _cards_of(book, zones)
    known = said(
        {
            "lines": cards or [_NO_CARD],
            "mix_chosen": bool(cards),
            # A zone that nobody placed may be on the scalp.
            "areas": areas or ["scalp"],
            "moment": "live" if started and not waiting else "start",
            "purpose": "client",
            "client": client.name if client else None,
            "opened_at": service.created_at,
            "zones": list(names)[:_MOST_ZONES],
            "developer_percent": max((s for s in strengths if s is not UNSET), default=None),
            "heat": heat if zones else None,
            "started_at": started[0] if started and not waiting else None,
            "seen_until": _seen_until(asked, book),
            "decisions": _decisions_of(book, service.id),
            "house": house_of(book),
        }
    )
    return _answered_of_plan(book, service) | known


def _answered_of_plan(book: Book, service: ServiceOnRecord) -> dict[str, Any]:
    """Return what was answered at this visit about the plan itself."""
    answers = answers_of(book, service)
    rows = fact_rows().items()
    return said(
        {
            name: answers[name].value
            for name, row in rows
            if row.place == f"/plan/{name}" and row.input != "elsewhere" and name in answers
        }
    )


def _mixed_zones(book: Book, service: str) -> list[ZoneOnRecord]:
    """Return the zones of a service whose mix is not rinsed yet, in their order."""
    zones = [zone for zone in book.zones if zone.service == service]
    zones.sort(key=lambda zone: 0 if zone.order is UNSET else zone.order)
    return [zone for zone in zones if _is_mixed(zone) and not zone.rinsed_at]


def _is_mixed(zone: ZoneOnRecord) -> bool:
    if zone.work == "lightener":
        return zone.lightener is not UNSET and zone.lightener.max_min is not UNSET
    return zone.mix is not UNSET


def _products_in(zone: ZoneOnRecord) -> list[ProductOnRecord]:
    parts = {part.product for part in zone.mix.parts} if zone.mix is not UNSET else set()
    return [product for product in zone.products if product.id in parts]


def _lighteners(zones: list[ZoneOnRecord]) -> list[LightenerOnRecord]:
    return [
        zone.lightener for zone in zones if zone.work == "lightener" and zone.lightener is not UNSET
    ]


def _strengths_of(zone: ZoneOnRecord) -> list[Any]:
    developer = zone.mix.developer if zone.mix is not UNSET else UNSET
    if developer:
        return [developer.percent]
    return [strength for product in _products_in(zone) for strength in product.developer_percent]


def _cards_of(book: Book, zones: list[ZoneOnRecord]) -> list[dict[str, Any]]:
    """Return the lines of a service's mixes, each once; none while no mix is chosen."""
    by_kind = {lightener.kind: lightener for lightener in _lighteners(zones)}
    by_line = {product.line: product for zone in zones for product in _products_in(zone)}
    cards = [_card_of_lightener(book, lightener) for lightener in by_kind.values()]
    cards += [_card_of(book, product) for product in by_line.values()]
    bowls = [[product.line for product in _products_in(zone)] for zone in zones]
    return [
        {
            **card,
            "may_mix_with": [
                *card.get("may_mix_with", []),
                *_apart(card["line"], cards, bowls),
            ][:_MOST_MAY_MIX],
        }
        for card in cards[:_MOST_LINES]
    ]


def _apart(line: str, cards: list[dict[str, Any]], bowls: list[list[str]]) -> list[str]:
    """Return the lines that share no bowl with this one: zones are never mixed together."""
    together = {other for bowl in bowls if line in bowl for other in bowl}
    return [card["line"] for card in cards if card["line"] != line and card["line"] not in together]


def _card_of_lightener(book: Book, lightener: LightenerOnRecord) -> dict[str, Any]:
    """Return the card of a zone's lightener: no shelf has it, so its leaflet was typed in."""
    line = f"lightener {lightener.kind}"
    card = {
        "line": line,
        "class": "lightener_powder" if lightener.kind == "powder" else "lightener_cream",
        "max_minutes": lightener.max_min,
    }
    return said(card | _said_of_card(book, line))


def line_named(book: Book, name: str) -> LineOnRecord | None:
    """Return a line by its name, or None where the salon does not have it."""
    return next((line for line in book.lines if line.name == name), None)


def _card_of(book: Book, product: ProductOnRecord) -> dict[str, Any]:
    line = line_named(book, product.line)
    leaflet = line.leaflet if line else UNSET
    terms = ("min_hours", "max_hours", "site", "method")
    allowed = leaflet.heat_allowed if leaflet else UNSET
    longest = leaflet.max_minutes if leaflet else UNSET
    if longest is UNSET and product.window is not UNSET:
        longest = product.window.max
    card = {
        "line": product.line,
        "product_class": product.class_,
        "may_mix_with": product.may_mix_with,
        "max_minutes": longest,
        "leaflet_version": line.leaflet_version if line else None,
        "heat_allowed": None if allowed is UNSET else "yes" if allowed else "no",
        "test": said({name: getattr(leaflet, name, None) for name in terms}),
    }
    return said(card | _said_of_card(book, product.line))


def _said_of_card(book: Book, line: str) -> dict[str, Any]:
    """Return the answers about a line: they are given once, not at each visit."""
    facts = [name for name, row in fact_rows().items() if row.kept_with == "line"]
    return said({fact: answer_in(book.setting(f"line card: {line}: {fact}")) for fact in facts})


def _decisions_of(book: Book, service: str) -> list[dict[str, Any]]:
    needed = ("rule", "role", "saw", "why", "at")
    return [
        said({name: getattr(decision, name) for name in (*needed, "by", "edition")})
        | {"basis": decision.basis}
        for decision in book.decisions
        if decision.service == service
        and all(getattr(decision, name) for name in needed)
        and decision.basis is not UNSET
    ]


def house_of(book: Book) -> dict[str, Any]:
    """Return the salon's own settings: how long its insurer lets one test hold."""
    terms = book.setting("alert_test_terms")
    if not isinstance(terms, Mapping):
        return {}
    months = terms.get("months")
    in_numbers = isinstance(months, int | float) and not isinstance(months, bool)
    in_words = all(isinstance(terms.get(name), str) for name in ("by", "why", "review_on"))
    return {"test_validity": dict(terms)} if in_numbers and in_words else {}


def _seen_until(asked: ServiceReviewRequest, book: Book) -> str | None:
    """Return the latest moment that any record was made at, to the second, in UTC."""
    made = [
        record.created_at
        for records in (book.clients, book.services, book.zones, book.tests, book.decisions)
        for record in records
    ]
    went_on = [at for zone in book.zones for at in (zone.first_section_at, zone.rinsed_at)]
    moments = map(seconds_of, [*made, *went_on, asked.seen_until])
    latest = max((seconds for seconds in moments if seconds is not None), default=None)
    return None if latest is None else text_of(latest // 1, 0).replace("+00:00", "Z")
