"""What the fit says of a swatch it has not used: the error held out, and how odd the swatch is.

Leaving one out of a linear fit needs no second fit: the block form of the PRESS residual, Cook &
Weisberg, "Residuals and Influence in Regression" (1982), section 2.2.
"""

from dataclasses import dataclass
from math import sqrt

from ..colour.spectrum import dot
from ..products.nonnegative import solved_rows
from .fit import Fit, Seen
from .matrices import forward, root_of

# Squared deviations on three axes that 1 in 200 exceeds: chi square's table.
_HARDLY = 12.84
_STUDENT_AT_NOTHING = 7.0 / 4.0


@dataclass(frozen=True)
class LeftOut:
    """The error of one swatch held out, CIEDE2000, and whether it hardly fits the others.

    `moved` is how far the swatch, once used, moved what is predicted of it.
    """

    delta_e: float
    moved: float
    odd: bool


def left_out(fit: Fit, seen: Seen) -> LeftOut:
    """Return how one swatch fits what all others and the label say."""
    taught = [
        [
            dot(p, [dot([fit.covariance[i][j] for j in seen.places], q) for i in seen.places])
            for q in seen.slopes
        ]
        for p in seen.slopes
    ]
    weight = _STUDENT_AT_NOTHING * seen.weight
    # (1 − w·G)⁻¹ is (1 + w·G₋), G₋ being what the others leave unsure of it
    rest = [[float(i == j) - weight * taught[i][j] for j in range(3)] for i in range(3)]
    miss, *unsure = (
        solved_rows([[*row, value] for row, value in zip(rest, column, strict=True)])
        for column in (seen.miss, *zip(*taught, strict=True))
    )
    expected = [
        [float(i == j) + (unsure[j][i] + unsure[i][j]) / 2 for j in range(3)] for i in range(3)
    ]
    deviations = forward(root_of(expected), miss)
    off = [dot(row, miss[: len(row)]) for row in seen.root]
    by = [there - here for there, here in zip(off, seen.off, strict=True)]
    return LeftOut(
        delta_e=sqrt(dot(off, off)),
        moved=sqrt(dot(by, by)),
        odd=dot(deviations, deviations) > _HARDLY,
    )
