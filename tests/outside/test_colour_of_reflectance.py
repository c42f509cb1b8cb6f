"""From reflectance to CIELAB against CIE data at their own 5 nm, as colour-science carries them."""

import numpy as np
import pytest

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.lab import EPSILON, KAPPA, WEIGHTS, lab_of, lab_of_ratios
from basinside.engine.colour.observer import D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z
from basinside.engine.colour.spectrum import WAVELENGTHS_NM


@pytest.fixture(scope="module")
def chart(colour_science):
    """Return the 24 reflectances of the chart of ISO 17321-1, 380-780 nm at 5 nm."""
    return colour_science.SDS_COLOURCHECKERS["ISO 17321-1"]


@pytest.fixture(scope="module")
def tristimulus_weights(colour_science):
    """Return D65 x CIE 1964 10 degree functions (CIE 015:2018) at 5 nm, by wavelength in nm."""
    functions = colour_science.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"]
    d65 = colour_science.SDS_ILLUMINANTS["D65"]
    nm = np.arange(380.0, 781.0, 5.0)
    return nm, functions[nm] * d65[nm][:, np.newaxis]


def test_the_chart_has_its_24_patches(chart) -> None:
    assert len(chart) == 24


def test_every_patch_of_the_iso_chart_has_the_colour_integrated_at_5_nm(
    colour_science, chart, tristimulus_weights
) -> None:
    # ISO 17321-1 chart through colour-science's own curve to Lab. 0.15: what 36 bands of 10 nm
    # cost against 5 nm; a trained eye sees about 1.
    nm, weights = tristimulus_weights
    for name, patch in chart.items():
        theirs = colour_science.XYZ_to_Lab(
            patch[nm] @ weights / weights.sum(0), _chromaticity((1.0, 1.0, 1.0))
        )
        ours = lab_of([float(patch[band_nm]) for band_nm in WAVELENGTHS_NM])
        assert delta_e_2000(ours, tuple(map(float, theirs))) <= 0.15, name


def test_every_patch_agrees_with_the_whole_integration_of_colour_science(
    colour_science, chart
) -> None:
    # sd_to_XYZ by its own "Integration" method, with its own white point of D65 and 10 degrees,
    # so that neither the white nor the sum is ours. Same tolerance, same reason.
    shape = colour_science.SpectralShape(380, 780, 5)
    functions = colour_science.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"]
    functions = functions.copy().align(shape)
    d65 = colour_science.SDS_ILLUMINANTS["D65"].copy().align(shape)
    white = colour_science.CCS_ILLUMINANTS["CIE 1964 10 Degree Standard Observer"]["D65"]
    for name, patch in chart.items():
        xyz = colour_science.sd_to_XYZ(patch, functions, d65, method="Integration")
        theirs = colour_science.XYZ_to_Lab(xyz / 100, white)
        ours = lab_of([float(patch[band_nm]) for band_nm in WAVELENGTHS_NM])
        assert delta_e_2000(ours, tuple(map(float, theirs))) <= 0.15, name


def test_the_bands_weigh_as_the_published_white_point(colour_science) -> None:
    # CIE 015:2018, D65 and 10 degrees: x 0.31382, y 0.33100 as colour-science lists them. The
    # bands carry 4 decimals of 100, so the white is right to about 2e-5.
    sums = [sum(row) for row in (D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z)]
    listed = colour_science.CCS_ILLUMINANTS["CIE 1964 10 Degree Standard Observer"]["D65"]
    assert sums[0] / sum(sums) == pytest.approx(listed[0], abs=5e-5)
    assert sums[1] / sum(sums) == pytest.approx(listed[1], abs=5e-5)


def test_the_lightness_curve_has_the_constants_of_the_standard() -> None:
    # CIE 015:2018, 8.2.1: epsilon is (24/116)^3, kappa (116/12)^3.
    assert pytest.approx((24 / 116) ** 3, abs=1e-15) == EPSILON
    assert pytest.approx((116 / 12) ** 3, abs=1e-12) == KAPPA


def test_the_two_pieces_of_the_lightness_curve_meet_without_step_or_kink() -> None:
    # A property of the standard's curve: value and slope join at epsilon, where L* is 8.
    step = 1e-9
    below, at, above = (
        lab_of_ratios(r, r, r)[0] for r in (EPSILON - step, EPSILON, EPSILON + step)
    )
    assert at == pytest.approx(8.0, abs=1e-9)
    assert (above - at) / step == pytest.approx((at - below) / step, rel=1e-5)


def test_white_is_white_black_is_black_and_grey_is_neutral() -> None:
    # CIE 015:2018: the perfect diffuser is (100, 0, 0); equal reflectance has no chroma.
    assert lab_of([1.0] * 36) == pytest.approx((100, 0, 0), abs=1e-9)
    assert lab_of([0.0] * 36) == pytest.approx((0, 0, 0), abs=1e-9)
    # L* = 116 (Y/Yn)^(1/3) - 16, so L* 50 is Y/Yn = (66/116)^3, the mid grey of 18.4 %.
    assert lab_of([(66 / 116) ** 3] * 36) == pytest.approx((50, 0, 0), abs=1e-9)


def test_random_tristimulus_ratios_give_the_lab_of_colour_science(colour_science) -> None:
    # Same closed form on both sides: only rounding may differ.
    xyz = np.random.default_rng(15).uniform(0, 1, (500, 3)) ** 3
    theirs = colour_science.XYZ_to_Lab(xyz, _chromaticity((1.0, 1.0, 1.0)))
    ours = [lab_of_ratios(*map(float, ratios)) for ratios in xyz]
    assert np.abs(np.array(ours) - theirs).max() < 1e-9


def test_each_weight_row_sums_to_one() -> None:
    assert [sum(row) for row in WEIGHTS] == pytest.approx([1, 1, 1], abs=1e-12)


def _chromaticity(white_xyz: tuple[float, float, float]) -> np.ndarray:
    """Return x, y of a white; ratios to white are tristimulus values under the equal-energy one."""
    return np.array(white_xyz[:2]) / sum(white_xyz)
