"""The wavelength bands everything is computed in, and the arithmetic on them.

A spectrum is a sequence of 36 floats, one for each band from 380 to 730 nm, 10 nm apart.
"""

import math
from collections.abc import Callable, Sequence
from math import exp
from operator import mul

Spectrum = Sequence[float]

WAVELENGTHS_NM: tuple[float, ...] = tuple(380.0 + 10.0 * band for band in range(36))


# math.sumprod came with Python 3.12 and rounds differently in the last digit: nothing may
# rest on that digit (ties are broken on rounded values).
_sumprod: Callable[[Sequence[float], Sequence[float]], float] | None = getattr(
    math, "sumprod", None
)


def _dot_by_hand(a: Sequence[float], b: Sequence[float]) -> float:
    return sum(map(mul, a, b), 0.0)


dot = _sumprod or _dot_by_hand


def gaussian_band(peak_nm: float, width_nm: float, tail: float, gain: float = 1.0) -> Spectrum:
    """Return a Gaussian absorption band with a small flat tail.

    `width_nm` is the standard deviation; the band's height is `gain` × (1 + `tail`).
    """
    return tuple(
        gain * (exp(-0.5 * ((nm - peak_nm) / width_nm) ** 2) + tail) for nm in WAVELENGTHS_NM
    )


def power_law(exponent: float) -> Spectrum:
    """Return (λ / 550 nm) to the power of `exponent`."""
    return tuple((nm / 550.0) ** exponent for nm in WAVELENGTHS_NM)
