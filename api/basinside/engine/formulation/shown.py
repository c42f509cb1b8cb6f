"""Which mixes are worth a card beside the one that leads.

Two cards differ in something a colourist chooses by. The bounds are judgement, no published source.
"""

from collections.abc import Iterable, Sequence

from ...contract.formulations import Limits
from .order import GENTLEST_FIRST, in_order
from .score import Standing

_QUARTER = 0.25
_SOONER_MIN, _SOONER_SHARE = 5, 2 / 3
_CHEAPER = 0.8
_BETTER_CHANCE = 0.05
_HALF = 0.5
_TO_THE_MINUTE = 8  # of the leading class: who is further off gains as much at most
_MAY_LEAD_WITHIN = 0.5  # near-equal, and what the minute itself brings


def differ(first: Standing, second: Standing, share_of_parts: float) -> bool:
    """Return whether two mixes differ by a product, by developer, or by this share of the parts."""
    p, q = first.dyed_parts, second.dyed_parts
    if p.keys() != q.keys() or first.peroxide_percent != second.peroxide_percent:
        return True
    clear = abs(sum(p.values()) - sum(q.values()))
    moved = (sum(abs(n - q[m]) for m, n in p.items()) + clear) / 2
    return moved >= share_of_parts * first.line_up.whole - 1e-9


def different(standings: Iterable[Standing], count: int, share_of_parts: float) -> list[Standing]:
    """Return the first `count` that differ from one another."""
    chosen: list[Standing] = []
    for standing in standings:
        if len(chosen) == count:
            break
        if all(differ(standing, other, share_of_parts) for other in chosen):
            chosen.append(standing)
    return chosen


def another_choice(new: Standing, shown: Standing) -> bool:
    """Return whether a mix gives a colourist a reason to choose it over one already shown.

    Another class, line or colour in words does; so do fewer tubes, a weaker developer, a third
    less time, a fifth less cost, or a chance better by 0.05. Other grams alone do not.
    """
    if new.line_up.product_class != shown.line_up.product_class or new.lines != shown.lines:
        return True
    if not differ(new, shown, _QUARTER):
        return False
    sooner = new.minute <= min(shown.minute - _SOONER_MIN, _SOONER_SHARE * shown.minute)
    cheaper = new.cost is not None and shown.cost is not None and new.cost <= _CHEAPER * shown.cost
    return (
        len(new.portions) < len(shown.portions)
        or new.peroxide_percent < shown.peroxide_percent
        or sooner
        or cheaper
        or new.here.chance >= shown.here.chance + _BETTER_CHANCE
        or new.words != shown.words
    )


def kept(
    standings: Sequence[Standing],
    lowest: Standing,
    near_classes: Sequence[str],
    limits: Limits,
) -> list[Standing]:
    """Return what is shown, in order, up to `count`.

    The leader; the best of each class in `near_classes`, gentlest first; the mix of lowest ΔE on
    the hair as described; the rest with half the leader's chance. Each must be another choice than
    all before it; with `limits.unlikely` the closest is shown whatever it is like.
    """
    ordered = _in_order_to_the_minute(standings)
    if limits.count == 1:
        ordered[0].settle_of_all()
        return ordered[:1]
    bests = [
        best
        for name in sorted(near_classes, key=GENTLEST_FIRST.index)
        for best in in_order(s for s in standings if s.line_up.product_class == name)[:1]
    ]
    chosen: list[Standing] = []
    likely = [s for s in ordered if s.here.chance >= _HALF * ordered[0].here.chance]
    if limits.unlikely:
        chosen.append(lowest)
    for standing in [*ordered[:1], *bests, lowest, *likely]:
        if len(chosen) == limits.count:
            break
        if not all(another_choice(standing, other) for other in chosen):
            continue
        if standing is not lowest:
            standing.settle_of_all()
        # two spellings of one mix may be told apart by minutes that were not their best
        if all(another_choice(standing, other) for other in chosen):
            chosen.append(standing)
    leader = in_order(chosen)[0] if limits.unlikely else chosen[0]
    rest = [s for s in chosen if s is not leader]
    return [leader, *sorted(rest, key=Standing.rank)]


def _in_order_to_the_minute(standings: Sequence[Standing]) -> list[Standing]:
    """Return standings in order, those that may lead each at its best minute.

    Within a stride of it a fast mix is up to 0.2 ΔE off, as much as would decide.
    """
    leader = in_order(standings)[0]
    limit = leader.here.expected + _MAY_LEAD_WITHIN
    of_its_class = (s for s in standings if s.line_up.product_class == leader.line_up.product_class)
    closest = sorted((s for s in of_its_class if s.here.expected <= limit), key=Standing.rank)
    for standing in {id(s): s for s in [leader, *closest[:_TO_THE_MINUTE]]}.values():
        standing.settle_to_the_minute()
    return in_order(standings)
