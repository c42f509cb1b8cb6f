"""Which formulas are shown and in which order, on real questions and at the rules' edges."""

import random
from functools import cache
from itertools import combinations

import msgspec
import pytest
from shelves import product, shelf

from basinside.contract.formulations import (
    Formula,
    FormulationReply,
    FormulationRequest,
    Limits,
)
from basinside.contract.hair import Hair, OtherHair, Sure
from basinside.contract.predictions import PredictionRequest
from basinside.contract.products import Dyes, Product
from basinside.contract.wishes import Wish
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.formulation.formulate import formulate
from basinside.engine.formulation.lineups import line_ups
from basinside.engine.formulation.order import in_order
from basinside.engine.formulation.score import Question, Standing
from basinside.engine.timing.predict import heads_of, predict
from basinside.engine.timing.window import Landing

TONES = ["natural", "beige", "ash", "pearl", "silver", "gold"]


def question(seed: int, **limits: object) -> FormulationRequest:
    rng = random.Random(seed)
    return FormulationRequest(
        hair=Hair(level=rng.choice([8.5, 9.0, 9.5, 10.0]), porosity=rng.uniform(0.3, 0.8)),
        wish=Wish(
            level=rng.choice([8.5, 9.0, 9.5, 10.0]),
            tone=[rng.choice(TONES)],
            tolerance=rng.choice([2.0, 3.0, 5.0]),
        ),
        products=shelf(rng, rng.choice([6, 14, 24])),
        limits=Limits(**limits),
    )


def dyed_products(formula: Formula, request: FormulationRequest) -> set[str]:
    clear = {p.id for p in request.products if p.tone == ["clear"]}
    return {part.product for part in formula.mix.parts} - clear


SEEDS = range(8)


@cache
def reply_to(seed: int) -> FormulationReply:
    return formulate(question(seed))


GENTLEST_FIRST = ["acid_demi", "neutral_demi", "alkaline_demi", "direct", "permanent"]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_gentlest_of_what_nobody_could_tell_apart_leads_on_lifted_hair(seed: int) -> None:
    """Gentlest first is common practice, no published source."""
    formulas = reply_to(seed).formulas
    rest = [round(f.expected_delta_e, 4) for f in formulas[1:]]
    assert rest == sorted(rest)
    if not formulas:
        return
    leader = formulas[0]
    lowest = min(f.expected_delta_e for f in formulas)
    assert leader.expected_delta_e <= lowest + 0.8
    for f in formulas[1:]:
        if f.expected_delta_e <= lowest + 0.3 and f.chance > leader.chance - 0.02:
            assert GENTLEST_FIRST.index(f.class_) >= GENTLEST_FIRST.index(leader.class_)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_permanent_leads_on_lifted_hair_where_a_demi_comes_within_half_a_delta_e(
    seed: int,
) -> None:
    formulas = reply_to(seed).formulas
    if formulas and formulas[0].class_ == "permanent":
        demis = [f for f in formulas if f.class_.endswith("demi")]
        assert all(f.expected_delta_e > formulas[0].expected_delta_e + 0.5 for f in demis)


def sooner(f: Formula, g: Formula) -> bool:
    return f.mix.minutes <= min(g.mix.minutes - 5, 2 / 3 * g.mix.minutes)


@pytest.mark.parametrize("seed", SEEDS)
def test_any_two_formulas_differ_in_something_a_colourist_chooses_by(seed: int) -> None:
    """No spelling of the same mix by 5 g: of one class, the words, tubes, time or chance differ."""
    request = question(seed)
    for f, g in combinations(reply_to(seed).formulas, 2):
        assert (
            f.class_ != g.class_
            or f.predicted.words != g.predicted.words
            or len(dyed_products(f, request)) != len(dyed_products(g, request))
            or sooner(f, g)
            or sooner(g, f)
            or abs(f.chance - g.chance) >= 0.05
        )
        if dyed_products(f, request) == dyed_products(g, request):
            grams = [{p.product: p.grams for p in formula.mix.parts} for formula in (f, g)]
            names = grams[0].keys() | grams[1].keys()
            moved = sum(abs(grams[0].get(n, 0) - grams[1].get(n, 0)) for n in names) / 2
            assert moved >= request.limits.total_g / 4


