"""What every colourist has seen, asked at the door.

Facts of the trade in this file are common practice, no published source. Numbers with no other
word beside them are this model's own, kept so that a change of them is noticed.
"""

from functools import cache
from math import hypot

import numpy as np
import pytest
from asking import (
    CONSISTENCIES,
    OXIDATION_CLASSES,
    OXIDATION_DYES,
    clear,
    demo_shelf,
    described,
    formulated,
    lowest_delta_e,
    of_dyes,
    seen,
    strip_of,
)

from basinside.engine.colour.difference import delta_e_2000

MIX = {"violet": 0.3, "blue": 0.3}
WET = ("on_head", "wiped")


def reds(strip, look) -> list[float]:
    return [a for _, a, _ in seen(strip, look)]


def dry(strip) -> list[list[float]]:
    return seen(strip, "if_rinsed")


# (a) common practice, no published source


@pytest.mark.parametrize("look", WET)
@pytest.mark.parametrize("consistency", CONSISTENCIES)
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_violet_and_blue_on_palest_hair_flush_pink_and_have_settled_by_full_time(
    product_class, consistency, look
) -> None:
    toner = of_dyes(product_class, **MIX) | {"consistency": consistency}
    red = reds(strip_of({"level": 10.5}, toner), look)
    peak = max(red)
    assert 3 <= red.index(peak) <= 8
    assert red[-1] < 0.6 * peak
    assert peak > red[0] + 4


@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_a_violet_without_blue_keeps_its_pink(product_class) -> None:
    # the other side of (a): what settles is the blue
    red = reds(strip_of({"level": 10.5}, of_dyes(product_class, violet=0.3)), "wiped")
    assert red[-1] > 0.9 * max(red)


# (b) common practice, no published source; the peaks beside it are the model's first sketch's


def after_shampoo(amount: float, consistency: str, look: str) -> float:
    """Return the highest a* after a violet shampoo that left this K/S in dry hair."""
    shampoo = of_dyes("direct", named="shampoo", blue_violet_direct=amount)
    # two hours: all but the last hundredth of the dye has gone in
    on = {"parts": [{"product": "shampoo", "grams": 20}], "minutes": 120}
    hair = {"level": 10.5, "damp": 0, "already_on": [on] if amount else []}
    toner = of_dyes(**MIX) | {"consistency": consistency}
    return max(reds(strip_of(hair, toner, beside=[shampoo]), look))


@pytest.mark.parametrize(
    ("consistency", "look", "peaks"),
    [
        ("light_cream", "on_head", (8.3, 7.5, 6.7)),
        ("gel", "on_head", (10.1, 8.8, 7.6)),
        ("light_cream", "wiped", (9.2, 7.5, 5.9)),
    ],
)
def test_violet_shampoo_first_makes_the_flush_lower(consistency, look, peaks) -> None:
    flushes = [after_shampoo(amount, consistency, look) for amount in (0, 0.05, 0.12)]
    assert flushes[0] > flushes[1] + 0.5 > flushes[2] + 1
    assert flushes == pytest.approx(peaks, abs=0.1)  # told to one place


# (c) common practice, no published source


@pytest.mark.parametrize("level", [10.5, 10, 9, 8.5])
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_at_usual_porosity_under_two_fifths_of_the_change_is_there_at_five_minutes(
    product_class, level
) -> None:
    assert share_at_five(product_class, level, porosity=0.5) < 0.4


@pytest.mark.parametrize("product_class", ["alkaline_demi", "neutral_demi", "acid_demi"])
def test_on_very_porous_blonde_a_demi_has_about_half_of_its_change_at_five_minutes(
    product_class,
) -> None:
    for level in (10.5, 10):
        assert 0.4 < share_at_five(product_class, level, porosity=0.98) < 0.65


def share_at_five(product_class: str, level: float, porosity: float) -> float:
    hair = {"level": level, "porosity": porosity}
    colours = dry(strip_of(hair, of_dyes(product_class, **MIX)))
    return delta_e_2000(colours[0], colours[5]) / delta_e_2000(colours[0], colours[-1])


@pytest.mark.parametrize(("porosity", "told"), [(0.3, False), (0.5, False), (0.98, True)])
def test_a_very_porous_head_is_told_that_half_is_there_by_minute_5(porosity, told) -> None:
    hair, wish = {"level": 10, "porosity": porosity}, {"level": 10, "tone": ["beige"]}
    formulas = formulated(hair, wish, demo_shelf(), classes=["neutral_demi"])["formulas"]
    said = ["by minute 5" in " ".join(formula["reasons"]) for formula in formulas]
    assert any(said) == told


# (d) common practice, no published source


