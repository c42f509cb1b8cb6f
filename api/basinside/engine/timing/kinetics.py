"""How dye goes into hair and turns from its young form into its fixed one.

Each oxidation dye runs a chain of first-order steps: in-diffusion → colour former → fixed dye.
Two populations run side by side, fast near the surface and slow inside. The product lying on
the hair colours up by itself, without in-diffusion and more slowly.
"""

from functools import lru_cache
from math import exp

from ...contract.products import ProductClass
from ..colour.spectrum import Spectrum
from ..hair.head import Head
from ..products.classes import CLASSES, ClassRow, white_takes
from ..products.dyes import DYES, spectrum_of

# Steps of equal rate would divide by zero in the closed form. The two inner steps are set
# apart by these factors; in-diffusion, which porosity moves, by `_apart`.
_COLOUR_RATE = 1.0137
_FIX_RATE = 1.0291
_READY_MADE_RATES = (9.0, 11.0)  # per minute: as good as at once
_ON_TOP_SLOWER = 1.8  # assumption: no swelling alkali draws the dye in
_NEAREST_RATES = 1e-4

Fractions = tuple[tuple[float, ...], tuple[float, ...]]  # young, fixed: one for each of DYES


def _passed(t: float, rates: tuple[float, ...]) -> float:
    """Return the share that has passed a whole chain of first-order steps after time t.

    Bateman's solution, 1 − Σ_i e^(−k_i t) Π_{j≠i} k_j / (k_j − k_i), for distinct rates.
    """
    passed = 1.0
    for i, k in enumerate(rates):
        weight = 1.0
        for j, other in enumerate(rates):
            if j != i:
                weight *= other / (other - k)
        passed -= exp(-k * t) * weight
    return passed


def _apart(rate: float, others: tuple[float, float]) -> float:
    for other in others:
        if abs(rate - other) < _NEAREST_RATES * other:
            rate = other * (1 + _NEAREST_RATES)
    return rate


def _inner_rates(row: ClassRow, colour_min: float, fix_min: float) -> tuple[float, float]:
    if row.ready_made:
        return _READY_MADE_RATES
    return _COLOUR_RATE / colour_min, _FIX_RATE / fix_min


@lru_cache(maxsize=4096)
def in_hair(product_class: ProductClass, porosity: float, clock_min: float) -> Fractions:
    """Return the young and the fixed share of each dye's full uptake, in the fibre.

    `clock_min` is the head's own clock: minutes times its rate. Porous hair lets dye in
    faster: in-diffusion time × (1.6 − 1.2·porosity).
    """
    row = CLASSES[product_class]
    slowness = 1.6 - 1.2 * porosity
    young, fixed = [], []
    for dye in DYES:
        inner = _inner_rates(row, dye.colour_min, dye.fix_min)
        y = f = 0.0
        populations = ((1 - row.slow_share, row.in_min), (row.slow_share, row.slow_min))
        for share, in_min in populations:
            rate = _apart(1.0 / (in_min * slowness), inner)
            coloured = _passed(clock_min, (rate, inner[0]))
            done = _passed(clock_min, (rate, *inner))
            y += share * (coloured - done)
            f += share * done
        young.append(y)
        fixed.append(f)
    return tuple(young), tuple(fixed)


@lru_cache(maxsize=4096)
def rinsed_row(
    dye: int, product_class: ProductClass, porosity: float, clock_min: float
) -> Spectrum:
    """Return the K/S one unit of a dye's full uptake leaves on rinsed hair, 36 bands.

    `dye` is its place in `DYES`. Kept, since every mix of a class asks for the same few rows.
    """
    kept = CLASSES[product_class].young_kept
    young, fixed = in_hair(product_class, porosity, clock_min)
    return spectrum_of([(fixed[dye], DYES[dye].fixed), (kept * young[dye], DYES[dye].young)])


@lru_cache(maxsize=512)
def on_top(minute: float) -> Fractions:
    """Return the young and the fixed share of each dye in the product lying on the hair."""
    young, fixed = [], []
    for dye in DYES:
        rates = (
            _COLOUR_RATE / (_ON_TOP_SLOWER * dye.colour_min),
            _FIX_RATE / (_ON_TOP_SLOWER * dye.fix_min),
        )
        coloured, done = _passed(minute, rates[:1]), _passed(minute, rates)
        young.append(coloured - done)
        fixed.append(done)
    return tuple(young), tuple(fixed)


def site_uptake(
    row: ClassRow, porosity: float, damp: float, head_uptake: float, dye_total: float
) -> float:
    """Return how much of a unit of dye this hair takes up in full time.

    Porous hair takes more and damp hair dilutes (assumption). Dye already there occupies sites:
    ÷ (1 + 1.5·Σ / (1 + 2·Σ)). This divisor is at most 1.75: coloured hair is coloured again every
    day (assumption). A published film study found repeated dyeing to go on deepening: J. Soc.
    Cosmet. Chem. Japan 51 (2017) 237, abstract.
    """
    occupied = 1 + 1.5 * dye_total / (1 + 2 * dye_total)
    return row.uptake * (0.55 + 0.9 * porosity) * (1 - 0.15 * damp) * head_uptake / occupied


def strand_uptakes(row: ClassRow, head: Head, peroxide_percent: float) -> tuple[float, ...]:
    """Return how much of a unit of dye each of a head's strands takes up, as `strands` has them."""
    pigmented = site_uptake(row, head.porosity, head.damp, head.uptake, head.dye_total)
    if head.white_share == 0:
        return (pigmented,)
    white = site_uptake(row, head.porosity, head.damp, head.uptake, head.white_dye_total)
    return pigmented, white * head.white_uptake * white_takes(row, peroxide_percent)
