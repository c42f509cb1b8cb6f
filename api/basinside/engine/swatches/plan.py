"""The swatches to paint, with what each should show and what is known once it is read."""

from collections.abc import Sequence

from ...contract.products import Product
from ...contract.swatches import SwatchToPaint
from .candidates import Candidate, candidates_of
from .fit import Fit
from .say import plan_words, shown_as
from .teach import Chosen, chosen, expected_of, lessons_of, mean_information


def planned(
    products: Sequence[Product],
    wanted: Sequence[str],
    levels: Sequence[float],
    count: int,
    fit: Fit,
    most: int,
) -> tuple[list[SwatchToPaint], float]:
    """Return up to `count` swatches, and how far off predictions are expected to be now.

    `most` is how many are weighed against each other.
    """
    by_id = {product.id: product for product in products}
    lessons = lessons_of(candidates_of(products, wanted, levels, most), fit.unknowns, fit.row)
    information = mean_information(lessons, len(fit.row))
    return (
        [_told(pick, by_id, fit) for pick in chosen(lessons, fit.covariance, count)],
        expected_of(fit.covariance, information),
    )


def _told(pick: Chosen, by_id: dict[str, Product], fit: Fit) -> SwatchToPaint:
    candidate: Candidate = pick.lesson.candidate
    painted, unknowns = candidate.painted, fit.unknowns
    development = painted.at(unknowns.amounts(painted, fit.row), unknowns.rate(painted, fit.row))
    return SwatchToPaint(
        product=candidate.product,
        level=candidate.level,
        minutes=candidate.mix.minutes,
        strength=candidate.strength,
        hair=candidate.hair,
        mix=candidate.mix,
        predicted=shown_as(pick.lesson.shown, development, painted.head, painted.minute),
        expected_delta_e=pick.expected,
        words=plan_words(candidate, by_id[candidate.product]),
    )
