"""What was done to this hair before, against what is planned now."""

from ...contract.safety import SafetyReviewRequest
from ...contract.safety_facts import HairPast
from .conditions import NOT_ASKED, UNKNOWN, Ask, Facts, Known
from .instants import read_day
from .times import Times

_METAL = frozenset({"metallic", "progressive_restorer", "compound_henna"})
_CHEMICAL = frozenset({"lightened", "hydroxide_relaxer", "thio_relaxer", "perm"})
_WAIT_DAYS = 14  # FDA-14D
_ASK = (Ask("hair_past", "/facts/hair_past"),)
_ASK_ZONES = (Ask("zones", "/plan/zones"),)


def hair_facts(request: SafetyReviewRequest, times: Times) -> Facts:
    """Return what the hair's past means for this plan."""
    past = request.facts.hair_past
    if past is None:
        blank = Known(NOT_ASKED, _ASK)
        names = ("past", "maybe_metal", "overlap", "hydroxide_in_zone", "recent_chemical")
        return dict.fromkeys(names, blank)
    done = frozenset(entry.what for entry in past)
    return {
        "past": Known(done, _ASK),
        "maybe_metal": _metal(done, request.facts.hair_past_doubt),
        "overlap": _meets("lightened", past, request.plan.zones),
        "hydroxide_in_zone": _meets("hydroxide_relaxer", past, request.plan.zones),
        "recent_chemical": _recent(past, request, times),
    }


def _metal(done: frozenset[str], doubt: str | None) -> Known:
    if done & _METAL:
        return Known("yes")
    if UNKNOWN not in done:
        return Known("no")
    return Known(doubt or NOT_ASKED, (Ask("hair_past_doubt", "/facts/hair_past_doubt"),))


def _meets(what: str, past: list[HairPast], zones: list[str]) -> Known:
    """Return whether the mix goes where `what` was done; a zone nobody named is everywhere."""
    own = [entry for entry in past if entry.what == what]
    if any(entry.zone is None for entry in own):
        return Known("yes")
    if own and not zones:
        return Known(NOT_ASKED, _ASK_ZONES)
    planned = {zone.casefold() for zone in zones}
    if any(entry.zone and entry.zone.casefold() in planned for entry in own):
        return Known("yes")
    return Known(UNKNOWN, _ASK) if any(entry.what == UNKNOWN for entry in past) else Known("no")


def _recent(past: list[HairPast], request: SafetyReviewRequest, times: Times) -> Known:
    fresh = [card.for_fresh_lightened for card in request.plan.lines]
    open_ = Known("no")
    for entry in past:
        if entry.what not in _CHEMICAL and entry.what != UNKNOWN:
            continue
        recent = _is_recent(entry, times)
        if recent is False:
            continue
        if entry.what == "lightened" and all(answer == "yes" for answer in fresh):
            continue
        if recent is None:
            open_ = Known(UNKNOWN if times.clock_back else NOT_ASKED, _ASK)
        elif entry.what == "lightened" and "no" not in fresh:
            asks = tuple(
                Ask("for_fresh_lightened", f"/plan/lines/{at}/for_fresh_lightened")
                for at, answer in enumerate(fresh)
                if answer != "yes"
            )
            open_ = Known(NOT_ASKED if None in fresh else UNKNOWN, asks)
        elif entry.what == UNKNOWN:
            open_ = Known(UNKNOWN, _ASK)
        else:
            return Known("yes")
    return open_


def _is_recent(entry: HairPast, times: Times) -> bool | None:
    """Return whether it was done less than 14 days before; None where no day is known."""
    if entry.on is None or times.clock_back:
        return None
    return times.at.local_day - read_day(entry.on) < _WAIT_DAYS