@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_on_level_8_and_a_half_the_mix_takes_yellow_but_leaves_the_hair_warm(
    product_class,
) -> None:
    strip = strip_of({"level": 8.5}, of_dyes(product_class, **MIX))
    bare, toned = dry(strip)[0], dry(strip)[-1]
    assert toned[2] < bare[2] - 4
    assert toned[2] > 18
    words = strip[-1]["if_rinsed"]["words"]
    assert not {"silver", "smoke", "neutral", "ash", "violet"} & set(words.split())
    assert any(word in words for word in ("gold", "yellow", "beige"))


# (e) common practice, no published source


@cache
def bare_row() -> tuple[list[float], list[float]]:
    """Return L*, rising, and level of bare lifted hair, dry."""
    levels = [quarter / 4 for quarter in range(4, 43)]
    strips = [strip_of({"level": level}, clear(), minutes=[0]) for level in levels]
    return [dry(strip)[0][0] for strip in strips], levels


def read_level(lightness: float) -> float:
    row, levels = bare_row()
    assert row == sorted(row)
    return float(np.interp(lightness, row, levels))


@pytest.mark.parametrize("level", [10.5, 10, 9, 8])
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_dry_hair_is_two_to_three_levels_lighter_than_rinsed_wet_in_a_rope(
    product_class, level
) -> None:
    strip = strip_of({"level": level}, of_dyes(product_class, **MIX), bunched=1)
    for minute in (strip[0], strip[-1]):  # bare, and toned
        wet, dried = minute["wiped"]["lab"][0], minute["if_rinsed"]["lab"][0]
        assert 2 <= read_level(dried) - read_level(wet) <= 3


def test_bare_level_10_reads_7_and_a_half_wet_in_a_rope_and_8_fanned() -> None:
    for bunched, expected in ((1, 7.5), (0, 8.0)):
        wet = seen(strip_of({"level": 10}, clear(), bunched=bunched), "wiped")[0]
        assert read_level(wet[0]) == pytest.approx(expected, abs=0.15)


# (f) common practice, no published source


def toned_by(product_class: str, level: float, **dyes: float) -> list[float]:
    return dry(strip_of({"level": level}, of_dyes(product_class, **dyes)))[-1]


@pytest.mark.parametrize("level", [10.5, 10, 9])
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_violet_takes_more_yellow_than_blue_does_and_does_not_green(product_class, level) -> None:
    violet, blue = (toned_by(product_class, level, **{dye: 0.3}) for dye in ("violet", "blue"))
    assert violet[2] < blue[2]
    assert violet[1] > 0


@pytest.mark.parametrize("amount", [0.3, 0.45, 0.6])
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_much_blue_on_yellow_goes_green(product_class, amount) -> None:
    assert toned_by(product_class, 9, blue=amount)[1] < 0


@pytest.mark.parametrize("level", [6, 7])
@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_blue_takes_more_of_oranges_chroma_than_violet_does(product_class, level) -> None:
    violet, blue = (toned_by(product_class, level, **{dye: 0.3}) for dye in ("violet", "blue"))
    assert hypot(*blue[1:]) < hypot(*violet[1:]) < hypot(*toned_by(product_class, level)[1:])


# (g) common practice, no published source


@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_porous_hair_takes_more_and_sooner(product_class) -> None:
    taken, halfway = [], []
    for porosity in (0.1, 0.5, 0.9):
        hair = {"level": 10, "porosity": porosity}
        colours = dry(strip_of(hair, of_dyes(product_class, **MIX)))
        change = [delta_e_2000(colours[0], colour) for colour in colours]
        taken.append(change[-1])
        halfway.append(float(np.interp(change[-1] / 2, change, range(len(change)))))
    assert taken == sorted(taken)
    assert taken[2] > 1.5 * taken[0]
    assert halfway == sorted(halfway, reverse=True)
    assert halfway[2] < halfway[0] - 0.5


# (h) common practice, no published source


@pytest.mark.parametrize("look", [*WET, "if_rinsed"])
@pytest.mark.parametrize("amount", [0.05, 0.12, 0.3, 0.6])
@pytest.mark.parametrize("level", [10.5, 10, 9])
def test_ready_made_violet_never_flushes(level, amount, look) -> None:
    red = reds(strip_of({"level": level}, of_dyes("direct", blue_violet_direct=amount)), look)
    moves = np.diff(red)
    has_risen = np.maximum.accumulate(moves) > 0
    assert np.all(moves[has_risen] > -1e-9)  # and once it has risen, it does not fall
    assert max(red) == red[0]


