"""It missed: leave it, wash it once, or a second mix over what is on, the advised way first."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

import msgspec
from msgspec import UNSET

from ...contract.formulations import Formula, FormulationRequest
from ...contract.mends import MendReply, MendRequest, WayOn
from ..colour.difference import delta_e_2000, residual_from
from ..colour.lab import LabTuple
from ..colour.likely import likely_colour
from ..colour.normal import share_below
from ..colour.words import direction_of
from ..hair.head import Heads
from ..refusal import Faults
from ..timing.bowl import bowl_of
from ..timing.development import Development
from ..timing.doubt import dry_doubt
from ..timing.predict import heads_of
from ..timing.strip import dry_words, words_if_rinsed
from ..timing.washing import after_one_wash
from ..timing.window import landing
from ..version import engine_version
from .first import as_lifted, dry_hair
from .formulate import check, formulate

# What a step must bring to be worth it: hair that is touched again is hair that is worn again.
_WORTH_DELTA_E = 0.5
_WORTH_CHANCE = 0.85
_GENTLER_WITHIN = 0.3
_GENTLEST = ("leave", "wash_once", "second_mix")


def mend(request: MendRequest) -> MendReply:
    """Return the ways on, the advised one first.

    Raises `Faulty` with every place whose meaning is wrong.
    """
    # a step is weighed against leaving it, so an unlikely one is still to be weighed
    limits = msgspec.structs.replace(request.limits, unlikely=True)
    asked = FormulationRequest(request.hair, request.wish, request.products, limits)
    faults = Faults()
    shelf = check(asked, faults)
    if not request.hair.already_on:
        faults.add(
            "/hair/already_on",
            "Nothing is on this hair yet, so there is nothing to mend. Add the mix that was"
            " rinsed, with its minutes, or ask for formulations.",
        )
    if request.hair.also:
        faults.add("/hair/also", "Mend one zone at a time. Leave the other hair out.")
    faults.refuse_if_any()

    found = formulate(asked)
    wish, tolerance = found.wish.lab, request.wish.tolerance
    heads = heads_of(request.hair, shelf, new_bowl=True)
    washed = heads_of(request.hair, shelf, after_one_wash)
    left = _as_it_is(heads)
    clean = _as_it_is(washed)

    def way(do: str, landed: "_Landed", words: str, formula: Formula | None = None) -> WayOn:
        return _mend(do, landed, left, wish, tolerance, words, formula)

    ways = [
        way("leave", left, f"Leave it and dry a strand: {_told(left, wish)}."),
        way("wash_once", clean, f"Wash once with a plain shampoo, then dry: {_told(clean, wish)}."),
    ]
    for formula in found.formulas:
        development, minute = Development(bowl_of(formula.mix, shelf)), formula.mix.minutes
        lab = development.if_rinsed(heads.centre, minute)
        landed = _Landed(
            lab,
            [development.if_rinsed(head, minute) for head in heads.possible],
            words_if_rinsed(development, heads.centre, lab, minute),
            development.dry_doubt(heads, minute),
        )
        words = f"A second mix for {minute} minutes: {_told(landed, wish)}."
        ways.append(way("second_mix", landed, words, formula))
    return MendReply(_ranked(ways), found.shortfall, found.wish, engine_version())


@dataclass(frozen=True)
class _Landed:
    """The dry colour of a way on, on the hair as described and on the heads it may be."""

    lab: LabTuple
    possible: Sequence[LabTuple]
    words: str
    doubt: float  # how far off the model may be, CIEDE2000 on each axis


def _as_it_is(heads: Heads) -> _Landed:
    lab, head = dry_hair(heads.centre), heads.centre
    words = dry_words(lab, as_lifted(head))
    possible = [dry_hair(one) for one in heads.possible]
    # what a look has told of hair as it is now leaves the model no more to be wrong about
    return _Landed(lab, possible, words, dry_doubt(0.0, seen=True))


def _mend(
    do: str,
    landed: _Landed,
    left: _Landed,
    wish: LabTuple,
    tolerance: float,
    words: str,
    formula: Formula | None,
) -> WayOn:
    residual = residual_from(wish)
    misses = [residual(lab) for lab in landed.possible]
    worth = landing(0, misses, tolerance, landed.doubt)
    return WayOn(
        do=do,  # type: ignore[arg-type]
        predicted=likely_colour(landed.lab, landed.possible, landed.words, landed.doubt),
        delta_e=delta_e_2000(wish, landed.lab),
        expected_delta_e=worth.expected,
        chance=worth.chance,
        chance_closer=_share_closer(misses, [residual(lab) for lab in left.possible]),
        words=words,
        formula=UNSET if formula is None else formula,
    )


def _share_closer(misses: Sequence[LabTuple], as_left: Sequence[LabTuple]) -> float:
    """Return the share of heads brought nearer, by mean and spread of the gain head by head."""
    gains = [hypot(*b) - hypot(*a) for a, b in zip(misses, as_left, strict=True)]
    mean = sum(gains) / len(gains)
    spread = (sum((gain - mean) ** 2 for gain in gains) / len(gains)) ** 0.5
    if spread < 1e-9:
        return float(mean > 1e-9)
    return share_below(mean / spread)


def _ranked(ways: Sequence[WayOn]) -> list[WayOn]:
    """Return the ways, lowest expected ΔE first, led by the gentlest of those as good.

    Leaving it leads unless something else is worth it: nearer by half a ΔE00 as expected, and
    on 85 of 100 such heads. Of the ways worth it that come within 0.3 of one another, washing
    goes before mixing.
    """
    leave = ways[0]
    ordered = sorted(
        ways, key=lambda way: (round(way.expected_delta_e, 4), _GENTLEST.index(way.do))
    )
    worth = [
        way
        for way in ordered
        if way.expected_delta_e <= leave.expected_delta_e - _WORTH_DELTA_E
        and way.chance_closer >= _WORTH_CHANCE
    ]
    if not worth:
        first = leave
    else:
        near = [
            w for w in worth if w.expected_delta_e <= worth[0].expected_delta_e + _GENTLER_WITHIN
        ]
        first = min(near, key=lambda w: (_GENTLEST.index(w.do), w.expected_delta_e))
    return [first, *(way for way in ordered if way is not first)]


def _told(landed: _Landed, wish: LabTuple) -> str:
    miss = delta_e_2000(wish, landed.lab)
    way = direction_of(landed.lab, wish).replace("_", " ")
    return f"{landed.words}, {miss:.1f} ΔE from the wish, {way} if anything"
