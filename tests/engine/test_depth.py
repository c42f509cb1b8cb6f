"""Depth: a level is one thing, for bare hair, dyed hair, the wish and the label.

Numbers without a source are the model's own, kept so that a change of them is noticed.
"""

from itertools import pairwise

import numpy as np
import pytest
from asking import clear, of_dyes, polar, strip_of
from drawing import in_turn

from basinside.engine.colour.words import half_level
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.fibre import WHITE_FIBRE_KS, fibre_ks
from basinside.engine.hair.levels import (
    bare_depth,
    darkness,
    row_lightness,
    toned_depth,
    undyed,
)
from basinside.engine.products.tones import WISH_TONES, wish_lab


@pytest.mark.parametrize("level", [half / 2 for half in range(2, 22)])
def test_bare_lifted_hair_reads_its_own_level(level) -> None:
    lab = dry_lab(fibre_ks(level))
    # at level 1 there is hardly a colour to read
    assert toned_depth(lab) == pytest.approx(level, abs=0.02 if level >= 2 else 0.12)
    assert bare_depth(lab[0]) == pytest.approx(level, abs=0.01)


@pytest.mark.parametrize("level", range(1, 11))
def test_natural_hair_under_clear_goes_on_reading_its_own_level(level) -> None:
    strip = strip_of({"level": level, "lifted": False}, clear())
    for minute in (strip[1], strip[-1]):
        assert minute["if_rinsed"]["words"].startswith(f"level {level},")


@pytest.mark.parametrize("level", range(1, 11))
def test_natural_hair_that_a_dye_lifts_reads_the_level_it_is_lifted_to(level) -> None:
    for tenths in range(11):
        lab = dry_lab(fibre_ks(level, oxidised=tenths / 10))
        assert toned_depth(lab, tenths / 10) == pytest.approx(
            level, abs=0.12 if level < 2 else 0.08
        )


@pytest.mark.parametrize("level", [half / 2 for half in range(2, 15)])
def test_up_to_level_7_a_colour_reads_its_level_whatever_became_of_the_hair(level) -> None:
    for bare in (0.0, 1.0):
        lab = dry_lab(fibre_ks(level, oxidised=bare))
        for read_as in (0.0, 0.5, 1.0):
            assert toned_depth(lab, read_as) == pytest.approx(
                level, abs=0.12 if level < 2 else 0.08
            )


@pytest.mark.parametrize("level", [1, 3.5, 6, 7.5, 8.2])
def test_half_lifted_hair_is_no_lighter_than_natural_and_lifted_hair_of_its_level(level) -> None:
    # the pigment's amounts are blended, not their logarithms
    natural, half, lifted = (dry_lab(fibre_ks(level, oxidised=o))[0] for o in (0.0, 0.5, 1.0))
    # 0.05: reflectance is not quite linear in the amounts
    assert min(natural, lifted) - 0.05 <= half <= max(natural, lifted) + 0.05


def test_hair_is_dark_up_to_7_and_pale_from_9_and_between_them_turns_smoothly() -> None:
    assert [darkness(level) for level in (1, 5, 7)] == [1, 1, 1]
    assert [darkness(level) for level in (9, 10, 10.5)] == [0, 0, 0]
    assert darkness(8) == pytest.approx(0.5)
    between = [darkness(7 + step / 50) for step in range(101)]
    assert between == sorted(between, reverse=True)
    assert between[0] - between[1] < 0.001


@pytest.mark.parametrize("lifted", in_turn([0.0, 0.2, 0.5, 0.8, 1.0]))
def test_like_colours_read_alike(lifted) -> None:
    # From black to beyond the palest blonde, neutral to vivid, a quarter of a unit at a time.
    for hue in (30, 75, 300):
        for chroma in range(0, 50, 7):
            rising = [
                toned_depth(polar(at, chroma, hue), lifted)
                for at in np.arange(12, 95, 0.25).tolist()
            ]
            assert max(abs(b - a) for a, b in pairwise(rising)) < 0.3
        for lightness in range(14, 94, 7):
            growing = [
                toned_depth(polar(lightness, at, hue), lifted)
                for at in np.arange(0, 50, 0.25).tolist()
            ]
            assert max(abs(b - a) for a, b in pairwise(growing)) < 0.3


