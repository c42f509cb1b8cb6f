"""Turns a service's records into the plan that the safety rules read.

It holds the lines with their leaflets, the areas, the strength and the decisions. If a record says
nothing, the plan takes the most cautious value. `web/src/gate/plan.ts` is the same in TypeScript,
and tests/vectors/gate.json compares the two.
"""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from .book import Book, Entity, answer_in, ms_of, said
from .facts import answers_of

# Takes the place of a mix until one is chosen, so that a client can be asked days before.
NO_LINE = "a line not chosen yet"
_CARD_FACTS = (
    "labelled",
    "label_caution",
    "leaflet_version",
    "sensitiser",
    "persulfate",
    "heat_allowed",
    "max_minutes",
    "nh3_percent",
    "for_fresh_lightened",
    "cleared_for_lashes",
    "listed_lash_gel",
    "releases_peroxide",
)
_MOST_LINES, _MOST_MAY_MIX, _MOST_ZONES = 8, 50, 20
_MADE = ("service", "zone", "alert_test", "decision", "client", "step")


def plan_of(book: Book, service: Entity) -> dict[str, Any]:
    """Return the plan of a service."""
    zones = _mixed_zones(book, service["id"])
    heats = [zone.get("heat") for zone in zones]
    heat = "yes" if "yes" in heats else "no" if all(each == "no" for each in heats) else None
    started = sorted(zone["first_section_at"] for zone in zones if "first_section_at" in zone)
    waiting = any(not zone.get("first_section_at") for zone in zones)
    strengths = [strength for zone in zones for strength in _strengths_of(zone)] + [
        lightener["developer_percent"] for lightener in _lighteners(zones)
    ]
    client = book.one("client", service.get("client")) or {}
    areas = list(dict.fromkeys(zone.get("area", "scalp") for zone in zones))
    return said(
        {
            "lines": _cards_of(book, zones),
            # A zone that nobody placed may be on the scalp.
            "areas": areas or ["scalp"],
            "moment": "live" if started and not waiting else "start",
            "purpose": "client",
            "client": client.get("name"),
            "opened_at": service["created_at"],
            "zones": list(dict.fromkeys(zone["name"] for zone in zones if zone.get("name")))[
                :_MOST_ZONES
            ],
            "developer_percent": max(strengths, default=None),
            "heat": heat if zones else None,
            "touches_skin": answer_in(answers_of(book, service).get("touches_skin")),
            "started_at": started[0] if started and not waiting else None,
            "seen_until": _seen_until(book),
            "decisions": _decisions_of(book, service["id"]),
            "house": _house(book),
        }
    )


def _mixed_zones(book: Book, service: str) -> list[Entity]:
    """Return the zones of a service whose mix is not rinsed yet, in their order."""
    zones = [zone for zone in book.all("zone") if zone.get("service") == service]
    zones.sort(key=lambda zone: zone.get("order", 0))
    return [zone for zone in zones if _is_mixed(zone) and not zone.get("rinsed_at")]


def _is_mixed(zone: Entity) -> bool:
    if zone.get("work") == "lightener":
        return "max_min" in zone.get("lightener", {})
    return "mix" in zone


def _products_in(zone: Entity) -> list[Mapping[str, Any]]:
    parts = {part.get("product") for part in zone.get("mix", {}).get("parts", [])}
    return [product for product in zone.get("products", []) if product.get("id") in parts]


def _lighteners(zones: list[Entity]) -> list[Mapping[str, Any]]:
    return [
        zone["lightener"]
        for zone in zones
        if zone.get("work") == "lightener" and zone.get("lightener")
    ]


def _strengths_of(zone: Entity) -> list[float]:
    developer = zone.get("mix", {}).get("developer")
    if developer:
        return [developer["percent"]]
    return [
        strength
        for product in _products_in(zone)
        for strength in product.get("developer_percent", [])
    ]


def _cards_of(book: Book, zones: list[Entity]) -> list[dict[str, Any]]:
    """Return the lines of a service's mixes, each once; a stand-in while no mix is chosen."""
    by_kind = {lightener["kind"]: lightener for lightener in _lighteners(zones)}
    by_line = {product["line"]: product for zone in zones for product in _products_in(zone)}
    cards = [_card_of_lightener(book, lightener) for lightener in by_kind.values()]
    cards += [_card_of(book, product) for product in by_line.values()]
    if not cards:
        return [{"line": NO_LINE, "class": "oxidative_permanent"}]
    bowls = [[product["line"] for product in _products_in(zone)] for zone in zones]
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


def _card_of_lightener(book: Book, lightener: Mapping[str, Any]) -> dict[str, Any]:
    """Return the card of a zone's lightener: no shelf has it, so its leaflet was typed in."""
    line = f"lightener {lightener['kind']}"
    powder = lightener["kind"] == "powder"
    card = {
        "line": line,
        "class": "lightener_powder" if powder else "lightener_cream",
        "max_minutes": lightener["max_min"],
    }
    return said(card | _said_of_card(book, line))


def _card_of(book: Book, product: Mapping[str, Any]) -> dict[str, Any]:
    name = product["line"]
    line = next((known for known in book.all("line") if known.get("name") == name), {})
    leaflet = line.get("leaflet", {})
    allowed = leaflet.get("heat_allowed")
    longest = leaflet.get("max_minutes")
    card = {
        "line": name,
        "product_class": product.get("class"),
        "may_mix_with": product.get("may_mix_with", []),
        "max_minutes": product["window"]["max"] if longest is None else longest,
        "leaflet_version": line.get("leaflet_version"),
        "heat_allowed": None if allowed is None else "yes" if allowed else "no",
        "test": said(
            {name: leaflet.get(name) for name in ("min_hours", "max_hours", "site", "method")}
        ),
    }
    return said(card | _said_of_card(book, name))


def _said_of_card(book: Book, line: str) -> dict[str, Any]:
    """Return the answers about a line: they are given once, not at each visit."""
    answered = {fact: answer_in(book.setting(f"line card: {line}: {fact}")) for fact in _CARD_FACTS}
    return said(answered)


def _decisions_of(book: Book, service: str) -> list[dict[str, Any]]:
    needed = ("rule", "role", "saw", "why", "at")
    return [
        said({name: decision.get(name) for name in (*needed, "by", "edition")})
        | {"basis": decision["basis"]}
        for decision in book.all("decision")
        if decision.get("service") == service
        and all(decision.get(name) for name in needed)
        and "basis" in decision
    ]


def _house(book: Book) -> dict[str, Any]:
    """Return the salon's own settings: how long its insurer lets one test hold."""
    terms = book.setting("alert_test_terms")
    if not isinstance(terms, Mapping):
        return {}
    months = terms.get("months")
    in_numbers = isinstance(months, int | float) and not isinstance(months, bool)
    in_words = all(isinstance(terms.get(name), str) for name in ("by", "why", "review_on"))
    return {"test_validity": dict(terms)} if in_numbers and in_words else {}


def _seen_until(book: Book) -> str | None:
    """Return the latest moment at which any record here was made, to the second, in UTC."""
    made = [entity["created_at"] for kind in _MADE for entity in book.all(kind)]
    went_on = [
        zone.get(name) for zone in book.all("zone") for name in ("first_section_at", "rinsed_at")
    ]
    latest_ms = max((ms for ms in map(ms_of, made + went_on) if ms is not None), default=None)
    if latest_ms is None:
        return None
    return datetime.fromtimestamp(latest_ms // 1000, UTC).isoformat().replace("+00:00", "Z")
