"""The bowl as the rules see it: what is in it, how strong, where it goes and for how long."""

from collections.abc import Iterable, Sequence

from ...contract.safety import LineCard, SafetyPlan
from .classes import (
    LIGHTENERS,
    OXIDATIVE,
    SERVICE_CLASSES,
    WITHOUT_AMMONIA,
    service_class,
)
from .conditions import NOT_ASKED, UNKNOWN, Ask, Facts, Known
from .instants import read_moment
from .rulebook import rule_book
from .times import CLOCK_SLACK_S, Times

_SCALP_PERCENT = 6.0  # while no leaflet says otherwise: common practice, no published source
_ON_SKIN = frozenset({"scalp", "beard", "brows", "lashes"})
_MISSING = (NOT_ASKED, UNKNOWN)


def bowl_facts(plan: SafetyPlan, times: Times) -> Facts:
    """Return every fact that the plan alone decides."""
    cards = list(enumerate(plan.lines))
    classes = frozenset(service_class(card) for card in plan.lines)
    lightening = [(at, card) for at, card in cards if service_class(card) in LIGHTENERS]
    areas = frozenset(plan.areas)
    touches = plan.touches_skin or ("yes" if areas & _ON_SKIN else NOT_ASKED)
    return {
        "classes": Known(classes),
        "areas": Known(areas),
        "zones": Known(", ".join(sorted(plan.zones)) or "none"),
        "line": Known(" + ".join(sorted(card.line for card in plan.lines))),
        "chemical": _yes(classes != {"no_chemical"}),
        "oxidative": _yes(bool(classes & OXIDATIVE)),
        "lightener": _yes(bool(lightening)),
        "lightener_or_oxidative": _yes(bool(classes & (LIGHTENERS | OXIDATIVE))),
        "sensitiser": worst("sensitiser", [(at, _sensitiser(card)) for at, card in cards]),
        "persulfate": worst("persulfate", [(at, _persulfate(card)) for at, card in cards]),
        "touches_skin": Known(touches, (Ask("touches_skin", "/plan/touches_skin"),)),
        "heat": Known(plan.heat or NOT_ASKED, (Ask("heat", "/plan/heat"),)),
        "heat_allowed": _card_fact("heat_allowed", lightening),
        "labelled": _card_fact("labelled", cards),
        "label_caution": _card_fact("label_caution", cards),
        "cleared_for_lashes": _card_fact("cleared_for_lashes", cards),
        "listed_lash_gel": _card_fact("listed_lash_gel", cards),
        "leaflet_version": _leaflet(cards),
        "mix_chosen": _yes(plan.mix_chosen),
        "lines_clash": _yes(_clash(plan.lines)),
        **_peroxide(plan),
        **_ammonia(cards),
        **_minutes(plan, times),
    }


def worst(fact: str, values: Iterable[tuple[int, str | None]]) -> Known:
    """Return the most cautious value of several lines; a missing one counts before a safe one."""
    listed = [(at, value or NOT_ASKED) for at, value in values]
    order = rule_book().facts[fact].caution
    asks = tuple(Ask(fact, f"/plan/lines/{at}/{fact}") for at, v in listed if v in _MISSING)
    found = {value for _, value in listed}
    if order[-1] in found:
        return Known(order[-1])
    if NOT_ASKED in found or UNKNOWN in found:
        return Known(NOT_ASKED if NOT_ASKED in found else UNKNOWN, asks)
    return Known(order[0])


def _card_fact(fact: str, cards: Sequence[tuple[int, LineCard]]) -> Known:
    return worst(fact, [(at, getattr(card, fact)) for at, card in cards])


def _sensitiser(card: LineCard) -> str:
    if card.sensitiser is not None:
        return card.sensitiser
    if any((card.test.min_hours, card.test.site, card.test.method)):
        return "yes"  # its leaflet asks for a test
    return SERVICE_CLASSES[service_class(card)].sensitiser


def _persulfate(card: LineCard) -> str:
    return card.persulfate or SERVICE_CLASSES[service_class(card)].persulfate


def _leaflet(cards: Sequence[tuple[int, LineCard]]) -> Known:
    asks = tuple(
        Ask("leaflet_version", f"/plan/lines/{at}/leaflet_version")
        for at, card in cards
        if not card.leaflet_version
    )
    if asks:
        return Known(NOT_ASKED, asks)
    return Known(", ".join(str(card.leaflet_version) for _, card in cards))


def _clash(cards: list[LineCard]) -> bool:
    makers = {card.maker.casefold() for card in cards if card.maker}
    return len(makers) > 1 or any(
        one.line != other.line and other.line not in one.may_mix_with
        for one in cards
        for other in cards
    )


