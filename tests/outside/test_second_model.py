"""The strip against a second writing of the model, on arrays.

The equations are written again from their published forms (Kubelka–Munk; hyperbolic layer;
first-order chains solved as a linear system rather than by Bateman's sums; CIELAB), and the
constants of classes, dyes and products on top are typed again, so that a slip of the pen in
either writing shows. Shared with the engine are only the observer's weights and the pigment of
each level, which are checked by themselves.
"""

from dataclasses import dataclass, field

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
from basinside.engine.timing.predict import predict

NM = np.arange(380.0, 731.0, 10.0)
CMF = np.array([D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z])
EUMELANIN, WARM = (NM / 550) ** -3.33, (NM / 550) ** -10.0

# minutes in, uptake, slow share, slow minutes, young kept on rinsing, lift, usual consistency
CLASSES = {
    "alkaline_demi": (2.5, 1.00, 0.30, 35, 0.15, 0.15, "gel"),
    "neutral_demi": (3.0, 0.80, 0.25, 40, 0.15, 0.0, "light_cream"),
    "acid_demi": (3.5, 0.65, 0.15, 45, 0.20, 0.0, "gel"),
    "permanent": (4.0, 1.20, 0.50, 35, 0.10, 1.0, "cream"),
    "direct": (4.0, 1.00, 0.40, 30, 0.70, 0.0, "light_cream"),
}
# scattering power, dose
CONSISTENCIES = {
    "liquid": (0.06, 0.30),
    "gel": (0.12, 0.50),
    "light_cream": (0.40, 0.75),
    "cream": (0.80, 1.10),
}
# fixed peak and width, young peak and width in nm; minutes to colour, minutes to fix
DYES = {
    "yellow": (440, 40, 440, 40, 2.0, 4.0),
    "orange": (484, 45, 484, 45, 2.5, 4.0),
    "red": (512, 45, 512, 45, 2.5, 4.0),
    "violet": (552, 45, 540, 45, 2.5, 4.0),
    "blue": (610, 50, 535, 48, 2.5, 8.0),
    "blue_green": (665, 45, 610, 50, 3.5, 9.0),
    "blue_violet_direct": (585, 55, 585, 55, 0.1, 0.1),
    "orange_direct": (477, 38, 477, 38, 0.1, 0.1),
    "red_direct": (524, 36, 524, 36, 0.1, 0.1),
    "violet_direct": (570, 38, 570, 38, 0.1, 0.1),
    "blue_direct": (625, 38, 625, 38, 0.1, 0.1),
}
TAIL = np.array([[0.05]] * 7 + [[0.01]] * 4)  # brilliant dyes absorb little else
ROWS = np.array(list(DYES.values()), float)
FIXED = np.exp(-0.5 * ((NM - ROWS[:, [0]]) / ROWS[:, [1]]) ** 2) + TAIL
YOUNG = np.exp(-0.5 * ((NM - ROWS[:, [2]]) / ROWS[:, [3]]) ** 2) + TAIL
YOUNG[:6] *= 1.15


@dataclass
class Strands:
    """Hair as mixes have left it: levels gained; K/S [2, 36] and amount [2] of dye.

    First of pigmented strands, then of white ones.
    """

    gained: float = 0.0
    dye: np.ndarray = field(default_factory=lambda: np.zeros((2, 36)))
    total: np.ndarray = field(default_factory=lambda: np.zeros(2))


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


def young_and_fixed(product_class: str, porosity: float, clock: float) -> np.ndarray:
    """Return the two shares [2, 11] of each dye's full uptake, in the hair."""
    in_min, _, slow_share, slow_min, *_ = CLASSES[product_class]
    slowness = 1.6 - 1.2 * porosity
    shares = np.zeros((2, len(ROWS)))
    for i, row in enumerate(ROWS):
        inner = [9.0, 11.0] if product_class == "direct" else [1.0137 / row[4], 1.0291 / row[5]]
        for share, tau in ((1 - slow_share, in_min), (slow_share, slow_min)):
            shares[:, i] += share * stages(clock, [1 / (tau * slowness), *inner])[2:]
    return shares