@pytest.mark.parametrize(
    ("level", "read"), [(10.5, "level 10,"), (10, "level 10,"), (9, "level 9,"), (8.5, "level 8½,")]
)
def test_toned_hair_reads_within_a_half_of_the_hair_it_was(level, read) -> None:
    # dry and towel-damp hair alike; the levels read are the model's first sketch's
    for damp in (0, 0.6):
        strip = strip_of({"level": level, "damp": damp}, of_dyes(violet=0.3, blue=0.3))
        assert strip[-1]["if_rinsed"]["words"].startswith(read)


@pytest.mark.parametrize("level", [3, 4, 5, 6, 7, 8, 9, 10, 10.5])
@pytest.mark.parametrize("chroma", [3, 9, 15, 30])
def test_a_colour_on_a_levels_row_reads_that_level(level, chroma) -> None:
    for hue in (40, 85):
        (_, a, b) = polar(0, chroma, hue)
        lab = (row_lightness(level, a, b), a, b)
        assert toned_depth(lab) == pytest.approx(level, abs=0.06)


@pytest.mark.parametrize("level", [half / 2 for half in range(6, 22)])
@pytest.mark.parametrize("word", WISH_TONES)
def test_a_wish_reads_the_level_it_asks_for(level, word) -> None:
    assert toned_depth(wish_lab(level, [word])) == pytest.approx(level, abs=0.2)


def test_white_hair_is_paler_than_the_palest_blonde() -> None:
    white = dry_lab(WHITE_FIBRE_KS)
    assert white[0] == pytest.approx(91.7, abs=0.1)  # the model's own, to one place
    assert white[0] > dry_lab(fibre_ks(10.5))[0]


def row(level: float, chroma: float, hue: float = 88.0) -> float:
    _, a, b = polar(0, chroma, hue)
    return row_lightness(level, a, b)


def bare(level: float, oxidised: float) -> tuple[float, float]:
    lightness, a, b = undyed(level, oxidised)
    return lightness, float(np.hypot(a, b))


def test_on_blonde_neutralising_costs_lightness_down_to_chroma_9_and_vividness_does_too() -> None:
    lightness, chroma = bare(9, 1.0)
    assert row(9, chroma) == pytest.approx(lightness)
    assert row(9, chroma - 10) == pytest.approx(lightness - 7)
    assert row(9, 4) == row(9, 9) == pytest.approx(lightness - 0.7 * (chroma - 9))
    assert row(9, chroma + 10) == pytest.approx(lightness - 3)


@pytest.mark.parametrize("level", [4, 5.5, 7])
def test_a_dark_levels_row_goes_through_natural_hair_and_bare_lifted_hair(level) -> None:
    (l_natural, c_natural), (l_lifted, c_lifted) = bare(level, 0.0), bare(level, 1.0)
    assert row(level, c_natural) == pytest.approx(l_natural)
    assert row(level, c_lifted) == pytest.approx(l_lifted)
    halfway = row(level, (c_natural + c_lifted) / 2)
    assert halfway == pytest.approx((l_natural + l_lifted) / 2)
    below = 0.35 * (c_natural - max(9, c_natural - 4))
    assert row(level, c_natural - 4) == pytest.approx(l_natural - below)
    assert row(level, c_lifted + 10) == pytest.approx(l_lifted - 3)


def test_red_green_and_going_past_neutral_cost_lightness_of_their_own() -> None:
    # beyond what chroma costs: 0.5 a unit of a* over 8, 0.35 under -3; 0.65 of b* under 2.9
    assert row(9, 20, 88) - row(9, 20, 0) == pytest.approx(0.5 * (20 - 8) + 0.65 * 2.9)
    assert row(9, 20, 92) - row(9, 20, 180) == pytest.approx(0.35 * (20 - 3) + 0.65 * 2.9)
    assert row(10, 6, 90) - row(10, 6, 270) == pytest.approx(0.65 * (2.9 + 6))


def test_levels_are_spoken_to_the_half() -> None:
    spoken = [half_level(level) for level in (8, 8.24, 8.26, 8.74, 8.76, 10.5)]
    assert spoken == ["8", "8", "8½", "8½", "9", "10½"]
