"""Words both ways: how a colour is told, and what a wish asks for.

The bands, hues and chromas are common practice, no published source.
"""

import json
from itertools import pairwise

import pytest
from asking import (
    OXIDATION_CLASSES,
    OXIDATION_DYES,
    clear,
    described,
    formulated,
    lowest_delta_e,
    of_dyes,
    polar,
    strip_of,
)

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.words import tone_word
from basinside.engine.door import answer
from basinside.engine.hair.levels import row_lightness, undyed
from basinside.engine.products.tones import WISH_TONES, wish_lab

# Tone: each band with both its edges; the value just short of an edge belongs to the band before.
SOFT = [  # chroma 5 to 16
    (55, "beige"),
    (90, "ash"),
    (105, "green"),  # where no soft word fits
    (200, "blue"),
    (275, "violet"),
    (352, "rose beige"),
]
VIVID = [  # chroma 16 and above
    (15, "red"),
    (40, "copper"),
    (60, "orange"),
    (68, "gold"),
    (80, "yellow"),
    (98, "green"),
    (180, "turquoise"),
    (225, "blue"),
    (275, "purple"),
    (330, "pink"),
]


@pytest.mark.parametrize(("bands", "chromas"), [(SOFT, (5.01, 15.99)), (VIVID, (16.01, 40))])
def test_each_band_of_hue_has_its_word_from_edge_to_edge(bands, chromas) -> None:
    for (start, word), (_, before) in zip(bands, [bands[-1], *bands[:-1]], strict=True):
        for chroma in chromas:
            assert tone_word(polar(70, chroma, start + 0.01), 9) == word
            assert tone_word(polar(70, chroma, start - 0.01), 9) == before
            assert tone_word(polar(70, chroma, 0), 9) == bands[-1][1]  # through 0


def test_soft_and_vivid_meet_at_chroma_16() -> None:
    assert tone_word(polar(70, 15.99, 75), 9) == "beige"
    assert tone_word(polar(70, 16.01, 75), 9) == "gold"


def test_under_chroma_5_hair_is_neutral_silver_from_depth_9_and_smoke_below() -> None:
    for hue in range(0, 360, 45):
        assert tone_word(polar(70, 4.99, hue), 9) == "neutral silver"
        assert tone_word(polar(70, 4.99, hue), 8.99) == "neutral smoke"
        assert "neutral" not in tone_word(polar(70, 5.01, hue), 9)


# Flush


def wet_words(strip) -> list[str]:
    return [minute[look]["words"] for minute in strip for look in ("on_head", "wiped")]


@pytest.mark.parametrize("product_class", OXIDATION_CLASSES)
def test_a_flush_is_told_while_it_lasts_and_never_of_dry_hair(product_class) -> None:
    strip = strip_of({"level": 10.5}, of_dyes(product_class, violet=0.3, blue=0.3))
    told = ["flushed" in minute["wiped"]["words"] for minute in strip]
    assert told[5]
    assert not told[0]
    assert not told[-1]
    assert sum(now != then for now, then in pairwise(told)) == 2  # one run
    assert not any("flushed" in minute["if_rinsed"]["words"] for minute in strip)


@pytest.mark.parametrize("dyes", [{"blue_violet_direct": 0.3}, {"red": 0.5}, {"violet": 0.5}])
def test_direct_dye_is_never_told_as_flushed(dyes) -> None:
    strip = strip_of({"level": 10.5}, of_dyes("direct", **dyes))
    assert not any("flushed" in words for words in wet_words(strip))


# Wishes

# Hue in degrees and chroma, typed again: common practice, no published source.
WISHED = {
    "natural": (80, 15),
    "beige": (75, 11),
    "ash": (95, 9),
    "violet": (350, 6),
    "pearl": (55, 7),
    "silver": (100, 3),
    "smoke": (265, 4),
    "blue": (262, 25),
    "turquoise": (205, 22),
    "pink": (355, 24),
    "purple": (315, 28),
    "gold": (85, 26),
    "copper": (58, 30),
    "red": (35, 32),
    "rose": (35, 14),
}


@pytest.mark.parametrize("word", WISHED)
def test_a_wish_for_blonde_is_its_hue_and_chroma_at_the_rows_lightness(word) -> None:
    hue, chroma = WISHED[word]
    _, a, b = polar(0, chroma, hue)
    expected = (row_lightness(9, a, b), a, b)
    reply = formulated({"level": 9}, {"level": 9, "tone": [word]}, [clear()])
    assert reply["wish"]["lab"] == pytest.approx(expected)


