"""Words for colours and colours for words: bands and hues are common practice, unpublished."""

from dataclasses import replace
from math import cos, radians, sin

import pytest

from basinside.contract.hair import Hair
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.colour.words import tone_word
from basinside.engine.formulation.shortfall import nearest_by_any_dye
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.fibre import WHITE_FIBRE_KS, fibre_ks
from basinside.engine.hair.head import head_of
from basinside.engine.hair.levels import toned_depth
from basinside.engine.products.classes import CLASSES, CONSISTENCIES
from basinside.engine.products.tones import PRODUCT_TONES, WISH_TONES, promise_lab, wish_lab
from basinside.engine.timing.bowl import Bowl
from basinside.engine.timing.development import Development
from basinside.engine.timing.promise import promised_dyes

TOLERANCE = 3.0


def polar(chroma: float, hue: float) -> tuple[float, float, float]:
    return 70.0, chroma * cos(radians(hue)), chroma * sin(radians(hue))


@pytest.mark.parametrize(
    ("chroma", "hue", "word"),
    [
        (4.9, 70, "neutral silver"),
        (5.1, 70, "beige"),
        (10, 55.1, "beige"),
        (10, 54.9, "rose beige"),
        (10, 89.9, "beige"),
        (10, 90.1, "ash"),
        (10, 104.9, "ash"),
        (10, 105.1, "green"),
        (10, 199.9, "green"),
        (10, 200.1, "blue"),
        (10, 274.9, "blue"),
        (10, 275.1, "violet"),
        (10, 351.9, "violet"),
        (10, 352.1, "rose beige"),
        (10, 0, "rose beige"),
        (15.9, 70, "beige"),
        (16.1, 70, "gold"),
        (20, 329.9, "violet"),
        (20, 330.1, "rose"),
        (20, 14.9, "rose"),
        (20, 15.1, "red"),
        (20, 39.9, "red"),
        (20, 40.1, "copper"),
        (20, 59.9, "copper"),
        (20, 60.1, "orange"),
        (20, 67.9, "orange"),
        (20, 68.1, "gold"),
        (20, 79.9, "gold"),
        (20, 80.1, "yellow"),
        (20, 97.9, "yellow"),
        (20, 98.1, "green"),
    ],
)
def test_a_tone_word_changes_at_its_band_and_nowhere_else(
    chroma: float, hue: float, word: str
) -> None:
    assert tone_word(polar(chroma, hue), 9.5) == word


def test_neutral_is_silver_from_level_nine_up_and_smoke_below() -> None:
    assert tone_word(polar(2, 0), 9.0) == "neutral silver"
    assert tone_word(polar(2, 0), 8.99) == "neutral smoke"


@pytest.mark.parametrize("level", [1, 2, 4, 5, 6, 7, 8, 9, 10, 10.5])
def test_bare_hair_reads_at_its_own_level(level: float) -> None:
    assert toned_depth(dry_lab(fibre_ks(level))) == pytest.approx(level, abs=0.05)


@pytest.mark.parametrize(
    ("dry", "reads"),
    [
        # the everyday violet-blue mix at full time on 10.5, 10, 9 and 8.5, as sketched
        ((74, 1, -2), 10),
        ((71, 0, 6), 10),
        ((66, 1, 18), 9),
        ((63, 3, 23), 8.5),
    ],
)
def test_toned_hair_is_read_against_toned_hair(dry: tuple, reads: float) -> None:
    assert round(toned_depth(dry) * 2) / 2 == reads


@pytest.mark.parametrize("level", [7, 8, 9, 10])
@pytest.mark.parametrize("word", ["natural", "beige", "ash", "pearl", "silver", "smoke"])
def test_a_matched_toner_moves_the_depth_word_by_half_a_level_at_most(
    level: float, word: str
) -> None:
    assert toned_depth(wish_lab(level, [word])) == pytest.approx(level, abs=0.5)


def missed(hair_level: float, wish_level: float, word: str) -> float:
    head = head_of(Hair(level=hair_level))
    return nearest_by_any_dye(head, residual_from(wish_lab(wish_level, [word])))


