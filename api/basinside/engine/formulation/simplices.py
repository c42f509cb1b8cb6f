"""Which few products to refine: closest points of segments, triangles and tetrahedra.

In the linear model a bowl of two, three or four vertices (clear is one) can reach any point
between their corners. The wish is the origin. A set is worth refining when its closest point
lies inside it; when that lies on a side, the side is a set of its own.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from ..colour.lab import LabTuple
from .project import Projection, length

_NEAR_SIDE = 0.1  # how far outside a set its closest point may lie and still be refined
_FRONT_SIZE = 20
_CROWD_SIZE = 32
_REACHED = 0.05


@dataclass(frozen=True, slots=True)
class Candidate:
    """A set of vertices with the shares that come closest, and how close, by the linear model.

    `grain` is how coarse a step of the scale is for this set: small is fine.
    """

    distance: float
    grain: float
    vertices: tuple[int, ...]
    shares: tuple[float, ...]


def candidates(projection: Projection, max_products: int, within: float) -> list[Candidate]:
    """Return sets of at most `max_products` vertices besides clear that come within a distance."""
    corners, clear = projection.corners, projection.clear
    found = [
        Candidate(length(corners[v]), length(projection.arrows[v]), (v,), (1.0,))
        for v in projection.available
        if v != clear
    ]
    reached = projection.distance < _REACHED
    wide = _crowd(projection, _CROWD_SIZE) if reached else _front(projection, _FRONT_SIZE)
    for a, b in combinations(wide, 2):
        if max_products > 1 or clear in (a, b):
            found += _segment(corners, a, b)
    for a, b, c in combinations(wide if len(wide) <= _FRONT_SIZE else wide[:_FRONT_SIZE], 3):
        if max_products > 2 or (max_products == 2 and clear in (a, b, c)):
            found += _triangle(corners, a, b, c, within)
    if clear is not None and max_products > 2 and reached:
        found += _tetrahedra(projection, [v for v in wide if v != clear])
    return [c for c in found if c.distance < within or len(c.vertices) == 1]


def _front(projection: Projection, size: int) -> list[int]:
    """Return the vertices that lie furthest towards an unreached wish."""
    e = projection.miss
    corners = projection.corners

    def behind(v: int) -> float:
        c = corners[v]
        return c[0] * e[0] + c[1] * e[1] + c[2] * e[2]

    return sorted(sorted(projection.available, key=behind)[:size])


def _crowd(projection: Projection, size: int) -> list[int]:
    """Return vertices around a reached wish: those in use, then each octant's nearest in turn."""
    octants: dict[tuple[bool, bool, bool], list[int]] = {}
    corners = projection.corners
    for v in sorted(projection.available, key=lambda v: (round(length(corners[v]), 6), v)):
        x, y, z = corners[v]
        octants.setdefault((x > 0, y > 0, z > 0), []).append(v)
    chosen = [v for v in projection.at if projection.at[v] > 0]
    if projection.clear is not None and projection.clear not in chosen:
        chosen.append(projection.clear)
    rank = 0
    while len(chosen) < min(size, len(projection.available)):
        for octant in sorted(octants):
            if rank < len(octants[octant]) and octants[octant][rank] not in chosen:
                chosen.append(octants[octant][rank])
        rank += 1
    return sorted(chosen[:size])


def _segment(corners: Sequence[LabTuple], a: int, b: int) -> list[Candidate]:
    p, q = corners[a], corners[b]
    u0, u1, u2 = q[0] - p[0], q[1] - p[1], q[2] - p[2]
    uu = u0 * u0 + u1 * u1 + u2 * u2
    if uu < 1e-12:
        return []
    s = -(p[0] * u0 + p[1] * u1 + p[2] * u2) / uu
    if not -_NEAR_SIDE < s < 1 + _NEAR_SIDE:
        return []
    s = min(1.0, max(0.0, s))
    nearest = (p[0] + s * u0, p[1] + s * u1, p[2] + s * u2)
    return [Candidate(length(nearest), uu**0.5, (a, b), (1 - s, s))]


def _triangle(
    corners: Sequence[LabTuple], a: int, b: int, c: int, within: float
) -> list[Candidate]:
    p0, p1, p2 = corners[a]
    q, r = corners[b], corners[c]
    u0, u1, u2 = q[0] - p0, q[1] - p1, q[2] - p2
    v0, v1, v2 = r[0] - p0, r[1] - p1, r[2] - p2
    uu, uv, vv = (
        u0 * u0 + u1 * u1 + u2 * u2,
        u0 * v0 + u1 * v1 + u2 * v2,
        v0 * v0 + v1 * v1 + v2 * v2,
    )
    det = uu * vv - uv * uv
    if det <= 1e-9 * uu * vv:
        return []
    up, vp = u0 * p0 + u1 * p1 + u2 * p2, v0 * p0 + v1 * p1 + v2 * p2
    s, t = (vp * uv - up * vv) / det, (up * uv - vp * uu) / det
    if s < -_NEAR_SIDE or t < -_NEAR_SIDE or s + t > 1 + _NEAR_SIDE:
        return []
    nearest = (p0 + s * u0 + t * v0, p1 + s * u1 + t * v1, p2 + s * u2 + t * v2)
    distance = length(nearest)
    if distance >= within:
        return []
    return [Candidate(distance, det**0.25, (a, b, c), (1 - s - t, s, t))]


def _tetrahedra(projection: Projection, members: Sequence[int]) -> list[Candidate]:
    """Return the triples that, thinned with clear, hit the wish exactly (Cramer's rule)."""
    e0, e1, e2 = projection.origin
    arrows = projection.arrows
    clear = len(projection.line_up.members)
    low, high = -_NEAR_SIDE, 1 + _NEAR_SIDE
    found = []
    # cross products with the origin turn each triple's shares into three dot products
    turned = {
        m: (e1 * v[2] - e2 * v[1], e2 * v[0] - e0 * v[2], e0 * v[1] - e1 * v[0])
        for m in members
        for v in (arrows[m],)
    }
    for a, b in combinations(members, 2):
        a0, a1, a2 = arrows[a]
        b0, b1, b2 = arrows[b]
        c0, c1, c2 = a1 * b2 - a2 * b1, a2 * b0 - a0 * b2, a0 * b1 - a1 * b0
        t0, t1, t2 = turned[a]
        w0, w1, w2 = turned[b]
        top = -(c0 * e0 + c1 * e1 + c2 * e2)
        for c in members:
            if c <= b:
                continue
            v0, v1, v2 = arrows[c]
            det = c0 * v0 + c1 * v1 + c2 * v2
            if det == 0.0:
                continue
            z = top / det
            if not low < z < high:
                continue
            x = (w0 * v0 + w1 * v1 + w2 * v2) / det
            if not low < x < high:
                continue
            y = -(t0 * v0 + t1 * v1 + t2 * v2) / det
            if low < y and x + y + z < high:
                grain = abs(det) ** (1 / 3)
                found.append(Candidate(0.0, grain, (a, b, c, clear), (x, y, z, 1 - x - y - z)))
    return found
