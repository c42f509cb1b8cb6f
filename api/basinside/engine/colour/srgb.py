"""A Lab as the screen shows it: sRGB (IEC 61966-2-1), brought into gamut by CSS Color 4.

The 10 degree Lab is shown as if it were 2 degree D65: one Lab, one patch. Two observers side
by side would differ by more than 1 ΔE00 and make a perfect match look wrong.
"""

from math import cbrt, hypot

from .lab import EPSILON, KAPPA, LabTuple

Rgb = tuple[float, float, float]
_Rows = tuple[Rgb, Rgb, Rgb]

# D65 from its chromaticity (0.3127, 0.3290), as sRGB defines it.
_WHITE = (0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290)

# CSS Color 4, "Sample code for color conversions" (rational forms of the sRGB primaries).
_RGB_FROM_XYZ: _Rows = (
    (12831 / 3959, -329 / 214, -1974 / 3959),
    (-851781 / 878810, 1648619 / 878810, 36519 / 878810),
    (705 / 12673, -2585 / 12673, 705 / 667),
)
# Ottosson's OKLab by way of linear sRGB (values as CSS Color 4 prints them).
_LMS_FROM_XYZ: _Rows = (
    (0.8190224379967030, 0.3619062600528904, -0.1288737815209879),
    (0.0329836539323885, 0.9292868615863434, 0.0361446663506424),
    (0.0481771893596242, 0.2642395317527308, 0.6335478284694309),
)
_OKLAB_FROM_LMS: _Rows = (
    (0.2104542683093140, 0.7936177747023054, -0.0040720430116193),
    (1.9779985324311684, -2.4285922420485799, 0.4505937096174110),
    (0.0259040424655478, 0.7827717124575296, -0.8086757549230774),
)
_XYZ_FROM_LMS: _Rows = (
    (1.2268798758459243, -0.5578149944602171, 0.2813910456659647),
    (-0.0405757452148008, 1.1122868032803170, -0.0717110580655164),
    (-0.0763729366746601, -0.4214933324022432, 1.5869240198367816),
)
_LMS_FROM_OKLAB: _Rows = (
    (1.0, 0.3963377773761749, 0.2158037573099136),
    (1.0, -0.1055613458156586, -0.0638541728258133),
    (1.0, -0.0894841775298119, -1.2914855480194092),
)
_JUST_NOTICEABLE = 0.02  # CSS Color 4, 13.2: ΔE in OKLab
_IN_GAMUT = 1e-4


def _times(rows: _Rows, v: Rgb) -> Rgb:
    x, y, z = v
    a, b, c = (r[0] * x + r[1] * y + r[2] * z for r in rows)
    return a, b, c


def _xyz_of_lab(lab: LabTuple) -> Rgb:
    fy = (lab[0] + 16) / 116
    x, y, z = (
        white * (f**3 if f**3 > EPSILON else (116 * f - 16) / KAPPA)
        for white, f in zip(_WHITE, (fy + lab[1] / 500, fy, fy - lab[2] / 200), strict=True)
    )
    return x, y, z


def _gamma(linear: float) -> float:
    return 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055


def _in_gamut(rgb: Rgb) -> bool:
    return all(-_IN_GAMUT <= c <= 1 + _IN_GAMUT for c in rgb)


def _clipped(rgb: Rgb) -> Rgb:
    r, g, b = (min(1.0, max(0.0, c)) for c in rgb)
    return r, g, b


def _oklab(xyz: Rgb) -> Rgb:
    r, g, b = (cbrt(c) for c in _times(_LMS_FROM_XYZ, xyz))
    return _times(_OKLAB_FROM_LMS, (r, g, b))


_XYZ_FROM_RGB: _Rows = (
    (506752 / 1228815, 87881 / 245763, 12673 / 70218),
    (87098 / 409605, 175762 / 245763, 12673 / 175545),
    (7918 / 409605, 87881 / 737289, 1001167 / 1053270),
)


def _into_gamut(xyz: Rgb) -> Rgb:
    """Return linear sRGB of `xyz` with its OKLCh chroma reduced until it fits.

    CSS Color 4, 13.2.2 "Sample pseudocode for the binary search gamut mapping algorithm with
    local MINDE", on unclipped linear values.
    """
    lightness, a, b = _oklab(xyz)
    if lightness >= 1:
        return 1.0, 1.0, 1.0
    if lightness <= 0:
        return 0.0, 0.0, 0.0

    def at(share: float) -> tuple[Rgb, Rgb]:
        oklab = (lightness, a * share, b * share)
        l, m, s = (c**3 for c in _times(_LMS_FROM_OKLAB, oklab))
        return oklab, _times(_RGB_FROM_XYZ, _times(_XYZ_FROM_LMS, (l, m, s)))

    def distance(oklab: Rgb, rgb: Rgb) -> float:
        other = _oklab(_times(_XYZ_FROM_RGB, rgb))
        return hypot(*(p - q for p, q in zip(oklab, other, strict=True)))

    oklab, rgb = at(1.0)
    clipped = _clipped(rgb)
    if distance(oklab, clipped) < _JUST_NOTICEABLE:
        return clipped
    low, high, low_in_gamut = 0.0, 1.0, True
    chroma = hypot(a, b)
    while (high - low) * chroma > 1e-4:
        middle = (low + high) / 2
        oklab, rgb = at(middle)
        if low_in_gamut and _in_gamut(rgb):
            low = middle
            continue
        clipped = _clipped(rgb)
        gap = distance(oklab, clipped)
        if gap < _JUST_NOTICEABLE:
            if _JUST_NOTICEABLE - gap < 1e-4:
                return clipped
            low_in_gamut = False
            low = middle
        else:
            high = middle
    return clipped


def hex_of(lab: LabTuple) -> tuple[str, bool]:
    """Return `#rrggbb` of a CIELAB colour, and whether its chroma had to be reduced to show it."""
    xyz = _xyz_of_lab(lab)
    linear = _times(_RGB_FROM_XYZ, xyz)
    paled = not _in_gamut(linear)
    if paled:
        linear = _into_gamut(xyz)
    red, green, blue = (round(255 * _gamma(c)) for c in _clipped(linear))
    return f"#{red:02x}{green:02x}{blue:02x}", paled
