"""A judgement in words: this head against its description, and what to do with its reason."""

from math import log

from ...contract.hair import Hair
from ...contract.judgements import Advice, RinsedThen
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.likely import likely_colour
from ..colour.words import direction_of
from ..hair.unsure import deviations_of
from ..timing.strip import words_if_rinsed
from .belief import Belief
from .outlook import Outlook

_WORTH_SAYING = 0.5  # standard deviations of the description
_SEEN = 0.5  # ΔE00
_AGAIN_IN_MIN = 3

# unknown by unknown: more, less
_MORE_OR_LESS = (
    ("is lighter than described", "is deeper than described"),
    ("is warmer than described", "is cooler than described"),
    ("is more porous than described", "is less porous than described"),
    ("develops faster than most", "develops slower than most"),
    ("takes up more dye than most", "takes up less dye than most"),
)


def this_head(belief: Belief, judged: Hair) -> str:
    """Return what sets the judged head apart from the described one, clearest first."""
    before, after = belief.hair, judged
    log_odds = [log(max(0.02, p) / max(0.02, 1 - p)) for p in (before.porosity, after.porosity)]
    changes = (
        (after.level or 0.0) - (before.level or 0.0),
        log(after.warmth / before.warmth),
        log_odds[1] - log_odds[0],
        log(after.rate / before.rate),
        log(after.uptake / before.uptake),
    )
    told = sorted(
        (-abs(change) / sd, more if change > 0 else less)
        for change, sd, (more, less) in zip(
            changes, deviations_of(before.sure), _MORE_OR_LESS, strict=True
        )
        if sd > 0 and abs(change) >= _WORTH_SAYING * sd
    )
    if not told:
        return "This head does as described."
    return f"This head {' and '.join(words for _, words in told[:2])}."


def advice_on(outlook: Outlook, patchy: bool) -> Advice:
    """Return what to do now, and its reason in colour."""
    now, best = outlook.now, outlook.best
    if patchy:
        return _saturate(outlook)
    if best.minute <= now:
        return Advice("rinse", _rinse_words(outlook), min(now, outlook.span.max))
    reason = f"Rinsed now it would dry to {_told(outlook, now)};"
    then = f"at minute {best.minute} to {_told(outlook, best.minute)}."
    if (look_at := outlook.look_again_at()) is not None:
        return Advice(
            "look_again",
            f"Look again at minute {look_at}. {reason} as far as can be told {then} How fast this"
            " head develops decides it, and a second look tells.",
            look_at,
        )
    return Advice(
        "wait", f"Wait until minute {best.minute}, then rinse. {reason} {then}", best.minute
    )


def _saturate(outlook: Outlook) -> Advice:
    words = (
        "Patchy is uneven product, not time: work more of the mix through the thin places. The"
        " strip stays as it is."
    )
    again = min(outlook.now + _AGAIN_IN_MIN, outlook.span.max)
    if again <= outlook.now:
        return Advice(
            "rinse",
            "Patchy is uneven product, but the leaflet's time is up: rinse now, dry a strand of"
            " the thin and of the full places, and even them out with a second mix.",
            min(outlook.now, outlook.span.max),
        )
    return Advice("saturate_again", f"{words} Look again at minute {again}.", again)


def _rinse_words(outlook: Outlook) -> str:
    now, last = outlook.now, outlook.span.max
    if now >= last:
        return (
            f"Rinse now: the leaflet allows {last} minutes and no more. It dries to"
            f" {_told(outlook, last)}."
        )
    later = _told(outlook, last)
    return (
        f"Rinse now: it dries to {_told(outlook, now)}. Left on to minute {last} it would dry"
        f" to {later}."
    )


def _told(outlook: Outlook, minute: int) -> str:
    """Return a dry colour in words, with how far it is from the wish and which way."""
    lab = outlook.development.if_rinsed(outlook.heads.centre, minute)
    words = words_if_rinsed(outlook.development, outlook.heads.centre, lab, minute)
    return f"{words}, {_off(lab, outlook)}"


def _off(lab: LabTuple, outlook: Outlook) -> str:
    miss = delta_e_2000(outlook.wish, lab)
    if miss <= outlook.tolerance:
        return f"{miss:.1f} ΔE from the wish"
    return f"{miss:.1f} ΔE {direction_of(lab, outlook.wish).replace('_', ' ')}"


def too_early(outlook: Outlook) -> RinsedThen | None:
    """Return what rinsing now would cost, when there is better to come."""
    best, first = outlook.best, outlook.landings[0].minute
    minute = max(outlook.now, first)
    if minute >= best.minute:
        return None
    return _rinsed(outlook, minute, f"Rinsed at minute {minute}, too early: ")


def too_late(outlook: Outlook) -> RinsedThen | None:
    """Return what leaving it on to the leaflet's end would cost, when it is best rinsed sooner."""
    last = outlook.landings[-1].minute
    if last <= outlook.best.minute:
        return None
    return _rinsed(outlook, last, f"Left on to minute {last}, too late: ")


def _rinsed(outlook: Outlook, minute: int, opening: str) -> RinsedThen:
    heads, development = outlook.heads, outlook.development
    lab = development.if_rinsed(heads.centre, minute)
    at = next(landing for landing in outlook.landings if landing.minute == minute)
    costs = max(0.0, at.expected - outlook.best.expected)
    ending = (
        f"costs {costs:.1f} ΔE against minute {outlook.best.minute}."
        if costs >= _SEEN
        else f"no difference one would see from minute {outlook.best.minute}."
    )
    return RinsedThen(
        minute=minute,
        if_rinsed=likely_colour(
            lab,
            [development.if_rinsed(head, minute) for head in heads.possible],
            words_if_rinsed(development, heads.centre, lab, minute),
            development.dry_doubt(heads, minute),
        ),
        delta_e=delta_e_2000(outlook.wish, lab),
        costs_delta_e=costs,
        words=f"{opening}{_told(outlook, minute)}; {ending}",
    )
