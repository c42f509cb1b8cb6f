"""Depth: the level a dry colour reads at, on lifted hair, on natural hair and between them."""

from itertools import pairwise

import numpy as np
import pytest
from asking import clear, of_dyes, polar, strip_of

from basinside.engine.colour.words import half_level
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.fibre import WHITE_FIBRE_KS, fibre_ks
from basinside.engine.hair.levels import bare_depth, row_lightness, toned_depth, untoned
from basinside.engine.products.tones import wish_lab


@pytest.mark.parametrize("level", [half / 2 for half in range(2, 22)])
def test_bare_lifted_hair_reads_its_own_level(level) -> None:
    lab = dry_lab(fibre_ks(level))
    assert toned_depth(lab) == pytest.approx(level, abs=0.01)
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
        assert toned_depth(lab, tenths / 10) == pytest.approx(level, abs=0.02)


@pytest.mark.parametrize("lifted", [0.0, 0.2, 0.5, 0.8, 1.0])
def test_like_colours_read_alike(lifted) -> None:
    # From black to beyond the palest blonde, neutral to vivid, a quarter of a unit at a time.
    for chroma in range(0, 50, 4):
        rising = [
            toned_depth(polar(at, chroma, 60), lifted) for at in np.arange(12, 95, 0.25).tolist()
        ]
        assert max(abs(b - a) for a, b in pairwise(rising)) < 0.5
    for lightness in range(14, 94, 4):
        growing = [
            toned_depth(polar(lightness, at, 60), lifted) for at in np.arange(0, 50, 0.25).tolist()
        ]
        assert max(abs(b - a) for a, b in pairwise(growing)) < 0.5


@pytest.mark.parametrize(
    ("level", "read"), [(10.5, "level 10,"), (10, "level 10,"), (9, "level 9,"), (8.5, "level 8½,")]
)
def test_toned_hair_reads_within_a_half_of_the_hair_it_was(level, read) -> None:
    # dry and towel-damp hair alike; the levels read are the model's first sketch's
    for damp in (0, 0.6):
        strip = strip_of({"level": level, "damp": damp}, of_dyes(violet=0.3, blue=0.3))
        assert strip[-1]["if_rinsed"]["words"].startswith(read)


@pytest.mark.parametrize("level", [6, 7, 8, 9, 10, 10.5])
@pytest.mark.parametrize("chroma", [3, 9, 15])
def test_a_colour_on_a_levels_row_reads_that_level(level, chroma) -> None:
    lab = polar(row_lightness(level, chroma), chroma, 85)
    assert toned_depth(lab) == pytest.approx(level, abs=0.02)


@pytest.mark.parametrize("level", [7, 8, 9, 10])
@pytest.mark.parametrize("word", ["natural", "beige", "ash", "pearl", "silver", "smoke"])
def test_a_wish_for_the_hairs_own_level_reads_within_a_half_of_it(level, word) -> None:
    assert toned_depth(wish_lab(level, [word])) == pytest.approx(level, abs=0.5)


def test_white_hair_is_paler_than_the_palest_blonde() -> None:
    white = dry_lab(WHITE_FIBRE_KS)
    assert white[0] == pytest.approx(91.7, abs=0.1)  # the model's own, to one place
    assert white[0] > dry_lab(fibre_ks(10.5))[0]


def test_neutralising_costs_lightness_down_to_chroma_9_and_vividness_costs_it_too() -> None:
    lightness, chroma = untoned(9)
    assert row_lightness(9, chroma) == pytest.approx(lightness)
    assert row_lightness(9, chroma - 10) == pytest.approx(lightness - 7)
    assert (
        row_lightness(9, 0) == row_lightness(9, 9) == pytest.approx(lightness - 0.7 * (chroma - 9))
    )
    assert row_lightness(9, chroma + 10) == pytest.approx(lightness - 3)


def test_levels_are_spoken_to_the_half() -> None:
    spoken = [half_level(level) for level in (8, 8.24, 8.26, 8.74, 8.76, 10.5)]
    assert spoken == ["8", "8", "8½", "8½", "9", "10½"]
