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


def dry_lab(ks: np.ndarray, dtype=np.float64) -> np.ndarray:
    weights = np.array(WEIGHTS, dtype).T
    reflectance = SURFACE + (1 - SURFACE) * (1 + ks - np.sqrt(ks * (ks + 2)))
    f = np.cbrt(reflectance @ weights)
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


def columns_of(line_up, head, minute, dtype=np.float64):
    """Return the bare K/S [36] and each member's added K/S [members, 36] at a minute."""
    row = CLASSES[line_up.product_class]
    clock = minute * head.rate
    ((_, base),) = head.strands(levels_lifted(row, line_up.peroxide_percent, clock, head.lifted))
    uptake = site_uptake(row, head.porosity, head.damp, head.uptake, head.dye_total)
    rows = uptake * np.array(rinsed_rows(line_up.product_class, head.porosity, clock))
    return np.array(base, dtype), (np.array(line_up.dyes) @ rows).astype(dtype)


def exhaustive(lines, head, target, max_products: int) -> Best:
    """Return the closest mix of all."""
    best = Best(np.inf, None, (), 0, 0)
    target = np.array(target)
    for line_up in lines:
        exact = line_up.clear is None
        n = len(line_up.members)
        first = min(p.window.min for p in line_up.members)
        last = min(max(p.window.max for p in line_up.members), line_up.max_minutes)
        for minute in range(first, last + 1):
            base, columns = columns_of(line_up, head, minute)
            here = [
                i
                for i in range(n)
                if line_up.members[i].window.min <= minute <= line_up.members[i].window.max
            ]
            for size in range(1, max_products + 1):
                sets = np.array(list(combinations(here, size)))
                if not len(sets):
                    continue
                counts = grid(size, line_up.whole, exact)
                for chunk in np.array_split(sets, max(1, len(sets) * len(counts) // 100_000)):
                    ks = base + np.einsum("ms,csb->cmb", counts / line_up.whole, columns[chunk])
                    de = delta_e(target, dry_lab(ks))
                    best.tried += de.size
                    k = np.unravel_index(np.argmin(de), de.shape)
                    if de[k] < best.delta_e:
                        portions = tuple(
                            zip(chunk[k[0]].tolist(), counts[k[1]].tolist(), strict=True)
                        )
                        best = Best(float(de[k]), line_up, portions, minute, best.tried)
    return best
