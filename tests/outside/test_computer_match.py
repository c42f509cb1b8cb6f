"""The solver against textbook computer match prediction.

E. Allen, "Basic equations used in computer color matching", J. Opt. Soc. Am. 56 (1966) 1256, and
part II, 64 (1974) 991 (pages from memory): with three dyes, a tristimulus match is found by
Newton steps on the three concentrations, the Jacobian being d(XYZ)/dc through d(K/S). Written
here in numpy, on tristimulus values of its own, so that it shares nothing with the solver but
the spectra.
"""

import numpy as np
import pytest

from basinside.contract.formulations import FormulationRequest, Limits
from basinside.contract.hair import Hair
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.contract.wishes import Wish
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.observer import (
    D65_CMF_1964_X,
    D65_CMF_1964_Y,
    D65_CMF_1964_Z,
)
from basinside.engine.formulation.formulate import formulate
from basinside.engine.hair.fibre import fibre_ks
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES
from basinside.engine.timing.kinetics import site_uptake
from basinside.engine.timing.promise import nearest_dyes, rinsed_rows

CMF = np.array([D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z])
SURFACE = 0.023
TRIOS = [
    ("violet", "blue", "yellow"),
    ("violet", "blue_green", "orange"),
    ("red", "blue", "yellow"),
]
NAMES = [dye.name for dye in DYES]


def tristimulus(ks: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return XYZ of dry hair and d(XYZ)/d(K/S) per band [3, 36]."""
    root = np.sqrt(ks * (ks + 2))
    reflectance = SURFACE + (1 - SURFACE) * (1 + ks - root)
    slope = (1 - SURFACE) * (1 - (ks + 1) / root)
    return CMF @ reflectance, CMF * slope


def lab_of_xyz(xyz: np.ndarray) -> tuple[float, float, float]:
    # CIE 015:2018; hair is never dark enough for the straight part of the curve
    x, y, z = np.cbrt(xyz / CMF.sum(1))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def newton_match(bare: np.ndarray, spectra: np.ndarray, xyz: np.ndarray) -> np.ndarray:
    """Return the three concentrations of a tristimulus match, by Allen's iteration."""
    concentrations = np.full(3, 0.05)
    for _ in range(60):
        reached, by_band = tristimulus(bare + concentrations @ spectra)
        step = np.linalg.solve(by_band @ spectra.T, xyz - reached)
        longest = 0.5 / max(0.5, np.abs(step).max())
        concentrations = concentrations + longest * step
        if np.abs(step).max() < 1e-13:
            break
    return concentrations


def rows_of(trio: tuple[str, str, str]) -> np.ndarray:
    uptake = site_uptake(CLASSES["neutral_demi"], 0.5, 0.0, 1.0, 0.0)
    rows = uptake * np.array(rinsed_rows("neutral_demi", 0.5, 20))
    return rows[[NAMES.index(name) for name in trio]]


@pytest.mark.parametrize("trio", TRIOS)
@pytest.mark.parametrize("level", [8.0, 9.0, 10.0])
def test_where_three_dyes_suffice_the_solver_finds_the_newton_match(
    trio: tuple[str, str, str], level: float
) -> None:
    rng = np.random.default_rng(int(10 * level))
    bare, spectra = np.array(fibre_ks(level)), rows_of(trio)
    for _ in range(10):
        true = rng.uniform(0.05, 0.4, 3)
        xyz, _ = tristimulus(bare + true @ spectra)
        matched = newton_match(bare, spectra, xyz)
        # Newton's own check: it must come back to what made the colour
        assert matched == pytest.approx(true, abs=1e-9)
        target = lab_of_xyz(xyz)
        ours = nearest_dyes(
            [(1.0, list(bare))],
            [list(s) for s in spectra],
            lambda lab, t=target: (lab[0] - t[0], lab[1] - t[1], lab[2] - t[2]),
            ridge=0.0,
        )
        # Both converge quadratically on one root. 1e-8 of a unit of dye is far below sight, but
        # a solver that stops early or leans on its damping would not come as near.
        assert ours == pytest.approx(matched, abs=1e-8)


def tube(name: str, dyes: Dyes | None) -> Product:
    return Product(
        id=name,
        name=name,
        line="Still",
        class_="neutral_demi",
        level=9,
        tone=["natural"] if dyes else ["clear"],
        dyes=dyes,
        window=MinuteSpan(20, 20),
        developer_percent=[1.9],
    )


def closest_formula(trio: tuple[str, str, str], xyz: np.ndarray, step_g: float):
    """Return the search's closest formula from three strong single-dye tubes and a clear."""
    products = [tube(name, Dyes(**{name: 1.0})) for name in trio] + [tube("clear", None)]
    reply = formulate(
        FormulationRequest(
            Hair(level=9.5, damp=0),
            Wish(lab=lab_of_xyz(xyz)),
            products,
            Limits(total_g=60, step_g=step_g, count=10, unlikely=True),
        )
    )
    return min(reply.formulas, key=lambda f: f.delta_e)


def weighed(formula, trio: tuple[str, str, str]) -> np.ndarray:
    grams = {part.product: part.grams for part in formula.mix.parts}
    return np.array([grams.get(name, 0.0) for name in trio])


def test_the_whole_search_weighs_out_the_newton_match() -> None:
    trio = ("violet", "blue", "yellow")
    bare, spectra = np.array(fibre_ks(9.5)), rows_of(trio)
    shares = np.array([0.3, 0.15, 0.25])  # of a bowl of twenty parts: 6, 3, 5, and 6 of clear
    xyz, _ = tristimulus(bare + shares @ spectra)
    closest = closest_formula(trio, xyz, step_g=3)
    matched = newton_match(bare, spectra, xyz)
    assert weighed(closest, trio) / 60 == pytest.approx(matched, abs=1e-9)
    assert closest.delta_e == pytest.approx(0, abs=1e-6)
    assert delta_e_2000(closest.predicted.lab, lab_of_xyz(xyz)) < 1e-6


@pytest.mark.parametrize(("trio", "step_g"), list(zip(TRIOS, (1, 5, 1), strict=True)))
def test_a_match_between_the_scales_marks_is_weighed_out_beside_them(
    trio: tuple[str, str, str], step_g: float
) -> None:
    # Orange and blue-green together are nearly a violet, so of that trio many mixes look alike:
    # it is asked for in the usual 5 g, and only its colour is compared.
    rng = np.random.default_rng(1966)
    bare, spectra = np.array(fibre_ks(9.5)), rows_of(trio)
    for _ in range(5):
        xyz, _ = tristimulus(bare + rng.uniform(0.08, 0.3, 3) @ spectra)
        closest = closest_formula(trio, xyz, step_g)
        matched_g = 60 * newton_match(bare, spectra, xyz)
        # never further off than the best way of rounding Allen's match to the scale's marks
        rounded = [
            tristimulus(bare + (np.floor(matched_g / step_g) + up) * step_g / 60 @ spectra)[0]
            for up in np.ndindex(2, 2, 2)
        ]
        target = lab_of_xyz(xyz)
        best_rounding = min(delta_e_2000(lab_of_xyz(other), target) for other in rounded)
        assert closest.delta_e <= best_rounding + 1e-6
        if trio != ("violet", "blue_green", "orange"):
            assert weighed(closest, trio) == pytest.approx(matched_g, abs=step_g)
