"""The bare fibre: absorption over scattering (K/S) of hair by level, warmth and history.

q(λ) = keratin floor + eumelanin·(λ/550)^−3.33 + warm remainder·(λ/550)^−10

The eumelanin exponent is published (Donner & Jensen, "A Spectral BSSRDF for Shading Human
Skin", EGSR 2006, after Jacques). The steep warm term, the floor and the amounts per level are
assumptions. They are fitted so that lifted levels carry the trade's undertones, and natural
levels 1–3 meet measured black and dark brown hair (J. Cosmet. Sci. 51 (2000) 293, tables
III–IV). Calibration replaces them.
"""

from math import exp, log

from ..colour.spectrum import Spectrum, power_law

EUMELANIN = power_law(-3.33)
WARM_REMAINDER = power_law(-10.0)
KERATIN_FLOOR = 0.006  # assumption
PALEST_LEVEL = 10.5

# K/S at 550 nm of (eumelanin, warm remainder), by level
_LIFTED = {
    1.0: (39.7, 251.2),
    2.0: (10.63, 85.57),
    3.0: (0.699, 45.2),
    4.0: (0.550, 21.63),
    5.0: (0.485, 9.41),
    6.0: (0.580, 3.72),
    7.0: (0.774, 1.037),
    8.0: (0.448, 0.384),
    9.0: (0.244, 0.127),
    10.0: (0.1145, 0.038),
    10.5: (0.069, 0.0140),
}
_NATURAL = {
    1.0: (200.2, 60.0),
    2.0: (54.76, 25.0),
    3.0: (22.02, 13.0),
    4.0: (12.27, 5.0),
    5.0: (7.895, 1.6),
    6.0: (4.717, 0.7),
    7.0: (2.686, 0.4),
    8.0: (1.449, 0.25),
    9.0: (0.7846, 0.15),
    10.0: (0.4104, 0.08),
}

_LogRow = tuple[float, float, float]


def _log_rows(table: dict[float, tuple[float, float]]) -> list[_LogRow]:
    return [(level, log(e), log(w)) for level, (e, w) in table.items()]


_LOG_LIFTED, _LOG_NATURAL = _log_rows(_LIFTED), _log_rows(_NATURAL)


def _amounts(rows: list[_LogRow], level: float) -> tuple[float, float]:
    """Return the amounts at a level: their logs go straight from row to row and beyond the ends.

    Beyond 10.5 and below 1 no hair is described; an uncertain head is asked about there.
    """
    upper = next((i for i in range(1, len(rows)) if level <= rows[i][0]), len(rows) - 1)
    (l0, e0, w0), (l1, e1, w1) = rows[upper - 1], rows[upper]
    share = (level - l0) / (l1 - l0)
    return exp(e0 + share * (e1 - e0)), exp(w0 + share * (w1 - w0))


def fibre_ks(level: float, warmth: float = 1.0, oxidised: float = 1.0) -> Spectrum:
    """Return K/S (36 bands) of dry, fanned, undyed hair.

    `level` is 1–10.5. `warmth` scales the warm remainder; 1 is usual for the level. `oxidised`
    is 0 for natural hair and 1 for lifted hair; natural hair that a dye begins to lift is between.
    """
    eumelanin, warm = _amounts(_LOG_LIFTED, level)
    if oxidised < 1:
        # the amounts themselves are blended: blended logs would make half-lifted hair lighter
        # than natural and lifted hair of its level alike
        natural_eumelanin, natural_warm = _amounts(_LOG_NATURAL, level)
        eumelanin += (1 - oxidised) * (natural_eumelanin - eumelanin)
        warm += (1 - oxidised) * (natural_warm - warm)
    warm *= warmth
    return [
        KERATIN_FLOOR + eumelanin * a + warm * b
        for a, b in zip(EUMELANIN, WARM_REMAINDER, strict=True)
    ]


# Unpigmented fibre, L* 91.7: what white hair is, and what a product's promise is read on.
WHITE_FIBRE_KS: Spectrum = tuple(KERATIN_FLOOR + 0.02 * a for a in EUMELANIN)
