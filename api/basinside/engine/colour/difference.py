"""CIEDE2000 (ISO/CIE 11664-6), as a number and as a smooth vector of that length.

Reference: Sharma, Wu & Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes,
Supplementary Test Data, and Mathematical Observations", Color Res. Appl. 30 (2005) 21–30.
"""

from collections.abc import Callable
from math import atan2, cos, degrees, exp, hypot, pi, radians, sin, sqrt

from .lab import LabTuple

_25_TO_7 = 25.0**7
_PROBE = 0.02  # step of numerical derivatives, CIELAB units


def delta_e_2000(first: LabTuple, second: LabTuple) -> float:
    """Return the CIEDE2000 difference of two CIELAB colours (kL = kC = kH = 1).

    Equation numbers are those of Sharma, Wu & Dalal (2005).
    """
    l1, a1, b1 = first
    l2, a2, b2 = second
    # (2)–(7): stretch a* near neutral, then chroma and hue
    c7 = ((hypot(a1, b1) + hypot(a2, b2)) / 2) ** 7
    stretch = 1.5 - 0.5 * sqrt(c7 / (c7 + _25_TO_7))
    a1, a2 = a1 * stretch, a2 * stretch
    c1, c2 = hypot(a1, b1), hypot(a2, b2)
    h1, h2 = degrees(atan2(b1, a1)) % 360, degrees(atan2(b2, a2)) % 360
    # (10), (14): hue difference and mean hue, the short way round
    if c1 * c2 == 0:
        hue_step, hue = 0.0, h1 + h2
    else:
        hue_step, hue = h2 - h1, (h1 + h2) / 2
        if hue_step > 180:
            hue_step, hue = hue_step - 360, hue - 180
        elif hue_step < -180:
            hue_step, hue = hue_step + 360, hue - 180
        hue %= 360
    # (8), (9), (11)
    d_l, d_c = l2 - l1, c2 - c1
    d_h = 2 * sqrt(c1 * c2) * sin(radians(hue_step / 2))
    # (12)–(21): weights and the blue rotation
    l_off, chroma, h = (l1 + l2) / 2 - 50, (c1 + c2) / 2, radians(hue)
    t = (
        1
        - 0.17 * cos(h - pi / 6)
        + 0.24 * cos(2 * h)
        + 0.32 * cos(3 * h + radians(6))
        - 0.20 * cos(4 * h - radians(63))
    )
    d_l /= 1 + 0.015 * l_off * l_off / sqrt(20 + l_off * l_off)
    d_c /= 1 + 0.045 * chroma
    d_h /= 1 + 0.015 * chroma * t
    rotation = _blue_rotation(hue, chroma)
    # (22)
    return sqrt(max(0.0, d_l * d_l + d_c * d_c + d_h * d_h + rotation * d_c * d_h))


def _blue_rotation(hue_degrees: float, chroma: float) -> float:
    c7 = chroma**7
    turn = radians(60 * exp(-(((hue_degrees - 275) / 25) ** 2)))
    return -sin(turn) * 2 * sqrt(c7 / (c7 + _25_TO_7))


_COS_30, _SIN_30 = cos(radians(30)), sin(radians(30))
_COS_6, _SIN_6 = cos(radians(6)), sin(radians(6))
_COS_63, _SIN_63 = cos(radians(63)), sin(radians(63))


def residual_from(target: LabTuple) -> Callable[[LabTuple], LabTuple]:
    """Return a function Lab → 3-vector whose length is CIEDE2000 from `target`.

    The vector is (ΔL'/SL, u, v). The chroma and hue differences have the rotation term folded in:
    ΔC + (RT/2)·ΔH, and ΔH·√(1 − (RT/2)²). The mean hue turns them back, so that the vector is
    Cartesian. That makes it smooth through neutral, where hue is undefined and ash and silver
    wishes live, so that linear methods and moments can use it.
    """
    l1, a_given, b1 = target
    c_given = sqrt(a_given * a_given + b1 * b1)

    def residual(lab: LabTuple) -> LabTuple:
        l2, a, b2 = lab
        c7 = (0.5 * (c_given + sqrt(a * a + b2 * b2))) ** 7
        stretch = 1.5 - 0.5 * sqrt(c7 / (c7 + _25_TO_7))
        a1, a2 = a_given * stretch, a * stretch
        c1, c2 = sqrt(a1 * a1 + b1 * b1), sqrt(a2 * a2 + b2 * b2)
        product = c1 * c2
        # the mean hue is the bisector of the two hue directions
        if product > 1e-12:
            x, y = a1 / c1 + a2 / c2, b1 / c1 + b2 / c2
        else:
            x, y = a1 + a2, b1 + b2
        length = sqrt(x * x + y * y)
        if length > 1e-12:
            c, s = x / length, y / length
        elif product > 1e-12:
            c, s = -b1 / c1, a1 / c1
        else:
            c, s = 1.0, 0.0
        # cosines of the multiples of the mean hue, without leaving the plane
        cos2, sin2 = c * c - s * s, 2 * s * c
        cos3, sin3 = c * cos2 - s * sin2, s * cos2 + c * sin2
        cos4, sin4 = cos2 * cos2 - sin2 * sin2, 2 * sin2 * cos2
        t = (
            1
            - 0.17 * (c * _COS_30 + s * _SIN_30)
            + 0.24 * cos2
            + 0.32 * (cos3 * _COS_6 - sin3 * _SIN_6)
            - 0.20 * (cos4 * _COS_63 + sin4 * _SIN_63)
        )
        l_off, chroma = 0.5 * (l1 + l2) - 50, 0.5 * (c1 + c2)
        l_off *= l_off
        d_c = (c2 - c1) / (1 + 0.045 * chroma)
        # from the sine of the hue step where it is acute: its cosine would keep half the digits
        dot, turn = a1 * a2 + b1 * b2, a1 * b2 - b1 * a2
        if dot > 0:
            d_h = turn * sqrt(2 / (product + dot))
        else:
            d_h = sqrt(max(0.0, 2 * (product - dot)))
            if turn < 0:
                d_h = -d_h
        d_h /= 1 + 0.015 * chroma * t
        if s < 0.2:  # between hues 12 and 168 degrees the rotation is about 1e-8 at most
            half = 0.5 * _blue_rotation(degrees(atan2(s, c)) % 360, chroma)
            d_c += half * d_h
            d_h *= sqrt(1 - half * half)
        d_l = (l2 - l1) / (1 + 0.015 * l_off / sqrt(20 + l_off))
        return d_l, c * d_c - s * d_h, s * d_c + c * d_h

    return residual


def slopes_at(miss: Callable[[LabTuple], LabTuple], lab: LabTuple) -> list[list[float]]:
    """Return the derivative of a difference vector by L*, a*, b*: three rows of three."""
    l, a, b = lab
    h = _PROBE
    columns = [
        [(up - down) / (2 * h) for up, down in zip(miss(more), miss(less), strict=True)]
        for more, less in (
            ((l + h, a, b), (l - h, a, b)),
            ((l, a + h, b), (l, a - h, b)),
            ((l, a, b + h), (l, a, b - h)),
        )
    ]
    return [list(row) for row in zip(*columns, strict=True)]
