"""What to mix: from a head, a wish and a shelf to ranked formulas."""

from collections.abc import Sequence

from msgspec import UNSET

from ...contract.colours import Colour
from ...contract.formulations import (
    Formula,
    FormulationReply,
    FormulationRequest,
    OtherHairResult,
    WishedColour,
)
from ...contract.products import Product
from ..colour.difference import delta_e_2000
from ..colour.likely import likely_colour
from ..colour.srgb import hex_of
from ..meaning import check_hair, check_wish, shelf_of
from ..refusal import Faults
from ..timing.predict import heads_of, lab_of_wish
from ..timing.strip import Heads, words_if_rinsed
from ..timing.window import landing_on, window_of
from ..version import engine_version
from .explain import choose_when, reasons
from .lineups import LineUp, line_ups, whole_parts
from .score import Question, Standing, different, kept
from .search import Found, search
from .shortfall import dry_hair, shortfall_of

_RESCORED = 60  # of each class, on all 36 bands
_RANKED = 50
_SINGLES, _PAIRS = 10, 10
_EACH_CLASS = 4
_TIMED = 12
_ALIKE = 1 / 6


def formulate(request: FormulationRequest) -> FormulationReply:
    """Return ranked formulas and, where none is within tolerance, the shortfall.

    Raises `Refused` with every place whose meaning is wrong.
    """
    faults = Faults()
    shelf = check(request, faults)
    faults.refuse_if_any()

    others = request.hair.also
    main_share = 1.0 - sum(other.share for other in others)
    question = Question(
        heads=[
            (main_share, heads_of(request.hair, shelf)),
            *((other.share, heads_of(other.hair, shelf)) for other in others),
        ],
        wish=lab_of_wish(request.wish),
        tolerance=request.wish.tolerance,
    )
    wished = WishedColour(question.wish, hex_of(question.wish)[0])
    lines = line_ups(request.products, request.limits)
    scored = _scored(question, lines, request.limits.max_products)
    if not scored:
        bare = dry_hair(question.heads[0][1].centre)
        miss = delta_e_2000(question.wish, bare)
        whole_way = shortfall_of(question, bare, miss, None)
        return FormulationReply([], whole_way, engine_version(), wished)

    ranked = _ranked(scored, question.tolerance)
    lowest_miss, lowest = scored[0]
    near_classes = dict.fromkeys(
        s.line_up.product_class for miss, s in scored if miss <= question.tolerance
    )
    standings = kept(ranked, lowest, list(near_classes), request.limits)
    formulas = [_formula(s, standings, ranked, request) for s in standings]
    shortfall = None
    if lowest_miss > question.tolerance:
        centre = question.heads[0][1].centre
        reached = lowest.development.if_rinsed(centre, lowest.minute)
        shortfall = shortfall_of(question, reached, lowest_miss, lowest.line_up.product_class)
    return FormulationReply(formulas, shortfall, engine_version(), wished)


def check(request: FormulationRequest, faults: Faults) -> dict[str, Product]:
    """Note every place whose meaning is wrong; return the products by id."""
    shelf = shelf_of(request.products, faults)
    check_hair(request.hair, "/hair", shelf, faults)
    check_wish(request.wish, "/wish", faults)
    _check_limits(request, faults)
    return shelf


def _check_limits(request: FormulationRequest, faults: Faults) -> None:
    limits = request.limits
    if whole_parts(limits) is None:
        faults.add(
            "/limits/step_g",
            f"{limits.total_g:g} g is not 1 to 60 whole steps of {limits.step_g:g} g."
            " Choose a step that divides the total.",
        )
    lines = {p.line for p in request.products}
    for i, line in enumerate(limits.lines or ()):
        if line not in lines:
            faults.add(f"/limits/lines/{i}", f"No product sent is of line “{line}”.")


