"""Hair before anything is put on it: its colour and words by level, and what a reading tells.

The undertone of a lifted level is common practice, no published source; the numbers are this
model's own, kept so that a change of them is noticed.
"""

from itertools import pairwise
from math import atan2, degrees

import pytest
from asking import asked, clear, of_dyes, seen, strip_of

from basinside.engine.colour.lab import lab_of
from basinside.engine.hair.appearance import dry_lab, wet_reflectance
from basinside.engine.hair.fibre import fibre_ks

# Lifted hair, dry, to whole numbers. The yellows of 9 and 10 are from memory.
LIFTED = {
    6: (42, 16, 31),
    7: (52, 11, 34),
    8: (62, 7, 33),
    9: (72, 3, 28),
    10: (80, 1, 20),
    10.5: (85, 1, 14),
}
NATURAL_LIGHTNESS = {4: 27, 5: 32, 6: 38, 7: 45, 8: 53, 9: 61, 10: 69}
# The lowest level each word is said of.
UNDERTONES = {
    2.5: "deep red",
    3.5: "red",
    4.5: "red orange",
    5.5: "orange",
    6.5: "orange gold",
    7.5: "gold",
    8.5: "yellow",
    9.25: "pale yellow",
    9.75: "palest yellow",
}


def bare(**hair) -> dict:
    """Return bare hair's dry colour, as the strip shows it before the mix has done anything."""
    return strip_of(hair, clear(), minutes=[0])[0]["if_rinsed"]


@pytest.mark.parametrize("level", LIFTED)
def test_lifted_hair_has_the_colour_of_its_level(level) -> None:
    assert bare(level=level)["lab"] == pytest.approx(LIFTED[level], abs=0.6)


@pytest.mark.parametrize(("level", "hue"), [(6, 63), (8, 78), (9, 83)])
def test_lifted_hair_runs_from_orange_through_gold_to_yellow(level, hue) -> None:
    _, a, b = bare(level=level)["lab"]
    assert degrees(atan2(b, a)) == pytest.approx(hue, abs=0.6)


@pytest.mark.parametrize("level", NATURAL_LIGHTNESS)
def test_natural_hair_has_the_lightness_of_its_level(level) -> None:
    lightness = bare(level=level, lifted=False)["lab"][0]
    assert lightness == pytest.approx(NATURAL_LIGHTNESS[level], abs=0.6)


def test_natural_hair_is_less_warm_than_hair_lifted_to_the_same_level() -> None:
    # common practice, no published source: lifting lays warmth bare, until
    # at level 10 it has taken that too.
    for level in (4, 5, 6, 7, 8, 9):
        natural, lifted = (bare(level=level, lifted=it)["lab"] for it in (False, True))
        assert natural[2] < lifted[2]


@pytest.mark.parametrize(("level", "word"), UNDERTONES.items())
def test_each_undertone_is_said_from_its_level_on_and_the_one_below_just_under_it(
    level, word
) -> None:
    words = ["near black", *UNDERTONES.values()]
    assert bare(level=level)["words"].endswith(f", {word}")
    below = words[words.index(word) - 1]
    assert bare(level=level - 0.01)["words"].endswith(f", {below}")


@pytest.mark.parametrize("level", [3, 7, 10])
def test_natural_hair_is_called_natural(level) -> None:
    assert bare(level=level, lifted=False)["words"] == f"level {level}, natural"


# Readings. Damp is 0.6 wet and at the basin 0.9, held a little bunched, 0.3.
WETNESS = {"damp": 0.6, "wet": 0.9}


@pytest.mark.parametrize("state", WETNESS)
@pytest.mark.parametrize("level", [7, 8.5, 9.7])
def test_hair_read_damp_or_wet_dries_to_what_it_is(level, state) -> None:
    ks = fibre_ks(level, 1.2)
    reading = {"lab": lab_of(wet_reflectance(ks, WETNESS[state], 0.3)), "state": state}
    # 0.05: read back to a hundredth of a level
    assert bare(reading=reading)["lab"] == pytest.approx(dry_lab(ks), abs=0.05)


def test_the_wetter_hair_is_said_to_be_the_paler_it_is_taken_for() -> None:
    dry = [
        bare(reading={"lab": [60, 6, 28], "state": state})["lab"][0]
        for state in ("dry", "damp", "wet")
    ]
    assert dry[0] + 3 < dry[1] < dry[2] - 3


# The flush, told from the colours alone


def flushes(colours, minute) -> bool:
    """Return whether hue is under 48° or over 330° and a* 1 above the first and last minute's."""
    _, a, b = colours[minute]
    hue = degrees(atan2(b, a)) % 360
    return (hue < 48 or hue > 330) and a >= max(colours[0][1], colours[-1][1]) + 1


@pytest.mark.parametrize(
    ("dyes", "some_flush"),
    [
        ({"violet": 0.3, "blue": 0.3}, True),
        ({"violet": 0.1, "blue": 0.1}, True),
        ({"blue": 0.5}, True),
        ({"violet": 0.2, "blue": 0.2, "yellow": 0.2}, True),
        ({"violet": 0.6}, False),  # pink it is, but it stays
    ],
)
def test_a_flush_is_told_just_when_the_pink_is_passing(dyes, some_flush) -> None:
    told = set()
    for level in (9, 10, 10.5):
        for product_class in ("neutral_demi", "permanent", "acid_demi"):
            strip = strip_of({"level": level}, of_dyes(product_class, **dyes))
            for look in ("on_head", "wiped"):
                colours = seen(strip, look)
                for minute, at in enumerate(strip):
                    expected = flushes(colours, minute)
                    assert ("flushed" in at[look]["words"]) == expected, (level, look, minute)
                    told.add(expected)
    assert told == {False, some_flush}


def test_a_flush_is_mauve_pink_towards_violet_and_pink_towards_orange() -> None:
    tones = set()
    for level in (9, 10, 10.5):
        for blue in (0.2, 0.35, 0.5):
            strip = strip_of({"level": level}, of_dyes(violet=0.2, blue=blue))
            for look in ("on_head", "wiped"):
                for (_, a, b), at in zip(seen(strip, look), strip, strict=True):
                    if "flushed" in at[look]["words"]:
                        hue = degrees(atan2(b, a)) % 360
                        tone = "mauve-pink" if hue > 330 or hue < 15 else "pink"
                        assert at[look]["words"].endswith(f"flushed {tone}")
                        tones.add(tone)
    assert tones == {"mauve-pink", "pink"}


def test_porosity_at_its_ends_is_hair_like_any_other() -> None:
    # common practice, no published source: the more porous, the more it takes, to the very ends
    ends = [
        asked(
            "predictions",
            {
                "hair": {"level": 10, "porosity": porosity},
                "mix": {"parts": [{"product": "toner", "grams": 30}], "minutes": 20},
                "products": [of_dyes(violet=0.3, blue=0.3)],
                "minutes": [20],
            },
        )["strip"][0]["if_rinsed"]["lab"][0]
        for porosity in (0, 0.25, 0.5, 0.75, 1)
    ]
    assert all(more < less for less, more in pairwise(ends))