def pigment(hair: Hair, gained: float) -> np.ndarray:
    """Return K/S of undyed hair: lifted, or natural turning so over its first level of lift."""
    level = min(10.5, hair.level + gained)
    amounts = []
    for table in (fibre._LIFTED, fibre._NATURAL):
        levels, logs = np.array(list(table)), np.log(list(table.values()))
        beyond = (logs[-1] - logs[-2]) / (levels[-1] - levels[-2]) * max(0.0, level - levels[-1])
        amounts.append(np.exp([np.interp(level, levels, column) for column in logs.T] + beyond))
    turned = 1.0 if hair.lifted else min(1.0, gained)
    e, w = turned * amounts[0] + (1 - turned) * amounts[1]
    return 0.006 + e * EUMELANIN + hair.warmth * w * WARM


def lift(hair: Hair, product_class: str, percent: float, clock: float) -> float:
    factor = CLASSES[product_class][5]
    if hair.lifted:
        return factor * max(0.0, percent / 3 - 0.5) * (1 - np.exp(-clock / 20)) / 2
    return factor * max(0.0, percent / 3 - 0.2) * (1 - np.exp(-clock / 15))


def taken_up(hair: Hair, product_class: str, total: np.ndarray, percent: float) -> np.ndarray:
    """Return what pigmented and white strands take up of a unit of dye, [2]."""
    site = CLASSES[product_class][1] * (0.55 + 0.9 * hair.porosity) * (1 - 0.15 * hair.damp)
    white = hair.white_uptake
    if product_class == "permanent":
        white *= 1 - 0.05 * max(0.0, 6 - percent) - 0.02 * max(0.0, percent - 6)
    return site * hair.uptake * np.array([1.0, white]) / (1 + 1.5 * total / (1 + 2 * total))


def opaque(q: np.ndarray) -> np.ndarray:
    return 1 + q - np.sqrt(q * q + 2 * q)


def dry_reflectance(q: np.ndarray) -> np.ndarray:
    return 0.023 + (1 - 0.023) * opaque(q)


def wet_reflectance(q: np.ndarray, wet: float, bunched: float) -> np.ndarray:
    """Less scattering, and the film's inner reflection over the part that is filmed."""
    body = opaque(q / ((1 - (1 - 0.325) * wet) * (1 - 0.25 * bunched)))
    dry = 0.023 + (1 - 0.023) * body
    filmed = 0.0204 + (1 - 0.0204) * (1 - 0.4746) * body / (1 - 0.4746 * body)
    return ((1 - wet**2) * dry + wet**2 * filmed) * (1 - 0.06 * bunched)


def under_product(ground: np.ndarray, amounts: np.ndarray, consistency: str, minute: int):
    """Return the reflectance of hair under product that colours up by itself."""
    power, dose = CONSISTENCIES[consistency]
    in_it = np.zeros(36)
    for i, row in enumerate(ROWS):
        _, young, fixed = stages(minute, [1.0137 / (1.8 * row[4]), 1.0291 / (1.8 * row[5])])
        in_it += amounts[i] * (fixed * FIXED[i] + young * YOUNG[i])
    q = 0.004 + 0.5 * dose * in_it / power
    a, b = 1 + q, np.sqrt((1 + q) ** 2 - 1)
    coth = 1 / np.tanh(b * power)
    return (1 - ground * (a - b * coth)) / (a - ground + b * coth)


def rinsed_off(
    hair: Hair, was: Strands, product_class: str, amounts: np.ndarray, percent: float, minute: int
) -> Strands:
    """Return the strands once a mix was on them for so long and rinsed."""
    clock, kept = minute * hair.rate, CLASSES[product_class][4]
    young, fixed = young_and_fixed(product_class, hair.porosity, clock)
    uptake = taken_up(hair, product_class, was.total, percent)
    left = (amounts * fixed) @ FIXED + kept * (amounts * young) @ YOUNG
    return Strands(
        was.gained + lift(hair, product_class, percent, clock),
        was.dye + np.outer(uptake, left),
        was.total + uptake * float((amounts * (fixed + kept * young)).sum()),
    )


