"""Exhaustive search, in numpy, over the same grid the engine searches.

Every single, pair and triple of a line-up (clear filling the bowl where there is one), every
whole part, every whole minute. The arithmetic is written again here, on arrays and all 36 bands
in double precision for the answer, so that it shares no search code with the engine.
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from basinside.engine.colour.lab import WEIGHTS
from basinside.engine.products.classes import CLASSES, levels_lifted
from basinside.engine.timing.kinetics import site_uptake
from basinside.engine.timing.promise import rinsed_rows

SURFACE = 0.023


@dataclass
class Best:
    """The closest mix of all, and how many were tried."""

    delta_e: float
    line_up: object
    portions: tuple
    minute: int
    tried: int


def grid(size: int, whole: int, exact: bool) -> np.ndarray:
    """Return all counts ≥ 1 of `size` products in a bowl of `whole` parts, [mixes, size]."""
    axes = np.meshgrid(*[np.arange(1, whole + 1)] * size, indexing="ij")
    counts = np.stack([a.ravel() for a in axes], 1)
    total = counts.sum(1)
    return counts[total == whole] if exact else counts[total <= whole]


# Screening in single precision on every second band (each taking half of its neighbours'
# weight) is several times faster; what it finds is scored again on all bands in double. Few bands
# are up to 0.2 off, alike for colours near the wish: how far, a sample tells first.
SCREENED = 100
SAMPLED = 4_000
NEAR = 2_000
IN_CACHE = 40_000  # mixes at once


def halved(weights: np.ndarray) -> np.ndarray:
    coarse = weights[1:34:2] + (weights[0:33:2] + weights[2:35:2]) / 2
    coarse[0] += weights[0] / 2
    coarse[-1] += weights[34] / 2 + weights[35]
    return coarse


ALL_BANDS = np.array(WEIGHTS).T
COARSE_BANDS = halved(ALL_BANDS.copy()).astype(np.float32)


def dry_lab(ks: np.ndarray, weights: np.ndarray) -> np.ndarray:
    root = ks + 2
    root *= ks
    reflectance = 1 + ks
    reflectance -= np.sqrt(root, out=root)
    f = np.cbrt(SURFACE * weights.sum(0) + (1 - SURFACE) * (reflectance @ weights))
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], -1)


def delta_e(target: np.ndarray, lab: np.ndarray) -> np.ndarray:
    """CIEDE2000 on arrays (Sharma, Wu & Dalal 2005)."""
    l1, a1, b1 = target
    l2, a2, b2 = lab[..., 0], lab[..., 1], lab[..., 2]
    c7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    g = 1.5 - 0.5 * np.sqrt(c7 / (c7 + 25.0**7))
    a1, a2 = a1 * g, a2 * g
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.arctan2(b1, a1), np.arctan2(b2, a2)
    dh = (h2 - h1 + np.pi) % (2 * np.pi) - np.pi
    dl, dc, d_hue = l2 - l1, c2 - c1, 2 * np.sqrt(c1 * c2) * np.sin(dh / 2)
    hm = h1 + dh / 2
    lm, cm = (l1 + l2) / 2 - 50, (c1 + c2) / 2
    t = (
        1
        - 0.17 * np.cos(hm - np.radians(30))
        + 0.24 * np.cos(2 * hm)
        + 0.32 * np.cos(3 * hm + np.radians(6))
        - 0.20 * np.cos(4 * hm - np.radians(63))
    )
    dl = dl / (1 + 0.015 * lm**2 / np.sqrt(20 + lm**2))
    dc = dc / (1 + 0.045 * cm)
    d_hue = d_hue / (1 + 0.015 * cm * t)
    turn = np.radians(60) * np.exp(-((((np.degrees(hm) % 360) - 275) / 25) ** 2))
    rt = -np.sin(turn) * 2 * np.sqrt(cm**7 / (cm**7 + 25.0**7))
    return np.sqrt(np.maximum(0, dl**2 + dc**2 + d_hue**2 + rt * dc * d_hue))


def columns_of(line_up, head, minute: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the bare K/S [36] and each member's added K/S [members, 36] at a minute."""
    row = CLASSES[line_up.product_class]
    clock = minute * head.rate
    ((_, base),) = head.strands(levels_lifted(row, line_up.peroxide_percent, clock, head.lifted))
    uptake = site_uptake(row, head.porosity, head.damp, head.uptake, head.dye_total)
    rows = uptake * np.array(rinsed_rows(line_up.product_class, head.porosity, clock))
    return np.array(base), np.array(line_up.dyes) @ rows


