"""From K/S to what is seen: wet or dry, bunched or fanned, bare or through the product.

Opaque-layer form: R∞ = 1 + q − √(q² + 2q), Kubelka & Munk (1931), as in Hunt, "Measuring
Colour". Wetting lowers scattering, since the fibre then meets water rather than air (Lekner &
Dorf, "Why some things are darker when wet", Appl. Opt. 27 (1988) 1278), and adds the water
film's internal reflection (Saunderson, J. Opt. Soc. Am. 32 (1942) 727).
"""

from collections.abc import Sequence
from math import cbrt, sqrt, tanh

from ..colour.lab import (
    WEIGHT_X,
    WEIGHT_Y,
    WEIGHT_Z,
    WEIGHTS,
    LabTuple,
    Weights,
    f_slope,
    lab_of,
    lab_of_ratios,
)
from ..colour.spectrum import Spectrum, dot

Strands = Sequence[tuple[float, Spectrum]]  # (share of the hair, K/S)
Takes = Sequence[float]  # of a unit of dye, one for each of the strands

WET_AT_BASIN = 0.9
TOWEL_DAMP = 0.6
USUAL_BUNCHED = 0.3

_WET_SCATTERING = 0.325  # (1−g) of a 1.55 cylinder in water over that in air, from Mie scattering
DRY_SURFACE = 0.023  # effective surface reflection, from measured black hair of L* 18
_FILM_SURFACE = 0.0204  # air–water Fresnel reflection, normal incidence
_FILM_INTERNAL = 0.4746  # diffuse light turned back at water–air
_BUNCHED_SCATTERING_LOSS = 0.25  # assumption
_BUNCHED_GAP_LOSS = 0.06  # assumption: shadow between strands


def kubelka_munk(ks: float) -> float:
    """Return the reflectance of an opaque layer of this K/S (≥ 0)."""
    return 1.0 + ks - sqrt(ks * ks + 2.0 * ks)


def dry_reflectance(ks: Spectrum) -> list[float]:
    """Return the reflectance of dry, fanned hair of this K/S."""
    k = 1.0 - DRY_SURFACE
    return [1.0 + k * (q - sqrt(q * (q + 2.0))) for q in ks]


def wet_reflectance(ks: Spectrum, wet: float, bunched: float) -> list[float]:
    """Return the reflectance of hair of this K/S.

    `wet` 0 dry, 0.6 towel-damp, 0.9 at the basin; `bunched` 0 fanned out, 1 one rope.
    """
    scattering = (1 - (1 - _WET_SCATTERING) * wet) * (1 - _BUNCHED_SCATTERING_LOSS * bunched)
    lost = 1 - _BUNCHED_GAP_LOSS * bunched
    film = wet * wet
    # r is the body reflectance; dry and filmed surfaces share it by the part that is filmed
    dry_floor, dry_part = (1 - film) * DRY_SURFACE * lost, (1 - film) * (1 - DRY_SURFACE) * lost
    film_floor, film_part = film * _FILM_SURFACE * lost, film * (1 - _FILM_SURFACE) * lost
    floor, film_part = dry_floor + film_floor, film_part * (1 - _FILM_INTERNAL)
    body = [kubelka_munk(q / scattering) for q in ks]
    return [floor + dry_part * r + film_part * r / (1 - _FILM_INTERNAL * r) for r in body]


def layer_terms(ks: Spectrum, power: float) -> list[tuple[float, float]]:
    """Return (a − c, a + c) per band of a scattering layer, for `through_layer`.

    `power` is the layer's scattering times thickness, S·X > 0. Hyperbolic form: a = 1 + K/S,
    b = √(a² − 1), c = b·coth(b·S·X) (Kubelka, J. Opt. Soc. Am. 38 (1948) 448).
    """
    terms = []
    for q in ks:
        a = 1.0 + q
        b = sqrt(q * (q + 2.0))
        c = b / tanh(b * power) if b * power > 1e-9 else 1.0 / power
        terms.append((a - c, a + c))
    return terms


def through_layer(ground: Spectrum, terms: Sequence[tuple[float, float]]) -> list[float]:
    """Return the reflectance of a layer lying on a ground: (1 − Rg(a − c)) / (a + c − Rg)."""
    return [
        (1.0 - rg * minus) / (plus - rg) for rg, (minus, plus) in zip(ground, terms, strict=True)
    ]


