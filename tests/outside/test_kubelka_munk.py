"""Kubelka-Munk's closed forms against their differential equations, limits and optics."""

import numpy as np
import pytest

from basinside.engine.hair import appearance
from basinside.engine.hair.appearance import (
    dry_reflectance,
    kubelka_munk,
    layer_terms,
    through_layer,
    wet_reflectance,
)

KS = [0.0, 1e-6, 0.004, 0.05, 0.25, 1.0, 4.0, 30.0, 250.0]
GROUNDS = [0.0, 0.03, 0.3, 0.7, 0.98]
POWERS = [0.06, 0.12, 0.4, 0.8, 3.0]  # scattering times thickness, S X


def layered(ground: float, ks: float, power: float) -> float:
    return through_layer([ground], layer_terms([ks], power))[0]


def integrated(ground: float, ks: float, power: float, steps: int = 4000) -> float:
    """Return dR/d(SX) = 1 - 2 a R + R^2, a = 1 + K/S, from the ground up, by Runge-Kutta.

    Kubelka & Munk, Z. tech. Physik 12 (1931) 593: the equation the closed form solves.
    """
    a, h, r = 1 + ks, power / steps, ground

    def slope(at: float) -> float:
        return 1 - 2 * a * at + at * at

    for _ in range(steps):
        k1 = slope(r)
        k2 = slope(r + h * k1 / 2)
        k3 = slope(r + h * k2 / 2)
        k4 = slope(r + h * k3)
        r += h * (k1 + 2 * k2 + 2 * k3 + k4) / 6
    return r


def test_half_reflectance_is_a_quarter_of_absorption_over_scattering() -> None:
    # Hunt & Pointer, Measuring Colour: K/S = (1 - R)^2 / 2R, so R = 1/2 gives 1/4 exactly.
    assert kubelka_munk(0.25) == 0.5


@pytest.mark.parametrize("ks", KS)
def test_reflectance_turns_back_into_absorption_over_scattering(ks) -> None:
    # The inverse form, K/S = (1 - R)^2 / 2R. Digits are lost as R falls: relative to 1e-9.
    r = kubelka_munk(ks)
    assert (1 - r) ** 2 / (2 * r) == pytest.approx(ks, rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("ks", [0.0, 0.004, 0.25, 4.0])
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("power", POWERS)
def test_a_layer_is_what_its_differential_equation_integrates_to(ks, ground, power) -> None:
    # Runge-Kutta of fourth order over 4,000 steps is good to about 1e-12 here.
    assert layered(ground, ks, power) == pytest.approx(integrated(ground, ks, power), abs=1e-9)


@pytest.mark.parametrize("ks", KS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_a_layer_of_no_thickness_shows_the_ground(ks, ground) -> None:
    # First order in thickness: R - Rg = S X (1 - 2 a Rg + Rg^2).
    assert layered(ground, ks, 1e-12) == pytest.approx(ground, abs=1e-9)


@pytest.mark.parametrize("ks", KS[2:])
@pytest.mark.parametrize("ground", GROUNDS)
def test_a_thick_layer_hides_the_ground(ks, ground) -> None:
    # The limit S X to infinity is the opaque form R = 1 + q - sqrt(q^2 + 2 q).
    assert layered(ground, ks, 1000.0) == pytest.approx(kubelka_munk(ks), abs=1e-9)


@pytest.mark.parametrize("ks", KS[2:])
@pytest.mark.parametrize("power", POWERS)
def test_a_layer_on_its_own_opaque_self_cannot_be_seen(ks, power) -> None:
    # R infinity is the fixed point of the differential equation, at any thickness.
    opaque = kubelka_munk(ks)
    assert layered(opaque, ks, power) == pytest.approx(opaque, abs=1e-10)


@pytest.mark.parametrize("ks", KS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_two_layers_are_one_of_both_thicknesses(ks, ground) -> None:
    # Kubelka, J. Opt. Soc. Am. 38 (1948) 448: layers of one material compose.
    twice = layered(layered(ground, ks, 0.12), ks, 0.28)
    assert twice == pytest.approx(layered(ground, ks, 0.4), abs=1e-10)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("power", POWERS)
def test_a_layer_without_absorption_has_its_own_simple_form(ground, power) -> None:
    # Kubelka (1948), K = 0: R = (Rg + SX (1 - Rg)) / (1 + SX (1 - Rg)).
    scattered = power * (1 - ground)
    assert layered(ground, 0.0, power) == pytest.approx(
        (ground + scattered) / (1 + scattered), abs=1e-12
    )


def test_the_water_film_reflects_what_fresnel_says() -> None:
    # Fresnel's equations for water, n = 1.333: at normal incidence from outside, and averaged
    # over diffuse light inside (sin 2 theta), total reflection included. Rounded to 4 decimals.
    n = 1.333
    outside = ((n - 1) / (n + 1)) ** 2
    theta = (np.arange(400_000) + 0.5) * (np.pi / 2) / 400_000
    sine = n * np.sin(theta)
    refracted = np.sqrt(np.maximum(0.0, 1 - sine**2))
    s = ((n * np.cos(theta) - refracted) / (n * np.cos(theta) + refracted)) ** 2
    p = ((np.cos(theta) - n * refracted) / (np.cos(theta) + n * refracted)) ** 2
    reflected = np.where(sine >= 1, 1.0, (s + p) / 2)
    inside = float((reflected * np.sin(2 * theta)).mean() * np.pi / 2)
    assert outside == pytest.approx(appearance._FILM_SURFACE, abs=1e-4)
    assert inside == pytest.approx(appearance._FILM_INTERNAL, abs=1e-3)


@pytest.mark.parametrize("ks", KS[1:])
def test_wet_hair_is_darker_than_dry(ks) -> None:
    # Lekner & Dorf, "Why some things are darker when wet", Appl. Opt. 27 (1988) 1278.
    wetter = [wet_reflectance([ks], wet, 0.0)[0] for wet in (0.0, 0.3, 0.6, 0.9, 1.0)]
    assert wetter == sorted(wetter, reverse=True)


@pytest.mark.parametrize("ks", KS)
def test_wet_hair_with_no_water_on_it_is_dry_hair(ks) -> None:
    # Two ways through one model must meet.
    assert wet_reflectance([ks], 0.0, 0.0) == pytest.approx(dry_reflectance([ks]), abs=1e-12)


@pytest.mark.parametrize("bunched", [0.0, 0.3, 1.0])
@pytest.mark.parametrize("wet", [0.0, 0.6, 0.9, 1.0])
def test_more_dye_never_reflects_more_and_no_more_light_leaves_than_came(wet, bunched) -> None:
    # Conservation of energy; Kubelka-Munk falls with K/S.
    seen = [wet_reflectance([ks], wet, bunched)[0] for ks in KS]
    assert seen == sorted(seen, reverse=True)
    assert 0 < seen[-1] < seen[0] <= 1
