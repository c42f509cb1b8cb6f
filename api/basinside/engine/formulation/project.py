"""Products projected onto colour change: one line-up at one minute on one head.

Added K/S is linear in the shares of the bowl, and CIEDE2000 from the wish is the length of a
smooth 3-vector (see `residual_from`). So near any mix each product is one arrow in three
dimensions, and finding a mix is finding arrows that add up to the miss.

While searching, every second band does for all 36, with the weights folded in. How far that is
off, up to 0.2 ΔE, is taken from the best mixture and used for all mixes of the minute. That can
cost a mix its rank among near-equals. It never gives a wrong ΔE, since all 36 score what is kept.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from math import cbrt, sqrt

from ...contract.products import ProductClass
from ..colour.difference import slopes_at
from ..colour.lab import WEIGHTS, LabTuple, Weights
from ..colour.spectrum import Spectrum, dot
from ..hair.appearance import DRY_SURFACE, dry_lab_gradient, dry_strands_lab, with_dye
from ..hair.head import Head
from ..products.classes import CLASSES, levels_lifted
from ..products.dyes import DyeAmounts, spectrum_of
from ..products.nonnegative import nearest_mixture
from ..timing.kinetics import strand_uptakes
from ..timing.promise import rinsed_rows
from .lineups import LineUp, Portions

Residual = Callable[[LabTuple], LabTuple]
_BANDS = slice(1, 34, 2)  # 390–710 nm, every second band
_CLOSE_ENOUGH = 0.02
_SETTLED = 0.005


def _folded(weights: Spectrum) -> Spectrum:
    """Return weights of every second band, each taking half of its neighbours' between."""
    padded = [*weights, 0.0]
    coarse = [
        padded[band] + (padded[band - 1] + padded[band + 1]) / 2
        for band in range(*_BANDS.indices(len(weights)))
    ]
    coarse[0] += padded[0] / 2
    coarse[-1] += padded[34] / 2 + padded[35]
    return tuple(coarse)


_X, _Y, _Z = (_folded(w) for w in WEIGHTS)
_COARSE: Weights = (_X, _Y, _Z)


def length(v: LabTuple) -> float:
    """Return the length of a 3-vector."""
    return sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])


@lru_cache(maxsize=128)
def _columns(
    product_class: ProductClass,
    dyes: tuple[DyeAmounts, ...],
    uptake: float,
    porosity: float,
    clock_min: float,
) -> list[list[float]]:
    """Return the K/S each product leaves when it fills the bowl, on the coarse bands.

    Kept by what decides it, so that the next question on this hair and shelf finds it done.
    """
    rows = rinsed_rows(product_class, porosity, clock_min)
    by_band = [
        [uptake * q for q in bands] for bands in zip(*(r[_BANDS] for r in rows), strict=True)
    ]
    return [[dot(amounts, bands) for bands in by_band] for amounts in dyes]