def _peroxide(plan: SafetyPlan) -> Facts:
    """Return the strengths: of the bottle, and on the head by mass where the ratio is known.

    Percent in the bowl = bottle · r / (1 + r), r being developer per part of colour; without
    a ratio the bottle's own strength, which no mix exceeds.
    """
    takes = any(SERVICE_CLASSES[service_class(card)].developer for card in plan.lines)
    released = {card.releases_peroxide or "no" for card in plan.lines}
    bottle = plan.developer_percent
    ask_bottle = (Ask("developer_percent", "/plan/developer_percent"),)
    ask_head = (Ask("on_head_percent", "/plan/on_head_percent"),)
    if bottle is None:
        strength = Known(NOT_ASKED, ask_bottle) if takes else Known(0.0)
    else:
        strength = Known(float(bottle))
    if plan.on_head_percent is not None:
        on_head = Known(float(plan.on_head_percent))
    elif released != {"no"}:
        on_head = Known(UNKNOWN, ask_head)
    elif bottle is None or plan.mix_ratio is None:
        on_head = strength
    else:
        on_head = Known(bottle * plan.mix_ratio / (1 + plan.mix_ratio))
    holds = takes or bool(bottle) or "yes" in released or bool(plan.on_head_percent)
    asks = tuple(
        Ask("releases_peroxide", f"/plan/lines/{at}/releases_peroxide")
        for at, card in enumerate(plan.lines)
        if card.releases_peroxide == UNKNOWN
    )
    limits = [
        card.scalp_max_percent if card.scalp_max_percent is not None else _SCALP_PERCENT
        for card in plan.lines
        if service_class(card) in LIGHTENERS
    ]
    over = Known("no")
    if limits:
        over = _yes(bottle > min(limits)) if bottle is not None else Known(NOT_ASKED, ask_bottle)
    return {
        "peroxide": Known("yes") if holds else Known(UNKNOWN, asks) if asks else Known("no"),
        "developer_percent": strength,
        "on_head_percent": on_head,
        "over_scalp_strength": over,
    }


def _ammonia(cards: Sequence[tuple[int, LineCard]]) -> Facts:
    """Return the ammonia. Stock under its label is taken to keep the law's limit (EU-NH3)."""
    most, unlabelled, unsaid = 0.0, [], []
    some = False
    for at, card in cards:
        default = SERVICE_CLASSES[service_class(card)].ammonia
        if card.nh3_percent is not None:
            most = max(most, card.nh3_percent)
            some = some or card.nh3_percent > 0
            continue
        if card.labelled != "yes" and service_class(card) != "no_chemical":
            # Out of its pack only a figure helps: the label was asked for already.
            fact = "nh3_percent" if card.labelled == "no" else "labelled"
            unlabelled.append(Ask(fact, f"/plan/lines/{at}/{fact}"))
        if default == NOT_ASKED and card.product_class not in WITHOUT_AMMONIA:
            unsaid.append(Ask("nh3_percent", f"/plan/lines/{at}/nh3_percent"))
        some = some or default == "yes"
    percent = Known(most)
    if unlabelled and most <= 6:
        asked = any(card.labelled is not None for _, card in cards)
        percent = Known(UNKNOWN if asked else NOT_ASKED, tuple(unlabelled))
    return {
        "nh3_percent": percent,
        "powder_or_ammonia": Known("yes")
        if some
        else Known(NOT_ASKED, tuple(unsaid))
        if unsaid
        else Known("no"),
    }


def _minutes(plan: SafetyPlan, times: Times) -> Facts:
    limits = [card.max_minutes for card in plan.lines if card.max_minutes is not None]
    asks = tuple(
        Ask("max_minutes", f"/plan/lines/{at}/max_minutes")
        for at, card in enumerate(plan.lines)
        if card.max_minutes is None
    )
    if plan.started_at is None:
        blank = Known(NOT_ASKED, (Ask("started_at", "/plan/started_at"),))
        return {"over_time": blank, "timing_done": blank}
    started = read_moment(plan.started_at).seconds
    if times.clock_back or started > times.now.seconds + CLOCK_SLACK_S:
        return {"over_time": Known(UNKNOWN), "timing_done": Known(UNKNOWN)}
    minutes = (times.now.seconds - started) / 60
    over = _yes(bool(limits) and minutes >= min(limits))
    if over.value == "no" and asks:
        over = Known(NOT_ASKED, asks)
    planned = (
        plan.planned_minutes if plan.planned_minutes is not None else min(limits, default=None)
    )
    if planned is None:
        return {"over_time": over, "timing_done": Known(NOT_ASKED, asks)}
    return {"over_time": over, "timing_done": _yes(minutes >= planned)}


def _yes(is_so: bool) -> Known:
    return Known("yes" if is_so else "no")
