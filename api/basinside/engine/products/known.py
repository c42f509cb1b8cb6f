"""How unsure swatches have left a product: its dyes and its line's speed together."""

from ...contract.products import Known
from ..hair.unsure import lower_root
from .dyes import DYES

Rows = list[list[float]]


def known_deviations(known: Known) -> list[tuple[int, float]]:
    """Return (place, deviation) of all that is unsure: dyes by their place, the rate last."""
    sds = [getattr(known.dyes_sd, dye.name) for dye in DYES] + [known.rate_sd]
    return [(place, sd) for place, sd in enumerate(sds) if sd > 0]


def known_root(known: Known) -> Rows:
    """Return a lower-triangular root of the covariance of what `known_deviations` lists."""
    root = lower_root(_correlated(known))
    return [
        [sd * value for value in row]
        for (_, sd), row in zip(known_deviations(known), root, strict=True)
    ]


def known_contradicts_itself(known: Known) -> bool:
    """Return whether nothing could be unsure as stated: too many correlations, or impossible."""
    count = len(known_deviations(known))
    if not known.correlations:
        return False
    if len(known.correlations) != count * (count - 1) // 2:
        return True
    matrix = _correlated(known)
    root = lower_root(matrix)
    return any(
        abs(sum(p * q for p, q in zip(root[i], root[j], strict=True)) - matrix[i][j]) > 0.01
        for i in range(count)
        for j in range(i + 1)
    )


def _correlated(known: Known) -> Rows:
    count = len(known_deviations(known))
    given = iter(known.correlations or ())
    matrix = [[float(i == j) for j in range(count)] for i in range(count)]
    for row in range(count):
        for column in range(row):
            matrix[row][column] = matrix[column][row] = next(given, 0.0)
    return matrix
