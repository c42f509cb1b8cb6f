"""The strip against a second writing of the model, on arrays.

The equations are written again from their published forms (Kubelka–Munk; hyperbolic layer;
first-order chains solved as a linear system rather than by Bateman's sums; CIELAB), sharing
only the tables of constants with the engine. It guards against slips of the pen in either.
"""

import numpy as np
import pytest

from basinside.contract.hair import Hair
from basinside.contract.mixes import Developer, Mix, Part
from basinside.contract.predictions import Look, PredictionRequest
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.engine.colour.observer import (
    D65_CMF_1964_X,
    D65_CMF_1964_Y,
    D65_CMF_1964_Z,
)
from basinside.engine.hair import fibre
from basinside.engine.products.classes import CLASSES, CONSISTENCIES
from basinside.engine.products.dyes import DYES
from basinside.engine.timing.predict import predict

NM = np.arange(380.0, 731.0, 10.0)
CMF = np.array([D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z])
FIXED = np.array([dye.fixed for dye in DYES])
YOUNG = np.array([dye.young for dye in DYES])


def lab(reflectance: np.ndarray) -> np.ndarray:
    ratio = CMF @ reflectance / CMF.sum(1)
    f = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def stages(t: float, rates: list[float]) -> np.ndarray:
    """Return what is in each stage of a first-order chain, by eigenvectors of its matrix."""
    n = len(rates)
    move = np.diag([*(-r for r in rates), 0.0]) + np.diag(rates, -1)
    values, vectors = np.linalg.eig(move)
    start = np.linalg.solve(vectors, np.eye(n + 1)[0])
    return ((vectors * np.exp(values * t)) @ start).real


def bare(level: float, warmth: float) -> np.ndarray:
    table = np.array([(lv, *np.log(row)) for lv, row in fibre._LIFTED.items()])
    e, w = (np.exp(np.interp(level, table[:, 0], table[:, k])) for k in (1, 2))
    return 0.006 + e * (NM / 550) ** -3.33 + warmth * w * (NM / 550) ** -10.0


def three_looks(
    hair: Hair, product: Product, minute: int, bunched: float, strength: float
) -> list[np.ndarray]:
    row, dyes = CLASSES[product.class_], np.array([getattr(product.dyes, d.name) for d in DYES])
    clock = minute * hair.rate
    slow = 1.6 - 1.2 * hair.porosity
    young, fixed = np.zeros(7), np.zeros(7)
    for i, dye in enumerate(DYES):
        inner = [1.0137 / dye.colour_min, 1.0291 / dye.fix_min]
        if product.class_ == "direct":
            inner = [9.0, 11.0]
        for share, tau in ((1 - row.slow_share, row.in_min), (row.slow_share, row.slow_min)):
            _, _, y, f = stages(clock, [1 / (tau * slow), *inner])
            young[i] += share * y
            fixed[i] += share * f
    uptake = row.uptake * (0.55 + 0.9 * hair.porosity) * (1 - 0.15 * hair.damp) * hair.uptake
    amounts = strength * dyes
    on_hair = bare(hair.level, hair.warmth) + uptake * (
        (amounts * fixed) @ FIXED + (amounts * young) @ YOUNG
    )
    left = bare(hair.level, hair.warmth) + uptake * (
        (amounts * fixed) @ FIXED + row.young_kept * (amounts * young) @ YOUNG
    )
    # wet: less scattering, and the film's inner reflection over the filmed part
    wet = 0.9
    q = on_hair / ((1 - (1 - 0.325) * wet) * (1 - 0.25 * bunched))
    body = 1 + q - np.sqrt(q * q + 2 * q)
    dry_surface = 0.023 + (1 - 0.023) * body
    filmed = 0.0204 + (1 - 0.0204) * (1 - 0.4746) * body / (1 - 0.4746 * body)
    wiped = ((1 - wet**2) * dry_surface + wet**2 * filmed) * (1 - 0.06 * bunched)
    # the product on top, colouring up by itself
    lying = CONSISTENCIES[product.consistency or row.consistency]
    top = np.zeros(36)
    for i, dye in enumerate(DYES):
        _, y, f = stages(minute, [1.0137 / (1.8 * dye.colour_min), 1.0291 / (1.8 * dye.fix_min)])
        top += amounts[i] * (f * FIXED[i] + y * YOUNG[i])
    q = 0.004 + 0.5 * lying.dose * top / lying.scattering_power
    a, b = 1 + q, np.sqrt((1 + q) ** 2 - 1)
    coth = 1 / np.tanh(b * lying.scattering_power)
    on_head = (1 - wiped * (a - b * coth)) / (a - wiped + b * coth)
    rinsed = 0.023 + (1 - 0.023) * (1 + left - np.sqrt(left * left + 2 * left))
    return [lab(on_head), lab(wiped), lab(rinsed)]


@pytest.mark.parametrize("seed", range(60))
def test_two_writings_of_the_model_agree(seed: int) -> None:
    rng = np.random.default_rng(seed)
    hair = Hair(
        level=float(rng.uniform(1, 10.5)),
        warmth=float(rng.uniform(0.2, 5)),
        porosity=float(rng.uniform(0, 1)),
        damp=float(rng.uniform(0, 1)),
        rate=float(rng.uniform(0.5, 2)),
        uptake=float(rng.uniform(0.5, 2)),
    )
    product_class = str(rng.choice(list(CLASSES)))
    direct = product_class == "direct"
    product = Product(
        id="p",
        name="p",
        line="Still",
        class_=product_class,
        level=9,
        tone=["natural"],
        dyes=Dyes(**{dye.name: float(rng.uniform(0, 1)) for dye in DYES}),
        window=MinuteSpan(1, 40),
        # 1.5 % lifts nothing: 1.5 / 3 − 0.5 = 0
        developer_percent=[] if direct else [1.5],
        consistency=[None, "liquid", "gel", "light_cream", "cream"][int(rng.integers(5))],
    )
    developer_g = float(rng.uniform(20, 120))
    mix = Mix([Part("p", 40)], 10, None if direct else Developer(1.5, developer_g))
    strength = 1.0 if direct else 2.0 / (1.0 + developer_g / 40)
    minute, bunched = int(rng.integers(0, 41)), float(rng.uniform(0, 1))
    strip = predict(
        PredictionRequest(hair, mix, [product], minutes=[minute], look=Look(bunched))
    ).strip[0]
    ours = [strip.on_head.lab, strip.wiped.lab, strip.if_rinsed.lab]
    theirs = three_looks(hair, product, minute, bunched, strength)
    for look, other in zip(ours, theirs, strict=True):
        assert look == pytest.approx(tuple(other), abs=1e-6)
