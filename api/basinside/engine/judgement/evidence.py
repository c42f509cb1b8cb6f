"""What a reading says of a head: a measured colour, or a word that compares with the strip.

How large a difference a word needs is an assumption with no published source.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import erfc, exp, hypot, pi, sqrt

import msgspec

from ...contract.judgements import Reading, ReadingWord
from ..colour.difference import residual_from
from ..colour.lab import LabTuple
from ..colour.outcome import moments
from ..hair.head import Head, Heads
from ..hair.unsure import lower_root
from ..timing.development import Development
from ..timing.doubt import reading_sd, wet_doubt
from .belief import Belief, Evidence, slope_of

# CIEDE2000: the least difference a word is said for, how far a judging eye is off, and how
# near colours are of which "as shown" is said.
WORD_FROM = 2.0
WORD_SD = 1.5
AS_SHOWN_SD = 1.5

_Axis = Callable[[LabTuple], float]


def look_of(development: Development, head: Head, reading: Reading) -> LabTuple:
    """Return the colour a head shows where and when a reading was taken."""
    if reading.where == "dried":
        return development.if_rinsed(head, reading.minute)
    looks = development.looks(head, reading.minute)
    return looks.on_head if reading.where == "on_head" else looks.wiped


def towards(word: ReadingWord, shown: LabTuple) -> _Axis:
    """Return how far a colour lies from the shown one in a word's direction, CIEDE2000.

    Lighter and darker go up and down L*. Other words have a direction in the plane of hue and
    chroma: pink +a*, yellow +b*, green −a*, violet at hue 300°, grey towards neutral.
    """
    residual = residual_from(shown)
    if word == "greyer":
        # as the difference of chroma: at neutral nothing is greyer
        _, u0, v0 = residual((shown[0], 0.0, 0.0))
        room = sqrt(u0 * u0 + v0 * v0)

        def greyer(lab: LabTuple) -> float:
            _, u, v = residual(lab)
            return room - sqrt((u - u0) ** 2 + (v - v0) ** 2)

        return greyer
    l, a, b = _DIRECTIONS[word]

    def along(lab: LabTuple) -> float:
        d_l, u, v = residual(lab)
        return l * d_l + a * u + b * v

    return along


_DIRECTIONS: dict[str, LabTuple] = {  # ΔL, Δa, Δb
    "pinker": (0.0, 1.0, 0.0),
    "yellower": (0.0, 0.0, 1.0),
    "greener": (0.0, -1.0, 0.0),
    "more_violet": (0.0, 0.5, -sqrt(0.75)),
    "darker": (-1.0, 0.0, 0.0),
    "lighter": (1.0, 0.0, 0.0),
}


@dataclass(frozen=True)
class Sighting:
    """A reading with the colour the strip showed for it, and how far off that may be."""

    reading: Reading
    shown: LabTuple
    doubt: float = 0.0  # of the model, CIEDE2000 on each axis

    def _sd(self, own: float) -> float:
        """Return how far a reading may lie from what the true head would be shown as."""
        return hypot(own, self.doubt)

    def evidence(self, development: Development, belief: Belief) -> Evidence | None:
        """Return what the reading says, to someone who so far believed `belief`.

        None for a word that says nothing of the head: patchy is uneven product.
        """
        reading, shown = self.reading, self.shown
        if reading.lab is not None:
            return _near(development, reading, reading.lab, self._sd(reading_sd(reading)))
        if reading.words in (None, "patchy"):
            return None
        if reading.words == "as_shown":
            residual, as_shown_sd = residual_from(shown), self._sd(AS_SHOWN_SD)
            return lambda head: [
                r / as_shown_sd for r in residual(look_of(development, head, reading))
            ]
        along = towards(reading.words, shown)
        return _beyond(development, reading, along, belief, self._sd(WORD_SD))

    def chance(self, development: Development, possible: Sequence[Head]) -> float:
        """Return the chance of a reading at least this far off, over these heads.

        Over the normal distribution of what ten unscented heads show, and the reading's error.
        """
        reading, shown = self.reading, self.shown
        labs = [look_of(development, head, reading) for head in possible]
        if reading.lab is not None:
            return _tail(reading.lab, labs, self._sd(reading_sd(reading)))
        if reading.words in (None, "patchy"):
            return 1.0
        if reading.words == "as_shown":
            residual = residual_from(shown)
            return _tail((0.0, 0.0, 0.0), [residual(lab) for lab in labs], self._sd(AS_SHOWN_SD))
        along = towards(reading.words, shown)
        far = [along(lab) for lab in labs]
        mean = sum(far) / len(far)
        variance = sum((d - mean) ** 2 for d in far) / len(far)
        return _normal_below((mean - WORD_FROM) / sqrt(self._sd(WORD_SD) ** 2 + variance))


def sighting_of(development: Development, heads: Heads, reading: Reading) -> Sighting:
    """Return a reading with what the strip of the likeliest head shows for it."""
    shown = look_of(development, heads.centre, reading)
    if reading.where == "dried":
        return Sighting(reading, shown, development.dry_doubt(heads, reading.minute))
    before = look_of(development, heads.centre, msgspec.structs.replace(reading, minute=0))
    return Sighting(reading, shown, wet_doubt(before, shown, heads.seen))


def _near(development: Development, reading: Reading, lab: LabTuple, sd: float) -> Evidence:
    def evidence(head: Head) -> list[float]:
        seen = look_of(development, head, reading)
        return [(s - r) / sd for s, r in zip(seen, lab, strict=True)]

    return evidence


def _beyond(
    development: Development, reading: Reading, along: _Axis, belief: Belief, word_sd: float
) -> Evidence | None:
    """Return "further along than a word needs" as a reading of mean and spread on that axis.

    The half-space likelihood Φ((d − from) / sd) leaves a known mean and variance on the axis. The
    reading is the one that would leave the same. Moments of a probit-truncated normal: Minka,
    "Expectation Propagation for Approximate Bayesian Inference", UAI 2001, section 3.
    """

    def distance(head: Head) -> float:
        return along(look_of(development, head, reading))

    mean, slopes = slope_of(distance, belief)
    columns = zip(*belief.root, strict=True)
    variance = sum(
        sum(s * r for s, r in zip(slopes, column, strict=True)) ** 2 for column in columns
    )
    if variance < 1e-9:
        return None
    scale = sqrt(word_sd**2 + variance)
    x = (mean - WORD_FROM) / scale
    hazard = _hazard(x)
    left_mean = mean + variance * hazard / scale
    left_variance = variance * (1 - variance * hazard * (x + hazard) / scale**2)
    precision = 1 / left_variance - 1 / variance
    if precision < 1e-9:
        return None
    said = (left_mean / left_variance - mean / variance) / precision
    sd = precision**-0.5
    return lambda head: [(distance(head) - said) / sd]


def _tail(point: LabTuple, vectors: Sequence[LabTuple], sd: float) -> float:
    """Return the share of a normal distribution, widened by `sd`, that lies further out."""
    mean, covariance = moments(vectors)
    widened = [
        [c + sd * sd * (i == j) for j, c in enumerate(row)] for i, row in enumerate(covariance)
    ]
    root = lower_root(widened)
    square = 0.0
    solved: list[float] = []
    for row, (p, m) in zip(root, zip(point, mean, strict=True), strict=True):
        value = (p - m - sum(r * s for r, s in zip(row, solved, strict=False))) / row[len(solved)]
        solved.append(value)
        square += value * value
    # survival function of chi square with three degrees of freedom
    return erfc(sqrt(square / 2)) + sqrt(2 * square / pi) * exp(-square / 2)


def _normal_below(x: float) -> float:
    return 0.5 * erfc(-x / sqrt(2))


def _hazard(x: float) -> float:
    """Return φ(x) / Φ(x); far below zero by its asymptote, where both vanish."""
    if x < -25:
        return -x - 1 / x
    return exp(-x * x / 2) / sqrt(2 * pi) / _normal_below(x)
