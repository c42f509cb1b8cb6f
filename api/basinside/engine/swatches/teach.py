"""Which swatch would teach most: the one after which predictions are least unsure, then the next.

What a linear fit would still not know does not depend on what a swatch will show. So each choice
takes the swatch that lowers the mean variance of all candidates' colours most, in CIEDE2000. That
is criterion V of optimal design (Atkinson, Donev & Tobias, "Optimum Experimental Designs, with
SAS" (2007), chapter 10). The choice is greedy, one swatch after the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sqrt

from ..colour.difference import residual_from, slopes_at
from ..colour.lab import LabTuple
from ..colour.spectrum import dot
from .candidates import Candidate
from .fit import doubt_root, slopes_of
from .matrices import Rows, forward, inverse, root_of
from .unknowns import Unknowns

# The mean length of a normal vector with the same deviation on three axes.
MEAN_LENGTH = sqrt(8.0 / pi)


@dataclass(frozen=True)
class Lesson:
    """A candidate with what it would show, its slopes in CIEDE2000 and in its own deviations."""

    candidate: Candidate
    shown: LabTuple
    places: tuple[int, ...]
    slopes: Rows  # three rows, CIEDE2000
    in_deviations: Rows


@dataclass(frozen=True)
class Chosen:
    """A lesson, and how far off predictions are expected to be once it is learnt."""

    lesson: Lesson
    expected: float


def lessons_of(
    candidates: Sequence[Candidate], unknowns: Unknowns, row: Sequence[float]
) -> list[Lesson]:
    """Return what each candidate could teach, around what is believed now."""
    lessons = []
    for candidate in candidates:
        painted = candidate.painted
        shown, places, slopes = slopes_of(unknowns, painted, row)
        by_lab = slopes_at(residual_from(shown), shown)
        by_hair_lab = painted.by_hair(unknowns.amounts(painted, row), unknowns.rate(painted, row))
        by_hair = [[dot(axis, slope) for slope in by_hair_lab] for axis in by_lab]
        root = doubt_root(by_lab, by_hair, painted.covariance, painted.sd)
        columns = [[dot(axis, slope) for axis in by_lab] for slope in slopes]
        scaled = [forward(root, column) for column in columns]
        lessons.append(
            Lesson(
                candidate,
                shown,
                tuple(places),
                [[column[axis] for column in columns] for axis in range(3)],
                [[column[axis] for column in scaled] for axis in range(3)],
            )
        )
    return lessons


def mean_information(lessons: Sequence[Lesson], size: int) -> Rows:
    """Return the matrix whose product with a covariance has the mean variance as its trace."""
    matrix = [[0.0] * size for _ in range(size)]
    for lesson in lessons:
        for axis in lesson.slopes:
            for i, p in zip(lesson.places, axis, strict=True):
                line = matrix[i]
                for j, q in zip(lesson.places, axis, strict=True):
                    line[j] += p * q
    scale = 1.0 / (3.0 * max(1, len(lessons)))
    return [[scale * value for value in line] for line in matrix]


def expected_of(covariance: Rows, information: Rows) -> float:
    """Return how far off predictions are expected to be, CIEDE2000."""
    variance = sum(dot(p, q) for p, q in zip(covariance, information, strict=True))
    return MEAN_LENGTH * sqrt(max(0.0, variance))


def taught(lesson: Lesson, covariance: Rows) -> Rows:
    """Return the covariance once this swatch is read: Σ − Σ·Jᵀ·(1 + J·Σ·Jᵀ)⁻¹·J·Σ."""
    moves = [_across(covariance, lesson.places, axis) for axis in lesson.in_deviations]
    root = root_of(_one_more(moves, lesson))
    size = len(covariance)
    columns = [forward(root, [move[i] for move in moves]) for i in range(size)]
    return [
        [value - dot(p, q) for value, q in zip(line, columns, strict=True)]
        for line, p in zip(covariance, columns, strict=True)
    ]


def chosen(lessons: Sequence[Lesson], covariance: Rows, count: int) -> list[Chosen]:
    """Return the swatches to paint, the one that teaches most first. One may come twice."""
    information = mean_information(lessons, len(covariance))
    found: list[Chosen] = []
    for _ in range(count if lessons else 0):
        halfway = [_multiplied(line, information) for line in covariance]
        worth = [_multiplied(line, covariance) for line in halfway]
        gains = [_gain(lesson, covariance, worth) for lesson in lessons]
        # to 9 places, so that two Pythons choose alike
        best = max(range(len(lessons)), key=lambda i: (round(gains[i], 9), -i))
        covariance = taught(lessons[best], covariance)
        found.append(Chosen(lessons[best], expected_of(covariance, information)))
    return found


def _gain(lesson: Lesson, covariance: Rows, worth: Rows) -> float:
    """Return by how much a lesson lowers the mean variance."""
    inside = _within(covariance, lesson)
    left = inverse([[v + (i == j) for j, v in enumerate(line)] for i, line in enumerate(inside)])
    there = _within(worth, lesson)
    return sum(dot(p, q) for p, q in zip(left, there, strict=True))


def _within(matrix: Rows, lesson: Lesson) -> Rows:
    """Return J·M·Jᵀ, three by three."""
    places = lesson.places
    block = [[matrix[i][j] for j in places] for i in places]
    half = [[dot(line, axis) for line in block] for axis in lesson.in_deviations]
    return [[dot(p, axis) for axis in lesson.in_deviations] for p in half]


def _across(matrix: Rows, places: Sequence[int], axis: Sequence[float]) -> list[float]:
    return [dot([line[j] for j in places], axis) for line in matrix]


def _one_more(moves: Rows, lesson: Lesson) -> Rows:
    return [
        [
            dot([move[i] for i in lesson.places], axis) + (a == b)
            for b, axis in enumerate(lesson.in_deviations)
        ]
        for a, move in enumerate(moves)
    ]


def _multiplied(line: Sequence[float], symmetric: Rows) -> list[float]:
    return [dot(line, column) for column in symmetric]