@pytest.mark.parametrize("seed", SEEDS)
def test_every_formula_but_the_closest_is_at_its_best_minute(seed: int) -> None:
    reply = reply_to(seed)
    for formula in reply.formulas:
        assert formula.delta_e >= reply.closest_delta_e - 1e-9
        closest = formula.delta_e <= reply.closest_delta_e + 1e-9
        if not closest and formula.window.best is not msgspec.UNSET:
            assert formula.mix.minutes == formula.window.best


@pytest.mark.parametrize("seed", SEEDS)
def test_the_best_of_every_class_within_tolerance_is_shown(seed: int) -> None:
    request = question(seed, count=10)
    shown = {class_of(f, request) for f in formulate(request).formulas}
    for name in {p.class_ for p in request.products}:
        alone = msgspec.structs.replace(
            request, limits=msgspec.structs.replace(request.limits, classes=[name])
        )
        within = [f for f in formulate(alone).formulas if f.delta_e <= request.wish.tolerance - 0.1]
        assert not within or name in shown


def class_of(formula: Formula, request: FormulationRequest) -> str:
    return next(p.class_ for p in request.products if p.id == formula.mix.parts[0].product)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_formula_goes_into_a_prediction_unchanged_and_gives_the_same_colour(seed: int) -> None:
    request = question(seed)
    for formula in reply_to(seed).formulas:
        strip = predict(
            PredictionRequest(
                hair=request.hair,
                mix=formula.mix,
                products=request.products,
                wish=request.wish,
                minutes=[formula.mix.minutes],
            )
        )
        assert strip.strip[0].if_rinsed.lab == pytest.approx(formula.predicted.lab, abs=1e-9)
        assert strip.strip[0].if_rinsed.words == formula.predicted.words
        assert strip.window == formula.window
        from_wish = delta_e_2000(reply_to(seed).wish.lab, strip.strip[0].if_rinsed.lab)
        assert formula.delta_e == pytest.approx(from_wish, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_asking_twice_or_with_the_shelf_in_another_order_answers_the_same(seed: int) -> None:
    request = question(seed)
    first = msgspec.json.encode(reply_to(seed))
    assert msgspec.json.encode(formulate(request)) == first
    turned = list(reversed(request.products))
    again = formulate(msgspec.structs.replace(request, products=turned))
    assert msgspec.json.encode(again) == first


def test_one_formula_asked_for_is_the_leader() -> None:
    for seed in SEEDS:
        many, one = reply_to(seed), formulate(question(seed, count=1))
        assert [f.mix for f in one.formulas] == [f.mix for f in many.formulas[:1]]


@pytest.mark.parametrize("seed", SEEDS)
def test_every_mix_keeps_to_the_limits_and_to_the_scale(seed: int) -> None:
    limits = {"total_g": 40, "step_g": 2.5, "max_minutes": 12, "max_products": 2, "count": 8}
    request = question(seed, **limits)
    by_id = {p.id: p for p in request.products}
    for formula in formulate(request).formulas:
        grams = [p.grams for p in formula.mix.parts]
        products = [by_id[p.product] for p in formula.mix.parts]
        assert sum(grams) == pytest.approx(40)
        assert all(abs(g / 2.5 - round(g / 2.5)) < 1e-9 for g in grams)
        assert len(dyed_products(formula, request)) <= 2
        assert formula.mix.minutes <= min(12, *(p.window.max for p in products))
        assert formula.mix.minutes >= max(p.window.min for p in products)
        assert len({(p.class_, p.line) for p in products}) == 1
        if products[0].class_ == "direct":
            assert formula.mix.developer is None
        else:
            assert formula.mix.developer.percent == 1.9
            assert formula.mix.developer.grams == pytest.approx(40)


# --- the rules' edges, on standings whose landings are set -------------------------------------


def standing(
    products: int, expected: float, chance: float, minute: int = 10, price: float | None = None
) -> Standing:
    """Return a real mix of so many products with its landing given."""
    shelf = [
        msgspec.structs.replace(
            product(f"d{i}", "neutral_demi", Dyes(violet=0.1 + i / 100), "natural"),
            price_per_100g=price,
        )
        for i in range(3)
    ]
    hair = Hair(level=10)
    heads = heads_of(hair, {p.id: p for p in shelf})
    line_up = line_ups(shelf, Limits())[0]
    portions = {1: ((0, 12),), 2: ((0, 6), (1, 6)), 3: ((0, 4), (1, 4), (2, 4))}[products]
    return Standing(
        line_up,
        portions,
        Question([(1.0, heads)], (75.0, 2.0, 8.0), 3.0),
        {minute: Landing(minute, expected, chance)},
        minute,
    )


@pytest.mark.parametrize(
    ("simpler_by", "leads"),
    [(0.29, "single"), (0.31, "triple")],
)
def test_fewest_products_lead_only_within_three_tenths(simpler_by: float, leads: str) -> None:
    single, triple = standing(1, 2.0 + simpler_by, 0.50), standing(3, 2.0, 0.55)
    assert in_order([triple, single])[0] is {"single": single, "triple": triple}[leads]


@pytest.mark.parametrize(("higher_by", "leads"), [(0.09, "single"), (0.11, "triple")])
def test_a_chance_higher_by_a_tenth_takes_the_lead_back(higher_by: float, leads: str) -> None:
    single, triple = standing(1, 2.2, 0.50), standing(3, 2.0, 0.50 + higher_by)
    assert in_order([single, triple])[0] is {"single": single, "triple": triple}[leads]


def test_ties_go_to_fewer_products_then_the_cheaper_then_the_earlier_minute() -> None:
    fewer = standing(1, 2.00001, 0.5, minute=15)
    cheap, dear, unpriced = (standing(2, 2.0, 0.5, price=p) for p in (5.0, 9.0, None))
    early = standing(2, 2.0, 0.5, minute=9, price=9.0)
    assert in_order([unpriced, dear, cheap, early, fewer]) == [fewer, cheap, early, dear, unpriced]


# --- other hair, lines and strengths -----------------------------------------------------------


def test_other_hair_under_the_same_mix_is_answered_each_and_counts_by_its_share() -> None:
    request = question(3)
    ends = OtherHair(Hair(level=9.0, porosity=0.9), 0.4, "ends")
    request = msgspec.structs.replace(
        request, hair=msgspec.structs.replace(request.hair, also=[ends])
    )
    wish = request.wish
    reply = formulate(request)
    for formula in reply.formulas:
        (result,) = formula.also
        assert (result.name, result.share) == ("ends", 0.4)
        alone = predict(
            PredictionRequest(
                hair=ends.hair,
                mix=formula.mix,
                products=request.products,
                wish=wish,
                minutes=[formula.mix.minutes],
            )
        )
        assert alone.strip[0].if_rinsed.lab == pytest.approx(result.predicted.lab, abs=1e-9)
        of_main = delta_e_2000(reply.wish.lab, formula.predicted.lab)
        assert formula.delta_e == pytest.approx(0.6 * of_main + 0.4 * result.delta_e, abs=1e-9)


def lines_of_two(x_names_y: bool, y_names_x: bool) -> list[Product]:
    """Return a violet of one line and a yellow of another, the wish needing both."""
    violet = product("v", "neutral_demi", Dyes(violet=0.6), "natural")
    yellow = product("y", "neutral_demi", Dyes(yellow=0.9), "natural")
    return [
        msgspec.structs.replace(violet, line="X", may_mix_with=["Y"] if x_names_y else []),
        msgspec.structs.replace(yellow, line="Y", may_mix_with=["X"] if y_names_x else []),
    ]


@pytest.mark.parametrize(
    ("x_names_y", "y_names_x", "together"),
    [(True, True, True), (True, False, False), (False, False, False)],
)
def test_two_lines_share_a_bowl_only_when_each_names_the_other(
    x_names_y: bool, y_names_x: bool, together: bool
) -> None:
    products = lines_of_two(x_names_y, y_names_x)
    request = FormulationRequest(
        Hair(level=10.5, sure=Sure(0.1, 0.1, 0.05, 0.1, 0.1)),
        Wish(lab=(74.0, 5.0, 9.0), tolerance=10),
        products,
    )
    mixes = [{p.product for p in f.mix.parts} for f in formulate(request).formulas]
    assert ({"v", "y"} in mixes) is together


def test_a_mix_found_in_a_line_and_among_allowed_lines_is_shown_once() -> None:
    dyes = {
        "a": ("X", Dyes(violet=0.4)),
        "b": ("X", Dyes(violet=0.2, blue=0.2)),
        "c": ("Y", Dyes(yellow=0.6)),
        "d": ("Y", Dyes(blue=0.3)),
        "e": ("Y", Dyes(orange=0.5)),
    }
    products = [
        msgspec.structs.replace(
            product(name, "neutral_demi", amounts, "natural"),
            line=line,
            may_mix_with=["Y" if line == "X" else "X"],
        )
        for name, (line, amounts) in dyes.items()
    ]
    for tone in ("ash", "beige", "pearl"):
        request = FormulationRequest(
            Hair(level=10), Wish(level=9, tone=[tone], tolerance=8), products, Limits(count=10)
        )
        mixes = [
            frozenset((p.product, p.grams) for p in f.mix.parts)
            for f in formulate(request).formulas
        ]
        assert len(set(mixes)) == len(mixes)


def test_a_mix_takes_the_lowest_strength_all_its_parts_allow() -> None:
    def deep(product_id: str, dyes: Dyes, percents: list[float]) -> Product:
        made = product(product_id, "permanent", dyes, "natural")
        return msgspec.structs.replace(made, developer_percent=percents)

    products = [
        deep("v", Dyes(violet=0.5), [3, 6]),
        deep("b", Dyes(blue=0.4), [6, 9]),
        deep("y", Dyes(yellow=0.5), [9, 12]),
    ]
    by_id = {p.id: set(p.developer_percent) for p in products}
    request = FormulationRequest(
        Hair(level=10),
        Wish(level=9, tone=["ash"], tolerance=10),
        products,
        Limits(count=10, unlikely=True),
    )
    formulas = formulate(request).formulas
    assert formulas
    for formula in formulas:
        shared = set.intersection(*(by_id[p.product] for p in formula.mix.parts))
        assert formula.mix.developer.percent == min(shared)


# --- gentler classes -----------------------------------------------------------------------------


def toned_by(*strengths: tuple[str, float]) -> list[Formula]:
    """Return the formulas of one violet of each class, so many times the usual strength."""
    made = [
        product(name, name, Dyes(violet=0.3 * by, blue=0.2 * by), "natural")
        for name, by in strengths
    ]
    request = FormulationRequest(
        Hair(level=10, sure=Sure(0.1, 0.1, 0.05, 0.1, 0.1)),
        Wish(level=10, tone=["natural"], tolerance=4.0),
        made,
        Limits(total_g=60, step_g=60, count=5),
    )
    return formulate(request).formulas


def test_a_gentler_class_that_comes_as_close_is_named_and_one_that_does_not_is_not() -> None:
    named = []
    for weakest in (0.1, 0.3, 0.5, 0.7, 3.0):
        formulas = toned_by(("permanent", 0.4), ("neutral_demi", 0.6), ("acid_demi", weakest))
        for formula in formulas:
            (part,) = formula.mix.parts
            gentler = GENTLEST_FIRST[: GENTLEST_FIRST.index(part.product)]
            close = {
                f.mix.parts[0].product
                for f in formulas
                if f.expected_delta_e <= formula.expected_delta_e + 0.3
            }
            name = next((name.replace("_", " ") for name in gentler if name in close), None)
            told = [reason for reason in formula.reasons if "gentler" in reason]
            if name is None:
                assert "gentler" not in formula.choose_when
                assert not told
            else:
                assert formula.choose_when.endswith(f", though the gentler {name} comes as close")
                assert len(told) == 1
                assert told[0].startswith(f"The gentler {name} is expected ")
            named.append((part.product, name))
    assert {name for _, name in named} == {None, "acid demi", "neutral demi"}


def test_direct_dye_is_not_called_gentler_since_it_is_another_matter() -> None:
    for formula in toned_by(("neutral_demi", 0.5), ("direct", 0.5)):
        assert "gentler" not in formula.choose_when
