"""White hair: how much dye it takes, what a second mix meets there, and how well it is covered.

Common practice, no published source; the numbers are the model's stated rules.
"""

from itertools import pairwise

import msgspec
import pytest
from asking import OXIDATION_CLASSES, described, of_dyes, seen, strip_of

from basinside.contract.formulations import Limits
from basinside.contract.hair import Hair
from basinside.contract.mixes import Developer, Mix, Part
from basinside.contract.products import Product
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.formulation.lineups import line_ups
from basinside.engine.formulation.project import Projection
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.head import head_of
from basinside.engine.products.classes import CLASSES, white_takes
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.coverage import coverage, natural_share, strands_apart
from basinside.engine.timing.development import Development, after_what_is_on
from basinside.engine.timing.washing import after_one_wash

HALF_WHITE = Hair(level=6, lifted=False, white_share=0.5, damp=0.0)
SHADE = {"orange": 2.0, "red": 2.0, "blue": 2.0}


def shade(product_class: str = "permanent", percent: float = 6.0) -> Product:
    one = of_dyes(product_class, **SHADE)
    if product_class != "direct":
        one |= {"developer_percent": [percent]}
    return msgspec.convert(one | {"window": {"min": 1, "max": 60}}, Product)


def on(product: Product, minutes: int = 45) -> Mix:
    percent = product.developer_percent
    developer = Developer(percent[0], 30) if percent else None
    return Mix([Part(product.id, 30)], minutes, developer)


def white_strand(hair: Hair, product: Product, minutes: int = 45):
    development = Development(bowl_of(on(product), {product.id: product}))
    return dry_lab(development.rinsed_strands(head_of(hair), minutes)[1][1])


@pytest.mark.parametrize(
    ("percent", "takes"), [(0, 0.7), (1.9, 0.795), (3, 0.85), (6, 1), (9, 0.94), (12, 0.88)]
)
def test_a_permanent_goes_best_into_white_hair_at_6_percent(percent, takes) -> None:
    assert white_takes(CLASSES["permanent"], percent) == pytest.approx(takes)
    for name in ("acid_demi", "neutral_demi", "alkaline_demi", "direct"):
        assert white_takes(CLASSES[name], percent) == 1


def test_a_white_strand_comes_out_darker_at_6_percent_than_weaker_or_stronger() -> None:
    dark = {p: white_strand(HALF_WHITE, shade(percent=p))[0] for p in (1.9, 3, 6, 9, 12)}
    assert dark[1.9] > dark[3] > dark[6] < dark[9] < dark[12]


@pytest.mark.parametrize("product_class", [*OXIDATION_CLASSES, "direct"])
def test_resistant_white_hair_takes_less_of_every_class(product_class) -> None:
    lightness = [
        white_strand(msgspec.structs.replace(HALF_WHITE, white_uptake=u), shade(product_class))[0]
        for u in (0.6, 0.75, 1.0, 1.2)
    ]
    assert all(less > more + 0.5 for less, more in pairwise(lightness))


def test_resistance_is_nothing_to_pigmented_hair() -> None:
    without = Hair(level=6, lifted=False, damp=0.0)
    development = Development(bowl_of(on(shade()), {"toner": shade()}))
    usual, resistant = (
        development.if_rinsed(head_of(msgspec.structs.replace(without, white_uptake=u)), 45)
        for u in (1.0, 0.6)
    )
    assert usual == resistant


def test_the_door_takes_resistance_and_refuses_what_is_none() -> None:
    hair = {"level": 6, "lifted": False, "white_share": 0.5}
    one = of_dyes("permanent", **SHADE) | {"developer_percent": [6]}
    usual, resistant = (
        seen(strip_of(hair | more, one), "if_rinsed")[-1] for more in ({}, {"white_uptake": 0.6})
    )
    assert resistant[0] > usual[0] + 0.5


