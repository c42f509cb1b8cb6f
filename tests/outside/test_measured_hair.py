"""The bare fibre against published melanin spectra and instrument readings of hair."""

import numpy as np
import pytest

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.spectrum import WAVELENGTHS_NM
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.fibre import (
    EUMELANIN,
    KERATIN_FLOOR,
    WARM_REMAINDER,
    WHITE_FIBRE_KS,
    fibre_ks,
)

NM = np.array(WAVELENGTHS_NM)
# J. Cosmet. Sci. 51 (2000) 293, tables III-IV: untreated hair, instrument readings, D65 and
# 10 degrees, lowest and highest of the tresses.
BLACK = ((18.0, 18.4), (-1.0, 1.0), (-1.0, 1.0))
DARK_BROWN = ((21.7, 23.8), (3.4, 4.3), (3.9, 5.4))
# Natural tresses of one name differ by more than this; a level is half as wide again.
TOLERANCE = 3.0


def distance_from(readings, lab) -> float:
    """Return the CIEDE2000 of a colour from the nearest side of a box of readings."""
    nearest = tuple(
        min(highest, max(lowest, value))
        for value, (lowest, highest) in zip(lab, readings, strict=True)
    )
    return delta_e_2000(lab, nearest)


def natural(level: float):
    return dry_lab(fibre_ks(level, oxidised=0.0))


def test_natural_level_1_is_measured_black_hair() -> None:
    assert distance_from(BLACK, natural(1)) <= TOLERANCE


@pytest.mark.parametrize("level", [2, 2.5, 3])
def test_natural_levels_2_to_3_are_measured_dark_brown_hair(level) -> None:
    assert distance_from(DARK_BROWN, natural(level)) <= TOLERANCE


def test_natural_hair_of_level_4_is_no_longer_measured_black() -> None:
    # The other side of the fence: a check that could pass for any dark colour would be none.
    assert distance_from(BLACK, natural(4)) > TOLERANCE


def test_eumelanin_absorbs_as_published() -> None:
    # Donner & Jensen, "A Spectral BSSRDF for Shading Human Skin", EGSR 2006, after Jacques:
    # 6.6e10 nm^-3.33 per mm. Only the shape is used; the amount is the level's.
    published = 6.6e10 * NM**-3.33
    shape = np.array(EUMELANIN) / published
    assert np.ptp(shape) / shape.mean() < 1e-12


def test_the_warm_remainder_falls_more_steeply_than_published_pheomelanin() -> None:
    # Donner & Jensen (2006): pheomelanin 2.9e14 nm^-4.75 per mm. Oxidised melanin is steeper
    # still; its exponent is this project's assumption, so only the order is checked.
    warm = np.polyfit(np.log(NM), np.log(WARM_REMAINDER), 1)[0]
    assert warm < -4.75


@pytest.mark.parametrize("oxidised", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("level", [1, 4, 6.5, 8, 10, 10.5])
def test_no_hair_absorbs_less_towards_the_blue(level, oxidised) -> None:
    # Every melanin spectrum published falls monotonically through the visible.
    ks = np.array(fibre_ks(level, oxidised=oxidised))
    assert (np.diff(ks) < 0).all()
    slope = np.polyfit(np.log(NM), np.log(ks - KERATIN_FLOOR), 1)[0]
    assert -10 <= slope <= -3.33 + 1e-9


def test_unpigmented_fibre_keeps_a_trace_of_the_melanin_law() -> None:
    trace = np.array(WHITE_FIBRE_KS) - KERATIN_FLOOR
    assert np.polyfit(np.log(NM), np.log(trace), 1)[0] == pytest.approx(-3.33, abs=1e-9)


@pytest.mark.parametrize("oxidised", [0.0, 1.0])
def test_hair_grows_lighter_with_every_level(oxidised) -> None:
    # Common practice, no published source: the level scale is a scale of lightness.
    lightness = [dry_lab(fibre_ks(1 + step / 10, oxidised=oxidised))[0] for step in range(91)]
    assert lightness == sorted(lightness)