def minutes_of(line_up) -> range:
    first = max(line_up.first_minute, min(p.window.min for p in line_up.members))
    last = min(max(p.window.max for p in line_up.members), line_up.max_minutes)
    return range(first, last + 1)


def exhaustive(lines, head, target, max_products: int) -> Best:
    """Return the closest mix of all."""
    best = Best(np.inf, None, (), 0, 0)
    target = np.array(target)
    for line_up in lines:
        for minute in minutes_of(line_up):
            base, columns = columns_of(line_up, head, minute)
            here = [
                i for i, p in enumerate(line_up.members) if p.window.min <= minute <= p.window.max
            ]
            for size in range(1, max_products + 1):
                sets = np.array(list(combinations(here, size)))
                counts = grid(size, line_up.whole, line_up.clear is None)
                if len(sets) and len(counts):
                    tried = _closest(base, columns, sets, counts, line_up, target)
                    best.tried += len(sets) * len(counts)
                    if tried[0] < best.delta_e:
                        best = Best(tried[0], line_up, tried[1], minute, best.tried)
    return best


def _closest(base, columns, sets, counts, line_up, target) -> tuple[float, tuple]:
    shares = (counts / line_up.whole).astype(np.float32)
    light, light_columns = base[1:34:2].astype(np.float32), columns[:, 1:34:2].astype(np.float32)
    off = _coarse_bands_off(base, columns, sets, shares, target)
    wish, axes = target.astype(np.float32), _axes_at(target)
    at_once = max(1, IN_CACHE // len(counts))
    found = []
    for first in range(0, len(sets), at_once):
        members = light_columns[sets[first : first + at_once]]  # [sets, size, bands]
        flat = shares @ np.concatenate(members, 1)  # one product, as numpy is quick at
        ks = flat.reshape(-1, len(light)) + light
        lab = dry_lab(ks, COARSE_BANDS) + off
        # near the wish the difference is a length along three axes: it chooses whom to ask in full
        rough = np.square((lab - wish) @ axes).sum(-1)
        near = np.argpartition(rough, min(NEAR, len(rough) - 1))[:NEAR]
        which, how = first + near % len(members), near // len(members)
        found.append(np.stack([delta_e(wish, lab[near]), which, how], -1))
    screened = np.concatenate(found)
    closest = screened[np.argsort(screened[:, 0])[:SCREENED]]
    which, how = closest[:, 1:].astype(int).T
    ks = base + np.einsum("cm,cmb->cb", counts[how] / line_up.whole, columns[sets[which]])
    exact = delta_e(target, dry_lab(ks, ALL_BANDS))
    k = int(np.argmin(exact))
    members, parts = sets[which[k]].tolist(), counts[how[k]].tolist()
    return float(exact[k]), tuple(zip(members, parts, strict=True))


def _coarse_bands_off(base, columns, sets, shares, target) -> np.ndarray:
    """Return what the coarse bands lack near the wish, as L*, a*, b*: of a sample, the closest."""
    mixes = len(sets) * len(shares)
    some = np.unique(np.linspace(0, mixes - 1, min(mixes, SAMPLED)).astype(int))
    which, how = some // len(shares), some % len(shares)
    ks = base + np.einsum("cm,cmb->cb", shares[how], columns[sets[which]])
    lab = dry_lab(ks, ALL_BANDS)
    k = int(np.argmin(delta_e(target, lab)))
    coarse = dry_lab(ks[k, 1:34:2], COARSE_BANDS.astype(float))
    return (lab[k] - coarse).astype(np.float32)


def _axes_at(target) -> np.ndarray:
    """Return how CIEDE2000 from the wish grows with L*, a* and b*, as a 3 × 3 matrix."""
    step = 0.05
    here = np.eye(3) * step
    square = {
        (i, j): float(delta_e(target, target + here[i] + (here[j] if i != j else 0))) ** 2
        for i in range(3)
        for j in range(3)
    }
    form = np.array(
        [
            [
                square[i, j] if i == j else (square[i, j] - square[i, i] - square[j, j]) / 2
                for j in range(3)
            ]
            for i in range(3)
        ]
    )
    values, vectors = np.linalg.eigh(form / step**2)
    return (vectors * np.sqrt(np.maximum(values, 0))).astype(np.float32)