# The model's first sketch: neutral demi in a light cream, on dry hair, to whole numbers.
SKETCH = {
    10.5: {0: (85, 1, 14), 5: (81, 2, 8), 10: (77, 2, 2), 20: (74, 1, -2)},
    10: {20: (71, 0, 6)},
    9: {20: (66, 1, 18)},
    8.5: {20: (63, 3, 23)},
}
SKETCH_WIPED = {0: (68, 3, 20), 5: (56, 9, 4), 10: (52, 8, -1), 20: (51, 3, -4)}


@pytest.mark.parametrize("level", SKETCH)
def test_what_rinsing_leaves_is_what_the_model_was_sketched_to_leave(level) -> None:
    colours = dry(strip_of({"level": level, "damp": 0}, of_dyes(**MIX)))
    for minute, expected in SKETCH[level].items():
        assert colours[minute] == pytest.approx(expected, abs=1)


def test_what_is_wiped_is_what_the_model_was_sketched_to_show() -> None:
    strip = strip_of({"level": 10.5, "damp": 0}, of_dyes(**MIX))
    for minute, expected in SKETCH_WIPED.items():
        assert strip[minute]["wiped"]["lab"] == pytest.approx(expected, abs=1)
    assert "flushed" in strip[5]["wiped"]["words"]
    assert "flushed" not in strip[0]["wiped"]["words"] + strip[20]["wiped"]["words"]


def test_the_same_dyes_look_different_as_gel_light_cream_and_cream_and_dry_the_same() -> None:
    # common practice, no published source
    strips = [
        strip_of({"level": 9}, of_dyes(**MIX) | {"consistency": thickness})
        for thickness in ("gel", "light_cream", "cream")
    ]
    for minute in (0, 5, 10, 20):
        gel, light, cream = (strip[minute] for strip in strips)
        for one, other in ((gel, light), (light, cream)):
            apart = delta_e_2000(one["on_head"]["lab"], other["on_head"]["lab"])
            assert apart > 1  # a difference one sees side by side
        assert gel["if_rinsed"] == light["if_rinsed"] == cream["if_rinsed"]
        assert gel["wiped"] == light["wiped"] == cream["wiped"]


@pytest.mark.parametrize(("level", "tone"), [(10, "natural"), (10, "beige"), (9, "beige")])
def test_the_demo_shelf_meets_everyday_wishes_at_the_hairs_own_level(level, tone) -> None:
    reply = formulated({"level": level}, {"level": level, "tone": [tone]}, demo_shelf())
    assert reply["shortfall"] is None
    assert lowest_delta_e(reply) <= 3.0  # the usual tolerance


@pytest.mark.parametrize(
    ("level", "wish_level", "tone", "lift_to"),
    [
        (7, 10, "natural", 10),
        (8, 10, "violet", 10.5),
        (8, 9, "beige", 9),
        (9, 10, "natural", 10),
        (9, 10, "gold", 9.5),
    ],
)
def test_a_wish_lighter_than_the_hair_says_lift_first_and_to_what_level(
    level, wish_level, tone, lift_to
) -> None:
    # no dye makes hair lighter: common practice, no published source
    wish = {"level": wish_level, "tone": [tone]}
    shortfall = formulated({"level": level}, wish, demo_shelf())["shortfall"]
    assert shortfall["lift_first"] == lift_to
    assert "ift first" in shortfall["words"]
    # asked again of every dye there is, pure, by the gram: from there it is reached, from half
    # a level below it is not
    pure = [of_dyes(named=dye, **{dye: 3.0}) for dye in OXIDATION_DYES]
    for lifted_to, reached in ((lift_to, True), (lift_to - 0.5, False)):
        again = formulated({"level": lifted_to}, wish, [*pure, clear()], step_g=1, count=1)
        assert (again["shortfall"] is None) == reached


def test_a_wish_the_hair_can_hold_never_says_lift_first() -> None:
    wish = {"level": 8.5, "tone": ["natural"]}
    shortfall = formulated({"level": 10}, wish, [clear()])["shortfall"]
    assert "lift_first" not in shortfall
    assert shortfall["would_help"]["delta_e"] < shortfall["delta_e"]


@pytest.mark.parametrize(
    ("on_the_shelf", "advised"), [((8, "beige"), False), ((9, "violet"), True)]
)
def test_a_product_is_advised_only_when_it_is_worth_half_a_delta_e(on_the_shelf, advised) -> None:
    level, tone = on_the_shelf
    wish = {"level": 9.5, "tone": ["natural"], "tolerance": 0.5}
    shelf = [described(level=level, tone=[tone]), clear()]
    shortfall = formulated({"level": 10}, wish, shelf)["shortfall"]
    assert ("would_help" in shortfall) == advised
    if advised:
        assert 0.5 <= shortfall["delta_e"] - shortfall["would_help"]["delta_e"] < 5
