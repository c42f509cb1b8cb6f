"""Which strengths of developer are worth searching, once each is known to how near it comes."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from .lineups import LineUp

# CIEDE2000 on the hair as described. On hair that is not known exactly this makes a few tenths of
# what is expected, which nobody can tell, so the weaker one leads.
_LEADS_WITHIN = 1.0
_CLEARLY_NEARER, _FAR = 0.02, 0.5
STRONG_PERCENT = 9.0  # beyond it only what is clearly better may lead


@dataclass(frozen=True, slots=True, order=True)
class _Reach:
    """How near the best of all shares of a line-up comes, at its strength."""

    distance: float
    percent: float
    place: int


def strengths_worth_weighing(lines: Sequence[LineUp], closest: Sequence[float]) -> list[int]:
    """Return the places of the line-ups to search; `closest` is how near each one comes.

    Of each line: the lowest strength within 1 of the closest, and the closest where it is nearer by
    0.02. Where none comes within 0.5, weighing may turn the order round, so one more within 1.
    Where the closest needs more than 9 %, also the closest that does not.
    """
    by_line: dict[tuple[str, tuple[str, ...]], list[_Reach]] = {}
    chosen: set[int] = set()
    for place, (line_up, distance) in enumerate(zip(lines, closest, strict=True)):
        if distance == inf:
            continue
        if not line_up.every_strength:
            chosen.add(place)
            continue
        named = tuple(sorted({p.line for p in line_up.members}))
        reach = _Reach(distance, line_up.peroxide_percent, place)
        by_line.setdefault((line_up.product_class, named), []).append(reach)
    for reaches in by_line.values():
        chosen |= _worth(sorted(reaches))
    return sorted(chosen)


def _worth(nearest_first: Sequence[_Reach]) -> set[int]:
    closest = nearest_first[0]
    near = [r for r in nearest_first if r.distance <= closest.distance + _LEADS_WITHIN]
    lowest = min(near, key=lambda r: r.percent)
    chosen = {lowest.place}
    if closest.distance < lowest.distance - _CLEARLY_NEARER:
        chosen.add(closest.place)
    if closest.distance > _FAR:
        chosen.update([r.place for r in near if r.place not in chosen][:1])
    if closest.percent > STRONG_PERCENT:
        chosen.update([r.place for r in nearest_first if r.percent <= STRONG_PERCENT][:1])
    return chosen