def mixed(reflectances: Sequence[tuple[float, Spectrum]]) -> Spectrum:
    """Return yarns of several reflectances side by side, each with its share; shares add up to 1.

    White hair among pigmented hair is seen as strands: reflectances mix, K/S does not.
    """
    if len(reflectances) == 1:
        return reflectances[0][1]
    (share_1, r_1), (share_2, r_2), *more = reflectances
    total = [share_1 * p + share_2 * q for p, q in zip(r_1, r_2, strict=True)]
    for share, r in more:
        total = [t + share * q for t, q in zip(total, r, strict=True)]
    return total


def with_dye(strands: Strands, dye_ks: Spectrum, takes: Takes | None = None) -> Strands:
    """Return strands with this K/S added, as many times to each as it takes: once when absent."""
    return [
        (share, [q + times * d for q, d in zip(ks, dye_ks, strict=True)])
        for (share, ks), times in zip(strands, takes or (1.0,) * len(strands), strict=True)
    ]


def dry_lab(ks: Spectrum) -> LabTuple:
    """Return CIELAB of dry, fanned hair of this K/S."""
    return lab_of(dry_reflectance(ks))


def dry_strands_lab(strands: Strands) -> LabTuple:
    """Return CIELAB of dry, fanned strands side by side."""
    return lab_of(mixed([(share, dry_reflectance(ks)) for share, ks in strands]))


def dry_dyed_lab(strands: Strands, dye_ks: Spectrum, takes: Takes) -> LabTuple:
    """Return CIELAB of dry, fanned strands, each with this K/S added as often as it takes.

    The same as `with_dye` and `dry_strands_lab`, in one pass: this is what ranking is made of.
    """
    k = 1.0 - DRY_SURFACE
    if len(strands) == 1:
        ((_, ks),), (times,) = strands, takes
        return _lab_of_dry(
            [
                1.0 + k * ((q := own + times * dye) - sqrt(q * (q + 2.0)))
                for own, dye in zip(ks, dye_ks, strict=True)
            ]
        )
    seen = [
        (
            share,
            [
                1.0 + k * ((q := own + times * dye) - sqrt(q * (q + 2.0)))
                for own, dye in zip(ks, dye_ks, strict=True)
            ],
        )
        for (share, ks), times in zip(strands, takes, strict=True)
    ]
    return _lab_of_dry(mixed(seen))


def _lab_of_dry(r: Spectrum) -> LabTuple:
    """Return `lab_of` of dry hair: its surface keeps every ratio on the cube-root branch."""
    fx, fy, fz = cbrt(dot(WEIGHT_X, r)), cbrt(dot(WEIGHT_Y, r)), cbrt(dot(WEIGHT_Z, r))
    return 116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)


LabGradient = tuple[list[float], list[float], list[float]]


def dry_lab_gradient(
    strands: Strands, weights: Weights = WEIGHTS, takes: Takes | None = None
) -> tuple[LabTuple, LabGradient]:
    """Return CIELAB of dry hair and its derivative by K/S added, per band.

    `strands` are (share, K/S), each adding what it takes; the gradient is three rows (L*, a*, b*)
    of as many bands.
    """
    k = 1.0 - DRY_SURFACE
    reflectance = [1.0] * len(weights[0])
    slope = [0.0] * len(weights[0])
    for (share, ks), times in zip(strands, takes or (1.0,) * len(strands), strict=True):
        for band, q in enumerate(ks):
            root = sqrt(q * (q + 2.0))
            reflectance[band] += share * k * (q - root)
            slope[band] += times * share * k * (1.0 - (q + 1.0) / root)
    x, y, z = (dot(w, reflectance) for w in weights)
    fx, fy, fz = f_slope(x), f_slope(y), f_slope(z)
    rows = zip(slope, *weights, strict=True)
    by_l, by_a, by_b = [], [], []
    for s, wx, wy, wz in rows:
        gx, gy, gz = s * wx * fx, s * wy * fy, s * wz * fz
        by_l.append(116.0 * gy)
        by_a.append(500.0 * (gx - gy))
        by_b.append(200.0 * (gy - gz))
    return lab_of_ratios(x, y, z), (by_l, by_a, by_b)