class Projection:
    """A line-up at one minute on one head, with its linear model around the latest mix.

    `arrows[m]` is the change of the miss when member m fills the bowl; clear is the member
    after the last, its arrow zero. `available` are the vertices whose leaflet has this minute.
    """

    def __init__(self, line_up: LineUp, minute: int, head: Head, residual: Residual) -> None:
        self.line_up = line_up
        self.minute = minute
        self._residual = residual
        row = CLASSES[line_up.product_class]
        lift = levels_lifted(row, line_up.peroxide_percent, minute * head.rate, head.lifted)
        clock_min = minute * head.rate * line_up.rate
        self._on_all_bands = head.strands(lift)
        self._strands = [(share, ks[_BANDS]) for share, ks in self._on_all_bands]
        uptake, *white = strand_uptakes(row, head, line_up.peroxide_percent)
        # of what the pigmented strand takes, which is folded into the columns
        self._takes = (1.0, *(w / uptake for w in white))
        self._uptake, self._porosity, self._clock_min = uptake, head.porosity, clock_min
        self._columns = _columns(
            line_up.product_class, line_up.dyes, uptake, head.porosity, clock_min
        )
        self._off: LabTuple = (0.0, 0.0, 0.0)
        self.available = [
            i for i, p in enumerate(line_up.members) if p.window.min <= minute <= p.window.max
        ]
        self.clear = len(line_up.members) if line_up.clear is not None else None
        if self.clear is not None:
            self.available.append(self.clear)
        self.at: dict[int, float] = {}
        self.miss: LabTuple = (0.0, 0.0, 0.0)
        self.distance = 0.0
        self.origin: LabTuple = (0.0, 0.0, 0.0)
        self.arrows: list[LabTuple] = []
        self.corners: list[LabTuple] = []

    def miss_of(self, shares: Sequence[tuple[int, float]]) -> LabTuple:
        """Return the difference vector of (member, share) pairs; clear may be left out."""
        return self._miss(self._added(shares))

    def _added(self, shares: Sequence[tuple[int, float]]) -> list[float]:
        """Return the K/S a bowl adds. Mixes of up to three are what the search is made of."""
        columns, clear = self._columns, self.clear
        dyed = [(share, columns[m]) for m, share in shares if m != clear]
        if len(dyed) == 3:
            (x, p), (y, q), (z, r) = dyed
            return [x * a + y * b + z * c for a, b, c in zip(p, q, r, strict=True)]
        if len(dyed) == 2:
            (x, p), (y, q) = dyed
            return [x * a + y * b for a, b in zip(p, q, strict=True)]
        added = [0.0] * len(_X)
        for share, column in dyed:
            added = [t + share * c for t, c in zip(added, column, strict=True)]
        return added

    def miss_of_parts(self, portions: Portions) -> LabTuple:
        """Return the difference vector of a mix as weighed."""
        whole = self.line_up.whole
        return self.miss_of([(member, parts / whole) for member, parts in portions])

    def _miss(self, added: Sequence[float]) -> LabTuple:
        lab = self._coarse_lab(added)
        off = self._off
        return self._residual((lab[0] + off[0], lab[1] + off[1], lab[2] + off[2]))

    def _coarse_lab(self, added: Sequence[float]) -> LabTuple:
        """Return dry CIELAB with this K/S added, on the coarse bands."""
        k = 1.0 - DRY_SURFACE
        if len(self._strands) == 1:
            base = self._strands[0][1]
            r = [(q := b + a) - sqrt(q * (q + 2.0)) for b, a in zip(base, added, strict=True)]
        else:
            r = [0.0] * len(_X)
            for (share, base), times in zip(self._strands, self._takes, strict=True):
                r = [
                    v + share * ((q := b + times * a) - sqrt(q * (q + 2.0)))
                    for v, b, a in zip(r, base, added, strict=True)
                ]
        # a dry reflectance is never under the surface's 0.023: the cube-root branch holds
        fx, fy, fz = (
            cbrt(1.0 + k * dot(_X, r)),
            cbrt(1.0 + k * dot(_Y, r)),
            cbrt(1.0 + k * dot(_Z, r)),
        )
        return 116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)

    def _linearise(self, shares: Mapping[int, float]) -> None:
        added = self._added(list(shares.items()))
        dyed = with_dye(self._strands, added, self._takes)
        lab, gradient = dry_lab_gradient(dyed, _COARSE, self._takes)
        lab = (lab[0] + self._off[0], lab[1] + self._off[1], lab[2] + self._off[2])
        rows = [
            [sl * gl + sa * ga + sb * gb for gl, ga, gb in zip(*gradient, strict=True)]
            for sl, sa, sb in slopes_at(self._residual, lab)
        ]
        self.arrows = [(dot(rows[0], c), dot(rows[1], c), dot(rows[2], c)) for c in self._columns]
        if self.clear is not None:
            self.arrows.append((0.0, 0.0, 0.0))

    def relax(self, start: Mapping[int, float], rounds: int) -> None:
        """Find the best mixture of everything available, in any shares, near `start`.

        Sequential: the nearest mixture of the linear model, a step towards it that really
        falls, a new linear model. Leaves `at`, `miss`, `distance` and `arrows`, all as right as
        all 36 bands at `at`.
        """
        self._approach(start, rounds)
        self._correct()

    def _approach(self, start: Mapping[int, float], rounds: int) -> None:
        known = {m: s for m, s in start.items() if m in self.available}
        total = sum(known.values())
        first = self.clear if self.clear is not None else self.available[0]
        self.at = {m: s / total for m, s in known.items()} if total > 0 else {first: 1.0}
        self.miss = self.miss_of(list(self.at.items()))
        self.distance = length(self.miss)
        for _ in range(rounds):
            self._linearise(self.at)
            self._anchor()
            if self.distance < _CLOSE_ENOUGH:
                return
            shares = nearest_mixture([self.corners[m] for m in self.available])
            aim = {m: s for m, s in zip(self.available, shares, strict=True) if s > 1e-9}
            before = self.distance
            if not self._step_towards(aim):
                return
            if before - self.distance < _SETTLED:
                return

    def _correct(self) -> None:
        """Take from all 36 bands at the latest mix how far the coarse ones are off there."""
        rows = rinsed_rows(self.line_up.product_class, self._porosity, self._clock_min)
        dyes = [0.0] * len(rows)
        for m, share in self.at.items():
            if m != self.clear:
                dyes = [t + share * d for t, d in zip(dyes, self.line_up.dyes[m], strict=True)]
        added = [self._uptake * q for q in spectrum_of(list(zip(dyes, rows, strict=True)))]
        lab = dry_strands_lab(with_dye(self._on_all_bands, added, self._takes))
        coarse = self._coarse_lab(self._added(list(self.at.items())))
        self._off = (lab[0] - coarse[0], lab[1] - coarse[1], lab[2] - coarse[2])
        self.miss = self.miss_of(list(self.at.items()))
        self.distance = length(self.miss)
        self._anchor()

    def _step_towards(self, aim: Mapping[int, float]) -> bool:
        step = 1.0
        for _ in range(4):
            trial = {
                m: (1 - step) * self.at.get(m, 0.0) + step * aim.get(m, 0.0)
                for m in sorted({*self.at, *aim})
            }
            miss = self.miss_of(list(trial.items()))
            if length(miss) < self.distance:
                self.at = {m: s for m, s in trial.items() if s > 1e-9}
                self.miss, self.distance = miss, length(miss)
                return True
            step *= 0.4
        return False

    def _anchor(self) -> None:
        """Place the linear model's origin (no dye) and corners (one vertex fills the bowl)."""
        e0, e1, e2 = self.miss
        for member, share in self.at.items():
            v0, v1, v2 = self.arrows[member]
            e0, e1, e2 = e0 - share * v0, e1 - share * v1, e2 - share * v2
        self.origin = (e0, e1, e2)
        self.corners = [(e0 + v0, e1 + v1, e2 + v2) for v0, v1, v2 in self.arrows]