def test_white_strands_keep_their_own_dye_through_a_second_mix_and_a_wash() -> None:
    hair = msgspec.structs.replace(HALF_WHITE, white_uptake=0.6, already_on=[on(shade())])
    shelf = {"toner": shade()}
    worn = after_what_is_on(head_of(hair), hair, shelf)
    assert worn.white_dye_total == pytest.approx(0.6 * worn.dye_total)
    assert worn.white_dye_ks == pytest.approx([0.6 * d for d in worn.dye_ks])
    # less is on the white strands, so the next mix finds more room there
    twice = msgspec.structs.replace(hair, already_on=[on(shade()), on(shade())])
    again = after_what_is_on(head_of(twice), twice, shelf)
    pigmented, white = (
        again.dye_total - worn.dye_total,
        again.white_dye_total - worn.white_dye_total,
    )
    assert white > 0.6 * pigmented
    washed = after_one_wash(head_of(hair), hair, shelf)
    assert washed.white_dye_total / worn.white_dye_total == pytest.approx(
        washed.dye_total / worn.dye_total
    )


def test_hair_without_white_strands_keeps_no_dye_for_them() -> None:
    hair = Hair(level=6, already_on=[on(shade())])
    worn = after_what_is_on(head_of(hair), hair, {"toner": shade()})
    assert worn.white_dye_ks is None
    assert worn.white_dye_total == 0
    assert after_one_wash(head_of(hair), hair, {"toner": shade()}).white_dye_ks is None


# How well it is covered


@pytest.mark.parametrize(
    ("apart", "natural", "word"),
    [
        (3.0, 1.0, "covered"),
        (3.1, 1.0, "blended"),
        (1.0, 0.5, "covered"),
        (1.0, 0.49, "blended"),  # fashion shades cover badly
        (10.0, 1.0, "blended"),
        (10.1, 1.0, "seen"),
    ],
)
def test_white_hair_is_covered_blended_or_seen(apart, natural, word) -> None:
    assert coverage(apart, "permanent", natural) == word


@pytest.mark.parametrize("product_class", ["acid_demi", "neutral_demi", "alkaline_demi", "direct"])
def test_demis_and_direct_dyes_blend_at_best(product_class) -> None:
    assert coverage(0.5, product_class, 1.0) == "blended"
    assert coverage(12.0, product_class, 1.0) == "seen"


def test_half_the_bowl_by_weight_must_be_a_natural_shade() -> None:
    parts = [(_toned("natural"), 30.0), (_toned("natural", "gold"), 10.0), (_toned("ash"), 40.0)]
    assert natural_share(parts) == 0.5


def test_a_bowl_of_mostly_clear_covers_badly() -> None:
    natural, red, clear = _toned("natural"), _toned("red"), _toned("clear")
    assert natural_share([(natural, 15.0), (red, 15.0), (clear, 30.0)]) == 0.5
    assert natural_share([(natural, 10.0), (red, 10.0), (clear, 40.0)]) == pytest.approx(1 / 3)


def _toned(*words: str) -> Product:
    return msgspec.convert(described("permanent", tone=list(words)), Product)


def test_strands_lie_apart_as_ciede2000_says_and_only_where_there_are_two_kinds() -> None:
    development = Development(bowl_of(on(shade()), {"toner": shade()}))
    head = head_of(HALF_WHITE)
    (_, pigmented), (_, white) = development.rinsed_strands(head, 45)
    expected = delta_e_2000(dry_lab(pigmented), dry_lab(white))
    assert strands_apart(development, head, 45) == pytest.approx(expected)
    assert strands_apart(development, head, 0) > 30  # bare: level 6 beside white
    for share in (0.0, 1.0):
        alone = head_of(msgspec.structs.replace(HALF_WHITE, white_share=share))
        assert strands_apart(development, alone, 45) is None


@pytest.mark.parametrize(("percent", "resistance"), [(3.0, 0.6), (6.0, 1.0), (12.0, 0.75)])
def test_the_searchs_linear_model_holds_both_kinds_of_strand(percent, resistance) -> None:
    one = shade(percent=percent)
    hair = msgspec.structs.replace(HALF_WHITE, white_uptake=resistance)
    (line_up,), head = line_ups([one], Limits()), head_of(hair)
    residual = residual_from((38.0, 5.0, 17.0))
    projection = Projection(line_up, 45, head, residual)
    projection.relax({}, 4)
    development = Development(bowl_of(on(one), {one.id: one}))
    exact = residual(development.if_rinsed(head, 45))
    # 0.1: the search reads every second band
    assert projection.miss_of_parts(((0, line_up.whole),)) == pytest.approx(exact, abs=0.1)
