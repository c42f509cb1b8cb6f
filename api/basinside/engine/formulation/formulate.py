"""What to mix: from a head, a wish and a shelf to ranked formulas."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from msgspec import UNSET

from ...contract.formulations import (
    Already,
    FormulationReply,
    FormulationRequest,
    Limits,
    Shortfall,
    WishedColour,
)
from ...contract.hair import Hair
from ...contract.products import Product, ProductClass
from ..colour.difference import delta_e_2000
from ..colour.lab import LabTuple
from ..colour.srgb import hex_of
from ..hair.head import Heads
from ..meaning import check_hair, check_wish, shelf_of
from ..refusal import Faults
from ..timing.predict import heads_of, lab_of_wish
from ..timing.washing import after_one_wash
from ..version import engine_version
from .card import formula_of
from .first import Worn, dry_hair, is_there
from .lineups import LineUp, Portions, hair_asked, line_ups, whole_parts
from .ranked import ranked
from .score import AsWeighed, Question, Standing
from .search import Found, search
from .shortfall import shortfall_of
from .shown import kept

# Of each class and strength, on all 36 bands: what there is, shared out, and no fewer than that.
_RESCORED, _RESCORED_LEAST = 120, 24
_SINGLES_RESCORED, _NATURAL_RESCORED = 12, 30
_TIMED = 12
_LIKELY = 0.10  # no mix is an answer that fewer such heads would land with


@dataclass(frozen=True)
class Answers:
    """All that can be answered: the mixes to show, what else was found, and what is missing."""

    question: Question
    shown: list[Standing]
    shortfall: Shortfall | None
    closest_delta_e: float | None

    @property
    def wished(self) -> WishedColour:
        """Return the wish as a colour to look at."""
        return WishedColour(self.question.wish, hex_of(self.question.wish)[0])


def formulate(request: FormulationRequest) -> FormulationReply:
    """Return ranked formulas and, where none is within tolerance, the shortfall.

    No formula where the hair has the wished colour as it is, or where no mix would land one head
    in ten; `limits.unlikely` asks for those too. Raises `Faulty` with every place whose meaning
    is wrong.
    """
    faults = Faults()
    shelf = check(request, faults)
    faults.refuse_if_any()

    question = _question(request, shelf)
    off = is_there(question.heads[0][1].centre, question.wish)
    if off is not None and not request.limits.unlikely:
        return _there_already(question, off)
    answers = answers_to(request, question, shelf)
    unlikely = request.limits.unlikely
    shown = [s for s in answers.shown if unlikely or s.here.chance >= _LIKELY]
    return FormulationReply(
        formulas=[formula_of(s, shown, request) for s in shown],
        shortfall=answers.shortfall,
        engine_version=engine_version(),
        wish=answers.wished,
        closest_delta_e=UNSET if answers.closest_delta_e is None else answers.closest_delta_e,
        already=UNSET if off is None else _already(off),
    )


def all_heads(hair: Hair, shelf: dict[str, Product]) -> list[tuple[float, Heads]]:
    """Return all hair that a new bowl goes on, each with its share; the hair described first."""
    main_share = 1.0 - sum(other.share for other in hair.also)
    return [
        (share, heads_of(each, shelf, new_bowl=True))
        for share, each in [
            (main_share, hair),
            *((other.share, other.hair) for other in hair.also),
        ]
    ]


def _question(request: FormulationRequest, shelf: dict[str, Product]) -> Question:
    return Question(
        heads=all_heads(request.hair, shelf),
        wish=lab_of_wish(request.wish),
        tolerance=request.wish.tolerance,
        asked=request.wish,
    )


def _there_already(question: Question, off: float) -> FormulationReply:
    return FormulationReply(
        formulas=[],
        shortfall=None,
        engine_version=engine_version(),
        wish=WishedColour(question.wish, hex_of(question.wish)[0]),
        already=_already(off),
    )


def _already(off: float) -> Already:
    return Already(
        off,
        f"It is there already, {off:.1f} ΔE from the wish. A mix would change nothing that one"
        " could see.",
    )


def answers_to(
    request: FormulationRequest, question: Question, shelf: dict[str, Product]
) -> Answers:
    """Return the mixes that would be shown whatever their chance, and the shortfall."""
    limits = request.limits
    centre = question.heads[0][1].centre

    def shortfall(reached: LabTuple, miss: float, by: ProductClass | None) -> Shortfall:
        on = [shelf[part.product].class_ for m in request.hair.already_on for part in m.parts]
        washed = heads_of(request.hair, shelf, after_one_wash).centre
        worn = Worn(washed, permanent="permanent" in on)
        return shortfall_of(question, reached, miss, by, request.products, worn)

    hair = hair_asked([heads.centre for _, heads in question.heads], request.wish)
    scored = _scored(question, line_ups(request.products, limits, hair), limits.max_products)
    if not scored:
        bare = dry_hair(centre)
        miss = delta_e_2000(question.wish, bare)
        return Answers(question, [], shortfall(bare, miss, None), None)
    worth_showing = ranked(scored, question.tolerance)
    lowest_miss, lowest = scored[0]
    near_classes = dict.fromkeys(
        s.line_up.product_class for miss, s in scored if miss <= question.tolerance
    )
    missing = None
    if lowest_miss > question.tolerance:
        reached = lowest.development.if_rinsed(centre, lowest.minute)
        missing = shortfall(reached, lowest_miss, lowest.line_up.product_class)
    shown = kept(worth_showing, lowest, list(near_classes), limits)
    return Answers(question, shown, missing, lowest_miss)


def check(request: FormulationRequest, faults: Faults) -> dict[str, Product]:
    """Note every place whose meaning is wrong; return the products by id."""
    shelf = shelf_of(request.products, faults)
    check_hair(request.hair, "/hair", shelf, faults)
    check_wish(request.wish, "/wish", faults)
    check_limits(request.limits, request.products, faults)
    return shelf


def check_limits(limits: Limits, products: Sequence[Product], faults: Faults) -> None:
    """Note which limits no mix of these products could keep to."""
    if whole_parts(limits) is None:
        faults.add(
            "/limits/step_g",
            f"{limits.total_g:g} g is not 1 to 60 whole steps of {limits.step_g:g} g."
            " Choose a step that divides the total.",
        )
    lines = {p.line for p in products}
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
    by_kind: dict[tuple[str, float], list[Found]] = {}
    for mix in sorted(found, key=lambda f: f.miss):
        strength = mix.line_up.peroxide_percent if mix.line_up.every_strength else 0.0
        by_kind.setdefault((mix.line_up.product_class, strength), []).append(mix)
    # a line alone and the same line among others it may be mixed with can find the same mix
    lowest: dict[AsWeighed, tuple[float, Standing]] = {}
    each = max(_RESCORED_LEAST, min(_RESCORED // 2, _RESCORED // max(1, len(by_kind))))
    by_parts: dict[tuple[int, Portions], Standing] = {}
    for mix in _worth_rescoring(by_kind.values(), each * len(question.heads)):
        parts = (id(mix.line_up), mix.portions)
        if parts not in by_parts:
            by_parts[parts] = Standing(mix.line_up, mix.portions, question)
        standing = by_parts[parts]
        key = standing.as_weighed
        if key in lowest:
            standing = by_parts[parts] = lowest[key][1]
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


def _worth_rescoring(kinds: Iterable[list[Found]], count: int) -> Iterator[Found]:
    """Yield the closest of each, its closest single products, and what covers white hair."""
    for mixes in kinds:
        yield from mixes[:count]
        singles = [mix for mix in mixes if len(mix.portions) == 1]
        yield from singles[:_SINGLES_RESCORED]
        if mixes[0].line_up.covers_white:  # natural shades do
            natural = [mix for mix in mixes if mix.line_up.half_natural(mix.portions)]
            yield from natural[:_NATURAL_RESCORED]


def _by_miss(row: tuple[float, Standing]) -> tuple[object, ...]:
    miss, s = row
    ids = tuple(s.line_up.members[m].id for m, _ in s.portions)
    return (
        round(miss, 6),
        s.peroxide_percent,
        len(s.portions),
        s.minute,
        s.line_up.product_class,
        ids,
        s.portions,
    )
