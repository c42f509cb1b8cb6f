"""From reflectance to CIELAB (CIE 015:2018, D65, 10 degree observer)."""

from math import cbrt

from .observer import D65_CMF_1964_X, D65_CMF_1964_Y, D65_CMF_1964_Z
from .spectrum import Spectrum, dot

LabTuple = tuple[float, float, float]

EPSILON = 216 / 24389  # CIE 015:2018, 8.2.1: below it the lightness curve is a straight line
KAPPA = 24389 / 27


def _of_white(weights: tuple[float, ...]) -> tuple[float, ...]:
    total = sum(weights)
    return tuple(w / total for w in weights)


# Each row sums to 1, so a row times a reflectance is X/Xn, Y/Yn or Z/Zn at once.
WEIGHT_X = _of_white(D65_CMF_1964_X)
WEIGHT_Y = _of_white(D65_CMF_1964_Y)
WEIGHT_Z = _of_white(D65_CMF_1964_Z)
Weights = tuple[Spectrum, Spectrum, Spectrum]
WEIGHTS: Weights = (WEIGHT_X, WEIGHT_Y, WEIGHT_Z)


def _f(ratio: float) -> float:
    return cbrt(ratio) if ratio > EPSILON else (KAPPA * ratio + 16.0) / 116.0


def lab_of_ratios(x: float, y: float, z: float) -> LabTuple:
    """Return CIELAB of X/Xn, Y/Yn, Z/Zn (CIE 015:2018, eqs 8.3–8.8)."""
    fx, fy, fz = _f(x), _f(y), _f(z)
    return 116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)


def lab_of(reflectance: Spectrum) -> LabTuple:
    """Return CIELAB (D65, 10 degree) of a reflectance spectrum (36 bands, 0–1)."""
    return lab_of_ratios(
        dot(WEIGHT_X, reflectance), dot(WEIGHT_Y, reflectance), dot(WEIGHT_Z, reflectance)
    )


def f_slope(ratio: float) -> float:
    """Return the derivative of the CIELAB f curve at a tristimulus ratio."""
    if ratio > EPSILON:
        root = cbrt(ratio)
        return 1.0 / (3.0 * root * root)
    return KAPPA / 116.0