@pytest.mark.parametrize("level", [1, 2.5, 4, 5.5, 7])
def test_up_to_level_7_natural_is_the_colour_of_natural_hair(level) -> None:
    # 0.12: near-black is past neutral, which costs it a trace of lightness
    assert wish_lab(level, ["natural"]) == pytest.approx(undyed(level, 0.0), abs=0.12)


def test_natural_wishes_run_from_level_to_level_without_standing_still() -> None:
    # CIEDE2000 from 1 to 2, 2 to 3 and so on, the model's own
    steps = [
        delta_e_2000(wish_lab(level, ["natural"]), wish_lab(level + 1, ["natural"]))
        for level in range(1, 10)
    ]
    assert steps == pytest.approx([3.0, 4.1, 4.2, 4.2, 5.2, 6.5, 7.0, 10.5, 10.9], abs=0.1)


@pytest.mark.parametrize("word", WISHED)
def test_from_level_3_every_tone_differs_from_the_next_level_by_what_one_sees(word) -> None:
    for level in range(3, 10):
        here, above = (wish_lab(at, [word]) for at in (level, level + 1))
        # near-black has little room for a tone
        assert delta_e_2000(here, above) >= (3.0 if level >= 5 else 1.4)


def test_of_two_words_the_first_counts_double() -> None:
    _, a, b = wish_lab(9, ["natural", "violet"])
    (_, a1, b1), (_, a2, b2) = wish_lab(9, ["natural"]), wish_lab(9, ["violet"])
    assert (a, b) == pytest.approx(((2 * a1 + a2) / 3, (2 * b1 + b2) / 3))
    assert wish_lab(9, ["violet", "natural"])[1:] != pytest.approx((a, b))


def test_an_unknown_wish_word_is_refused_with_the_list() -> None:
    body = {"hair": {"level": 9}, "wish": {"level": 9, "tone": ["sand"]}, "products": [clear()]}
    reply = answer("formulations", json.dumps(body).encode())
    assert reply.status == 422
    (fault,) = json.loads(reply.body)["errors"]
    assert fault["pointer"] == "/wish/tone"
    assert "sand" in fault["message"]
    assert all(word in fault["message"] for word in WISH_TONES)


def nearest(level: float, wish_level: float, word: str) -> float:
    """Return the least ΔE00 dyes leave: every dye there is, pure and strong, by the sixtieth."""
    pure = [of_dyes(named=dye, **{dye: 3.0}) for dye in OXIDATION_DYES]
    wish = {"level": wish_level, "tone": [word]}
    return lowest_delta_e(formulated({"level": level}, wish, [*pure, clear()], step_g=1))


@pytest.mark.parametrize("word", ["natural", "beige", "pearl"])
@pytest.mark.parametrize("level", [9, 10, 10.5])
def test_natural_beige_and_pearl_at_the_hairs_own_level_can_be_made(level, word) -> None:
    assert nearest(level, level, word) <= 3.0  # the usual tolerance


@pytest.mark.parametrize(("level", "missed_by"), [(10.5, 0.0), (10, 2.5), (9, 11)])
def test_silver_at_10_needs_hair_paler_than_10(level, missed_by) -> None:
    # The model's first sketch, to the digits it was told in; a sixtieth part may cost 0.3.
    rounding = 0.5 if level == 9 else 0.3
    assert nearest(level, 10, "silver") == pytest.approx(missed_by, abs=rounding)


@pytest.mark.parametrize("word", WISH_TONES)
def test_a_wish_for_level_10_on_level_9_says_lift_first(word) -> None:
    toner = described(level=9, tone=["violet"])
    wish = {"level": 10, "tone": [word]}
    shortfall = formulated({"level": 9}, wish, [toner, clear()], step_g=60)["shortfall"]
    assert shortfall["lift_first"] >= 9.5
    assert shortfall["delta_e"] > 3.0


def test_what_dyes_leave_of_a_level_10_wish_on_level_9_runs_from_gold_to_smoke() -> None:
    assert nearest(9, 10, "gold") == pytest.approx(4.9, abs=0.3)
    assert nearest(9, 10, "smoke") == pytest.approx(12.9, abs=0.3)


def test_every_word_is_checked_here() -> None:
    assert set(WISHED) == set(WISH_TONES)
