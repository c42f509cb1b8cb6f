"""From shares to what the scale can weigh: whole parts of the bowl near the best shares.

Rounding is a closest-point problem, not rounding: one part of a strong product can move the
colour by 3 ΔE, so the parts are chosen together.
"""

from collections.abc import Sequence
from itertools import product
from math import floor

from ..colour.lab import LabTuple
from .lineups import Portions
from .project import Projection


def weighable(
    projection: Projection,
    vertices: Sequence[int],
    shares: Sequence[float],
    miss: LabTuple,
    reach: int,
    keep: int,
) -> list[Portions]:
    """Return up to `keep` mixes in whole parts near `shares`, likeliest first.

    `miss` is the real one at `shares`. Every product named gets at least a part. What is left
    over is clear, or the last vertex where there is no clear.
    """
    whole, clear = projection.line_up.whole, projection.clear
    members = [v for v in vertices if v != clear]
    filler = clear if clear is not None else members.pop()
    least = 0 if clear is not None else 1
    if not members:
        return [((filler, whole),)]
    share_of = dict(zip(vertices, shares, strict=True))
    f0, f1, f2 = projection.arrows[filler]
    # one more part of a member is one part less of the filler
    steps = [
        ((v0 - f0) / whole, (v1 - f1) / whole, (v2 - f2) / whole)
        for v0, v1, v2 in (projection.arrows[m] for m in members)
    ]
    wanted = [whole * share_of[m] for m in members]
    (t0, t1, t2), last_wanted = steps.pop(), wanted.pop()
    last_square = t0 * t0 + t1 * t1 + t2 * t2 + 1e-12
    ranges = [range(max(1, floor(w) - reach), floor(w) + 2 + reach) for w in wanted]
    scored = []
    for counts in product(*ranges):
        room = whole - least - sum(counts)
        if room < 1:
            continue
        e0, e1, e2 = miss
        for n, w, (s0, s1, s2) in zip(counts, wanted, steps, strict=True):
            e0, e1, e2 = e0 + (n - w) * s0, e1 + (n - w) * s1, e2 + (n - w) * s2
        last = round(last_wanted - (e0 * t0 + e1 * t1 + e2 * t2) / last_square)
        last = min(room, max(1, last))
        d = last - last_wanted
        square = (e0 + d * t0) ** 2 + (e1 + d * t1) ** 2 + (e2 + d * t2) ** 2
        scored.append((square, (*counts, last)))
    scored.sort()
    return [_portions(members, counts, filler, clear, whole) for _, counts in scored[:keep]]


def _portions(
    members: Sequence[int], counts: Sequence[int], filler: int, clear: int | None, whole: int
) -> Portions:
    portions = list(zip(members, counts, strict=True))
    if filler != clear:
        portions.append((filler, whole - sum(counts)))
    return tuple(sorted(portions))


def neighbours(portions: Portions, whole: int, has_clear: bool) -> list[Portions]:
    """Return the mixes one part away: a part more, a part less, a part moved."""
    counts = dict(portions)
    free = whole - sum(counts.values())
    changes: list[dict[int, int]] = []
    for m in counts:
        if has_clear and free:
            changes.append({m: 1})
        if has_clear:
            changes.append({m: -1})
        changes += [{m: -1, other: 1} for other in counts if other != m]
    found = []
    for change in changes:
        moved = {m: n + change.get(m, 0) for m, n in counts.items()}
        kept = tuple((m, n) for m, n in sorted(moved.items()) if n)
        if kept:
            found.append(kept)
    return found
