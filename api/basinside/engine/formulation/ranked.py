"""Which of the mixes found are ranked under uncertainty, and at which minute."""

from collections.abc import Sequence

from .order import may_lead
from .score import Standing
from .shown import different

_RANKED = 50
_SINGLES, _PAIRS, _COVERING = 10, 10, 8
_EACH_CLASS = 4
_ALIKE = 1 / 6
_SHOWN_WITHIN = 0.9  # expected: what may still fill a card
_CLASS_SETTLED, _KIND_SETTLED = 2, 4


def ranked(scored: Sequence[tuple[float, Standing]], tolerance: float) -> list[Standing]:
    """Return the mixes worth ranking under uncertainty, each at a good minute.

    `scored` are ΔE on the hair as described and the mix, closest first. The closest that differ
    from one another; among them some of every class that comes within tolerance, and of single
    products and pairs, since the simplest within 0.3 may lead.
    """
    closest = [s for _, s in scored]
    near = {_kind(s) for miss, s in scored if miss <= tolerance}
    wanted = [
        *different((s for s in closest if len(s.portions) == 1), _SINGLES, _ALIKE),
        *different((s for s in closest if len(s.portions) == 2), _PAIRS, _ALIKE),
    ]
    covering = (s for s in closest if s.line_up.covers_white and s.half_natural)
    wanted += different(covering, _COVERING, _ALIKE)
    for kind in sorted(near):
        wanted += different((s for s in closest if _kind(s) == kind), _EACH_CLASS, _ALIKE)
    wanted += different(closest, _RANKED, _ALIKE)
    unique = list({id(s): s for s in wanted}.values())[:_RANKED]
    return _settled([s.with_a_minute_of_its_own() for s in unique])


def _kind(standing: Standing) -> tuple[str, float]:
    """Return class and strength of developer: each has its best to show."""
    return standing.line_up.product_class, standing.peroxide_percent


def _settled(standings: Sequence[Standing]) -> list[Standing]:
    """Return the standings that may be shown; those that can still lead are settled.

    One look at the minute it has tells what a mix is worth to within 0.2, so most need no other
    minute. The closest few of each class are always settled; of mixes that a colourist would
    choose for the same reasons, only the closest few.
    """
    shown: list[Standing] = []
    of_class: dict[str, int] = {}
    of_kind: dict[object, int] = {}
    # on much white hair mixes that cover are weighed against the closest of their own
    closest: dict[bool, Standing] = {}
    for s in sorted(standings, key=lambda s: (round(s.here.expected, 4), s.rank())):
        name = s.line_up.product_class
        always = of_class.get(name, 0) < _CLASS_SETTLED
        kind = (_kind(s), len(s.portions), s.label_is_the_wish, s.half_natural)
        lowest = closest.get(s.covers_much_white)
        if lowest is not None and not always:
            if s.here.expected > lowest.here.expected + _SHOWN_WITHIN:
                continue
            if of_kind.get(kind, 0) >= _KIND_SETTLED or not may_lead(s, lowest):
                shown.append(s)
                continue
        s.settle()
        shown.append(s)
        of_class[name] = of_class.get(name, 0) + 1
        of_kind[kind] = of_kind.get(kind, 0) + 1
        if lowest is None or s.here.expected < lowest.here.expected:
            closest[s.covers_much_white] = s
    return shown