def three_looks(
    hair: Hair,
    was: Strands,
    product: Product,
    amounts: np.ndarray,
    percent: float,
    minute: int,
    bunched: float,
) -> list[np.ndarray]:
    name, clock = product.class_, minute * hair.rate
    left = rinsed_off(hair, was, name, amounts, percent, minute)
    young, fixed = young_and_fixed(name, hair.porosity, clock)
    uptake = taken_up(hair, name, was.total, percent)
    there = was.dye + np.outer(uptake, (amounts * fixed) @ FIXED + (amounts * young) @ YOUNG)
    white = 0.006 + 0.02 * EUMELANIN
    # strands stand side by side: their reflectances mix
    wiped = rinsed = np.zeros(36)
    for i, (share, bare) in enumerate(
        ((1 - hair.white_share, pigment(hair, left.gained)), (hair.white_share, white))
    ):
        wiped = wiped + share * wet_reflectance(bare + there[i], 0.9, bunched)
        rinsed = rinsed + share * dry_reflectance(bare + left.dye[i])
    consistency = product.consistency or CLASSES[name][6]
    return [lab(under_product(wiped, amounts, consistency, minute)), lab(wiped), lab(rinsed)]


def dye_amounts(product: Product) -> np.ndarray:
    return np.array([getattr(product.dyes, name) for name in DYES])


def random_product(rng: np.random.Generator, product_id: str, percent: float) -> Product:
    product_class = str(rng.choice(list(CLASSES)))
    return Product(
        id=product_id,
        name=product_id,
        line="Still",
        class_=product_class,
        level=9,
        tone=["natural"],
        dyes=Dyes(**{name: float(rng.uniform(0, 1)) for name in DYES}),
        window=MinuteSpan(1, 40),
        developer_percent=[] if product_class == "direct" else [percent],
        consistency=[None, *CONSISTENCIES][int(rng.integers(5))],
    )


@pytest.mark.parametrize("seed", range(120))
def test_two_writings_of_the_model_agree(seed: int) -> None:
    # 1e-6: the eigenvectors of a chain whose steps nearly run at one rate cost that many digits.
    rng = np.random.default_rng(seed)
    percent = float(rng.choice([1.5, 1.9, 3, 6, 12]))
    before, product = (random_product(rng, name, percent) for name in ("before", "now"))
    worn = Mix([Part("before", 40)], int(rng.integers(1, 41)))
    hair = Hair(
        level=float(rng.uniform(1, 10.5)),
        warmth=float(rng.uniform(0.2, 5)),
        porosity=float(rng.uniform(0, 1)),
        damp=float(rng.uniform(0, 1)),
        white_share=float(rng.uniform(0, 1)) if seed % 3 == 0 else 0.0,
        lifted=seed % 2 == 0,
        rate=float(rng.uniform(0.5, 2)),
        uptake=float(rng.uniform(0.5, 2)),
        white_uptake=float(rng.uniform(0.5, 1.2)),
        already_on=[worn] if seed % 5 < 2 else [],
    )
    developer_g, direct = float(rng.uniform(20, 120)), product.class_ == "direct"
    mix = Mix([Part("now", 40)], 10, None if direct else Developer(percent, developer_g))
    minute, bunched = int(rng.integers(0, 41)), float(rng.uniform(0, 1))
    strip = predict(
        PredictionRequest(hair, mix, [before, product], minutes=[minute], look=Look(bunched))
    ).strip[0]

    was = Strands()
    if hair.already_on:
        was = rinsed_off(hair, was, before.class_, dye_amounts(before), percent, worn.minutes)
    # usual: one part of developer to one of colour; more of it thins the dye
    amounts = dye_amounts(product) * (1.0 if direct else 2.0 / (1.0 + developer_g / 40))
    theirs = three_looks(hair, was, product, amounts, percent, minute, bunched)
    ours = [strip.on_head.lab, strip.wiped.lab, strip.if_rinsed.lab]
    for look, other in zip(ours, theirs, strict=True):
        assert look == pytest.approx(tuple(other), abs=1e-6)
