"""A mix as it is answered: its colour, how sure it is, why it is there, and other hair under it."""

from collections.abc import Sequence

from msgspec import UNSET

from ...contract.colours import Colour
from ...contract.formulations import Formula, FormulationRequest, OtherHairResult
from ..colour.difference import delta_e_2000
from ..colour.likely import likely_colour
from ..hair.head import Heads
from ..timing.strip import words_if_rinsed
from ..timing.window import landing_on, window_of
from .explain import choose_when, reasons, stronger_than
from .first import dry_hair
from .score import Standing


def formula_of(
    standing: Standing, among: Sequence[Standing], request: FormulationRequest
) -> Formula:
    """Return a mix as it is answered, told apart from the others that are shown."""
    question = standing.question
    minute = standing.minute
    here = standing.here
    heads = question.heads[0][1]
    predicted = standing.development.if_rinsed(heads.centre, minute)
    miss = standing.delta_e(minute)
    return Formula(
        mix=standing.line_up.mix_of(standing.portions, minute),
        class_=standing.line_up.product_class,
        predicted=_dried(standing, heads),
        delta_e=miss,
        expected_delta_e=here.expected,
        chance=here.chance,
        window=window_of([standing.landing(t) for t in standing.minutes]),
        choose_when=choose_when(standing, among),
        reasons=reasons(standing, dry_hair(heads.centre), predicted, miss, among),
        cost=UNSET if standing.cost is None else round(standing.cost, 4),
        also=_on_other_hair(standing, request) or UNSET,
        stronger=stronger_than(standing) or UNSET,
        coverage=UNSET if standing.coverage is None else standing.coverage,
    )


def _dried(standing: Standing, heads: Heads) -> Colour:
    minute = standing.minute
    lab = standing.development.if_rinsed(heads.centre, minute)
    return likely_colour(
        lab,
        [standing.development.if_rinsed(head, minute) for head in heads.possible],
        words_if_rinsed(standing.development, heads.centre, lab, minute),
        standing.development.dry_doubt(heads, minute),
    )


def _on_other_hair(standing: Standing, request: FormulationRequest) -> list[OtherHairResult]:
    question, minute = standing.question, standing.minute
    results = []
    for other, (share, heads) in zip(request.hair.also, question.heads[1:], strict=True):
        at = landing_on(heads, standing.development, minute, question.residual, question.tolerance)
        results.append(
            OtherHairResult(
                name=other.name,
                share=share,
                predicted=_dried(standing, heads),
                delta_e=delta_e_2000(
                    question.wish, standing.development.if_rinsed(heads.centre, minute)
                ),
                expected_delta_e=at.expected,
                chance=at.chance,
            )
        )
    return results