def _scored(
    question: Question, lines: Sequence[LineUp], max_products: int
) -> list[tuple[float, Standing]]:
    """Return the mixes found with their exact lowest ΔE and its minute, closest first."""
    found: list[Found] = []
    for _, heads in question.heads:
        found += search(lines, heads.centre, question.residual, max_products, question.tolerance)
    by_class: dict[str, list[Found]] = {}
    for mix in sorted(found, key=lambda f: f.miss):
        by_class.setdefault(mix.line_up.product_class, []).append(mix)
    # a line alone and the same line among others it may be mixed with can find the same mix
    lowest: dict[frozenset[tuple[str, int]], tuple[float, Standing]] = {}
    for mix in (
        mix for mixes in by_class.values() for mix in mixes[: _RESCORED * len(question.heads)]
    ):
        standing = Standing(mix.line_up, mix.portions, question)
        key = frozenset(standing.dyed_parts.items())
        if key in lowest:
            standing = lowest[key][1]
        if mix.minute not in standing.minutes:
            continue
        miss = standing.delta_e(mix.minute)
        if key not in lowest or miss < lowest[key][0]:
            standing.minute = mix.minute
            lowest[key] = (miss, standing)
    scored = sorted(lowest.values(), key=_by_miss)
    # the closest few at every whole minute, on all bands: the search's minute may be one off
    for i, (_, standing) in enumerate(scored[:_TIMED]):
        miss, standing.minute = min((standing.delta_e(t), t) for t in standing.minutes)
        scored[i] = (miss, standing)
    return sorted(scored, key=_by_miss)


def _by_miss(row: tuple[float, Standing]) -> tuple[object, ...]:
    miss, s = row
    ids = tuple(s.line_up.members[m].id for m, _ in s.portions)
    return round(miss, 6), len(s.portions), s.minute, s.line_up.product_class, ids, s.portions


def _ranked(scored: Sequence[tuple[float, Standing]], tolerance: float) -> list[Standing]:
    """Return the mixes worth ranking under uncertainty, each at its own best minute.

    The closest that differ from one another; among them some of every class that comes within
    tolerance, and of single products and pairs, since the simplest within 0.3 may lead.
    """
    closest = [s for _, s in scored]
    near = {s.line_up.product_class for miss, s in scored if miss <= tolerance}
    wanted = [
        *different((s for s in closest if len(s.portions) == 1), _SINGLES, _ALIKE),
        *different((s for s in closest if len(s.portions) == 2), _PAIRS, _ALIKE),
    ]
    for name in sorted(near):
        wanted += different(
            (s for s in closest if s.line_up.product_class == name), _EACH_CLASS, _ALIKE
        )
    wanted += different(closest, _RANKED, _ALIKE)
    unique = list({id(s): s for s in wanted}.values())[:_RANKED]
    ranked = []
    for s in unique:
        fresh = Standing(s.line_up, s.portions, s.question)
        fresh.settle()
        ranked.append(fresh)
    return ranked


def _formula(
    standing: Standing,
    among: Sequence[Standing],
    considered: Sequence[Standing],
    request: FormulationRequest,
) -> Formula:
    question = standing.question
    minute = standing.minute
    here = standing.here
    heads = question.heads[0][1]
    predicted = standing.development.if_rinsed(heads.centre, minute)
    miss = standing.delta_e(minute)
    return Formula(
        mix=standing.line_up.mix_of(standing.portions, minute),
        predicted=_dried(standing, heads),
        delta_e=miss,
        expected_delta_e=here.expected,
        chance=here.chance,
        window=window_of([standing.landing(t) for t in standing.minutes]),
        choose_when=choose_when(standing, among, considered),
        reasons=reasons(standing, dry_hair(heads.centre), predicted, miss, considered),
        cost=UNSET if standing.cost is None else round(standing.cost, 4),
        also=_on_other_hair(standing, request) or UNSET,
    )


def _dried(standing: Standing, heads: Heads) -> Colour:
    minute = standing.minute
    lab = standing.development.if_rinsed(heads.centre, minute)
    return likely_colour(
        lab,
        [standing.development.if_rinsed(head, minute) for head in heads.possible],
        words_if_rinsed(standing.development, heads.centre, lab, minute),
    )


def _on_other_hair(standing: Standing, request: FormulationRequest) -> list[OtherHairResult]:
    question, minute = standing.question, standing.minute
    results = []
    for other, (share, heads) in zip(request.hair.also, question.heads[1:], strict=True):
        at = landing_on(
            heads.possible, standing.development, minute, question.residual, question.tolerance
        )
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
