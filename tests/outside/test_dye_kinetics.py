"""Dye formation against numerical integration, and dye peaks against measured ones."""

import numpy as np
import pytest

from basinside.engine.colour.spectrum import WAVELENGTHS_NM
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES
from basinside.engine.timing.kinetics import in_hair, on_top

# J. Soc. Cosmet. Chem. 24 (1973), table V, p. 114, neutral solution, nm.
MEASURED_NM = {
    "violet": 552,  # 2-amino-indamine
    "orange": 484,  # 2-hydroxy-indoaniline
    "red": 511,  # 2-amino-indoaniline
}
METHOXY_INDAMINE_NM, INDAMINE_NM = 653, 672  # the same table


def peak_nm(name: str) -> float:
    """Return where a fixed dye absorbs most, finer than the bands.

    A parabola through the logarithms of the three highest bands, their flat tail taken off, is
    exact for a Gaussian.
    """
    fixed = np.array(next(dye.fixed for dye in DYES if dye.name == name))
    top = int(np.argmax(fixed))
    before, at, after = np.log(fixed[top - 1 : top + 2] - fixed.min())
    return WAVELENGTHS_NM[top] + 5 * (before - after) / (before - 2 * at + after)


@pytest.mark.parametrize("name", MEASURED_NM)
def test_a_fixed_dye_absorbs_most_where_the_dye_it_stands_for_was_measured(name: str) -> None:
    # 2 nm: the table is in whole nanometres, read off bands 80 nm wide.
    assert peak_nm(name) == pytest.approx(MEASURED_NM[name], abs=2)


def test_blue_green_absorbs_most_between_the_two_indamines_measured() -> None:
    # No one dye of the table stands behind it: the bare indamine and its methoxy form do.
    assert METHOXY_INDAMINE_NM < peak_nm("blue_green") < INDAMINE_NM


def chain(t: float, rates: np.ndarray) -> np.ndarray:
    """Return what is in each stage of A → B → C → D after time t, by Runge–Kutta of order 4."""
    move = np.diag(np.append(-rates, 0.0)) + np.diag(rates, -1)
    state = np.eye(len(rates) + 1)[0]
    steps = 800  # fourth order: under 1e-9 at these rates
    h = t / steps
    for _ in range(steps):
        k1 = move @ state
        k2 = move @ (state + h / 2 * k1)
        k3 = move @ (state + h / 2 * k2)
        k4 = move @ (state + h * k3)
        state = state + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return state


@pytest.mark.parametrize("product_class", ["neutral_demi", "permanent"])
@pytest.mark.parametrize("minute", [2.0, 8.0, 20.0])
def test_young_and_fixed_dye_in_the_hair_follow_first_order_steps(
    product_class: str, minute: float
) -> None:
    row, porosity = CLASSES[product_class], 0.5
    slowness = 1.6 - 1.2 * porosity
    young, fixed = in_hair(product_class, porosity, minute)
    for i, dye in enumerate(DYES):
        expected = np.zeros(2)
        populations = ((1 - row.slow_share, row.in_min), (row.slow_share, row.slow_min))
        for share, in_min in populations:
            # 1.0137 and 1.0291 keep the steps of the closed form apart (our own constants)
            rates = np.array(
                [1 / (in_min * slowness), 1.0137 / dye.colour_min, 1.0291 / dye.fix_min]
            )
            expected += share * chain(minute, rates)[2:]
        assert (young[i], fixed[i]) == pytest.approx(tuple(expected), abs=1e-7)


@pytest.mark.parametrize("minute", [2.0, 8.0, 20.0])
def test_dye_in_the_product_on_top_follows_first_order_steps(minute: float) -> None:
    young, fixed = on_top(minute)
    for i, dye in enumerate(DYES):
        rates = np.array([1.0137 / (1.8 * dye.colour_min), 1.0291 / (1.8 * dye.fix_min)])
        expected = chain(minute, rates)[1:]
        assert (young[i], fixed[i]) == pytest.approx(tuple(expected), abs=1e-7)


@pytest.mark.parametrize("product_class", CLASSES)
def test_dye_is_never_made_from_nothing(product_class: str) -> None:
    # conservation: young and fixed together never exceed what has gone in, and only grow
    before = np.zeros(len(DYES))
    for minute in (0.5, 1, 2, 5, 10, 20, 60, 120):
        young, fixed = in_hair(product_class, 0.5, minute)
        there = np.array(young) + np.array(fixed)
        assert np.all(there >= before - 1e-12)
        assert np.all(there <= 1 + 1e-12)
        before = there