@pytest.mark.parametrize("level", [9, 10, 10.5])
@pytest.mark.parametrize("word", ["natural", "beige", "pearl"])
def test_the_everyday_tones_can_be_had_at_the_hairs_own_level(level: float, word: str) -> None:
    assert missed(level, level, word) <= TOLERANCE


def test_silver_at_ten_wants_hair_of_ten_and_a_half() -> None:
    # the model's own sketched figures: 0.0 from 10.5, 2.5 from 10, 11 from 9
    assert missed(10.5, 10, "silver") == pytest.approx(0.0, abs=0.3)
    assert missed(10, 10, "silver") == pytest.approx(2.5, abs=0.5)
    assert missed(9, 10, "silver") == pytest.approx(11, abs=1)


@pytest.mark.parametrize("word", WISH_TONES)
def test_no_dye_makes_level_nine_a_ten(word: str) -> None:
    assert missed(9, 10, word) > TOLERANCE


def test_two_wish_words_lie_between_them_nearer_the_first() -> None:
    beige, ash = wish_lab(9, ["beige"]), wish_lab(9, ["ash"])
    both = wish_lab(9, ["beige", "ash"])
    for k in (1, 2):
        assert both[k] == pytest.approx((2 * beige[k] + ash[k]) / 3, abs=1e-9)


# --- what a product's words promise -------------------------------------------------------------

VIVID = {"violet", "blue violet", "gold", "copper", "red", "mahogany"}


def kept_promise(product_class: str, level: float, word: str) -> tuple[float, float, float]:
    """Return the colour a described product gives under the conditions of its promise."""
    bowl = Bowl(
        product_class,
        promised_dyes(product_class, level, (word,)),
        0.0,
        CONSISTENCIES["gel"],
        None,
        CLASSES[product_class].full_min,
    )
    # a head whose every strand is white, put on dry
    head = replace(head_of(Hair(level=10, damp=0)), white_share=1.0)
    return Development(bowl).if_rinsed(head, CLASSES[product_class].full_min)


@pytest.mark.parametrize("product_class", CLASSES)
@pytest.mark.parametrize("level", [7.0, 8.0, 9.0, 10.0])
def test_a_described_product_keeps_the_promise_of_its_words(
    product_class: str, level: float
) -> None:
    for word in PRODUCT_TONES:
        gone = delta_e_2000(kept_promise(product_class, level, word), promise_lab(level, [word]))
        # vivid words reach less chroma at pale levels: as near as it goes is what is kept
        assert gone < (12.0 if word in VIVID else 1.0), (word, gone)


def test_a_described_product_never_holds_a_negative_dye_nor_ready_made_violet_in_a_demi() -> None:
    for product_class in CLASSES:
        for word in PRODUCT_TONES:
            dyes = promised_dyes(product_class, 9.0, (word,))
            assert min(dyes) >= 0
            assert product_class == "direct" or dyes[-1] == 0


def test_blue_violet_ten_is_violet_and_blue_in_equal_parts() -> None:
    # the model's own sketched figures: violet 0.26, blue 0.24
    dyes = promised_dyes("neutral_demi", 10.0, ("blue violet",))
    assert dyes == pytest.approx((0, 0, 0, 0.26, 0.24, 0, 0), abs=0.01)
    assert promise_lab(10, ["violet", "blue"]) == promise_lab(10, ["blue violet"])
    assert promise_lab(10, ["blue", "violet"]) == promise_lab(10, ["blue violet"])


def test_clear_holds_no_dye() -> None:
    assert promised_dyes("neutral_demi", 9.0, ("clear",)) == (0.0,) * 7


def test_white_hair_is_paler_than_the_palest_blonde() -> None:
    # L* 91.7 is the model's own figure for unpigmented fibre
    assert dry_lab(WHITE_FIBRE_KS)[0] == pytest.approx(91.7, abs=0.1)
    assert dry_lab(WHITE_FIBRE_KS)[0] > dry_lab(fibre_ks(10.5))[0]
