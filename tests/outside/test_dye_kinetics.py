"""Dye formation against numerical integration, and dye peaks against measured ones."""

import numpy as np
import pytest

from basinside.engine.colour.spectrum import WAVELENGTHS_NM
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES
from basinside.engine.timing.kinetics import in_hair, on_top

# J. Soc. Cosmet. Chem. 24 (1973), table V, p. 114, neutral solution, nm.
MEASURED_NM = {
    "violet": {"2-amino-indamine": 552, "indoaniline": 554, "2-methoxy-indoaniline": 538},
    "orange": {"2-hydroxy-indoaniline": 484},
    "red": {"2-amino-indoaniline": 511, "2-hydroxy-5-methyl-indamine": 504},
    "blue_green": {"indamine": 672, "2-methoxy-indamine": 653},
}


@pytest.mark.parametrize("name", MEASURED_NM)
def test_a_fixed_dye_absorbs_most_where_dyes_of_its_colour_were_measured(name: str) -> None:
    dye = next(dye for dye in DYES if dye.name == name)
    peak_nm = WAVELENGTHS_NM[int(np.argmax(dye.fixed))]
    # Hair shifts a dye's peak by some nanometres against solution, and a band is 10 nm wide.
    nearest = min(MEASURED_NM[name].values(), key=lambda nm: abs(nm - peak_nm))
    assert abs(peak_nm - nearest) <= 10


def chain(t: float, rates: np.ndarray) -> np.ndarray:
    """Return what is in each stage of A → B → C → D after time t, by Runge–Kutta of order 4."""
    move = np.diag(np.append(-rates, 0.0)) + np.diag(rates, -1)
    state = np.eye(len(rates) + 1)[0]
    steps = 4000
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
    for i, dye in enumerate(DYES[:6]):
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
    for i, dye in enumerate(DYES[:6]):
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
