"""What a tone becomes on darker hair, and the words for a colour seen there.

Common practice and the model's own numbers, no published source.
"""

import numpy as np
import pytest
from asking import polar

from basinside.engine.hair.deep_tones import as_on_pale_hair, deepened, polar_tone, tone_in_words
from basinside.engine.hair.levels import undyed
from basinside.engine.products.tones import WISH_TONES, wish_lab


def test_a_tone_on_dark_hair_is_softer_and_as_warm_as_natural_hair_is_there() -> None:
    for level in (3, 5, 7):
        _, a, b = undyed(level, 0.0)
        natural_chroma, natural_hue = np.hypot(a, b), np.degrees(np.arctan2(b, a))
        for hue, chroma in WISH_TONES.values():
            deep_a, deep_b = deepened(level, hue, chroma)
            expected = min(chroma * min(1, natural_chroma / 15), 1.6 * natural_chroma)
            assert np.hypot(deep_a, deep_b) == pytest.approx(expected)
            turned = hue + max(-15, natural_hue - 80)
            assert np.degrees(np.arctan2(deep_b, deep_a)) % 360 == pytest.approx(turned % 360)


def test_between_7_and_9_a_tone_turns_from_dark_to_pale_straight() -> None:
    hue, chroma = WISH_TONES["ash"]
    for level in (7.5, 8, 8.4):
        _, a, b = undyed(level, 0.0)
        turn = max(-15, np.degrees(np.arctan2(b, a)) - 80)
        deep = polar_tone(hue + turn, min(chroma, 1.6 * np.hypot(a, b)))
        x = (9 - level) / 2
        dark = x * x * (3 - 2 * x)
        pale = polar_tone(hue, chroma)
        expected = [p + dark * (d - p) for p, d in zip(pale, deep, strict=True)]
        assert deepened(level, hue, chroma) == pytest.approx(expected)


@pytest.mark.parametrize("level", [3, 5, 7, 8])
def test_natural_hair_of_any_level_is_called_natural(level) -> None:
    assert tone_in_words(undyed(level, 0.0), level) == "natural"
    assert tone_in_words(wish_lab(level, ["natural"]), level) == "natural"


@pytest.mark.parametrize("level", [4, 5, 6, 7])
@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("natural", "natural"),
        ("ash", "ash"),
        ("gold", "gold"),
        ("copper", "copper"),
        ("red", "red"),
        ("silver", "neutral smoke"),
    ],
)
def test_a_colour_as_wished_is_told_by_the_wish(level, word, told) -> None:
    assert tone_in_words(wish_lab(level, [word]), level) == told


def test_natural_is_within_15_hundredths_of_its_chroma_and_10_degrees_of_its_hue() -> None:
    lightness, a, b = undyed(5, 0.0)
    chroma, hue = np.hypot(a, b), np.degrees(np.arctan2(b, a))
    for times, turn, natural in (
        (0.86, 0, True),
        (0.84, 0, False),
        (1.14, 0, True),
        (1.16, 0, False),
        (1, 9.9, True),
        (1, -9.9, True),
        (1, 10.1, False),
        (1, -10.1, False),
    ):
        lab = polar(lightness, times * chroma, hue + turn)
        assert (tone_in_words(lab, 5) == "natural") == natural
    # from level 9 on the pale bands say it: a neutral blonde is beige or yellow
    assert tone_in_words(wish_lab(9, ["natural"]), 9) == "beige"


def test_soft_green_on_dark_hair_is_matt_ash_and_green_only_when_it_is_vivid() -> None:
    for level in (4, 6, 7.7):
        assert tone_in_words(polar(40, 9, 120), level) == "matt ash"
        assert tone_in_words(polar(40, 20, 120), level) == "green"
    assert tone_in_words(polar(60, 9, 120), 7.8) == "green"
    assert tone_in_words(polar(60, 9, 120), 9) == "green"


def test_up_to_8_warm_hair_is_gold_copper_or_red_and_never_yellow_or_orange() -> None:
    for level in (5, 6, 7, 8, 8.2):
        words = {tone_in_words(polar(50, 35, hue), level) for hue in range(5, 96)}
        assert words - {"rose", "green"} == {"red", "copper", "gold"}
    assert tone_in_words(polar(70, 30, 85), 8.3) == "yellow"


@pytest.mark.parametrize("level", [2, 4, 6, 7.5, 8.9])
def test_a_colour_goes_back_to_pale_hair_the_way_it_came(level) -> None:
    # where the way is one: up to 7, and not where near-black has no room for the tone
    for hue, chroma in ((95, 9), (75, 11), (58, 12)):
        a, b = deepened(level, hue, chroma)
        _, back_a, back_b = as_on_pale_hair((40.0, a, b), level)
        if level <= 7 and level > 2:
            assert (back_a, back_b) == pytest.approx(polar_tone(hue, chroma))
        else:
            apart = np.hypot(
                back_a - polar_tone(hue, chroma)[0], back_b - polar_tone(hue, chroma)[1]
            )
            assert apart < 0.5 * chroma
