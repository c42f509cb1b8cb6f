"""CIEDE2000 against its authors' table and against an independent implementation."""

import math

import numpy as np
import pytest

from basinside.engine.colour.difference import delta_e_2000, residual_from

# Sharma, Wu & Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes,
# Supplementary Test Data, and Mathematical Observations", Color Res. Appl. 30 (2005) 21-30,
# table 1: the two colours and their difference, to the 4 decimals printed there.
SHARMA_WU_DALAL = [
    ((50.0000, 2.6772, -79.7751), (50.0000, 0.0000, -82.7485), 2.0425),
    ((50.0000, 3.1571, -77.2803), (50.0000, 0.0000, -82.7485), 2.8615),
    ((50.0000, 2.8361, -74.0200), (50.0000, 0.0000, -82.7485), 3.4412),
    ((50.0000, -1.3802, -84.2814), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -1.1848, -84.8006), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -0.9009, -85.5211), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, 0.0000, 0.0000), (50.0000, -1.0000, 2.0000), 2.3669),
    ((50.0000, -1.0000, 2.0000), (50.0000, 0.0000, 0.0000), 2.3669),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0009), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0010), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0011), 7.2195),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0012), 7.2195),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0009, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0010, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0011, -2.4900), 4.7461),
    ((50.0000, 2.5000, 0.0000), (50.0000, 0.0000, -2.5000), 4.3065),
    ((50.0000, 2.5000, 0.0000), (73.0000, 25.0000, -18.0000), 27.1492),
    ((50.0000, 2.5000, 0.0000), (61.0000, -5.0000, 29.0000), 22.8977),
    ((50.0000, 2.5000, 0.0000), (56.0000, -27.0000, -3.0000), 31.9030),
    ((50.0000, 2.5000, 0.0000), (58.0000, 24.0000, 15.0000), 19.4535),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.1736, 0.5854), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2972, 0.0000), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 1.8634, 0.5757), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]
PRINTED = 0.5e-4  # half of the last printed decimal


def random_pairs() -> list[tuple[tuple[float, float, float], tuple[float, float, float]]]:
    """Return 2,000 pairs: half anywhere in CIELAB, half close together, as matches are."""
    rng = np.random.default_rng(2005)
    first = rng.uniform((0, -100, -100), (100, 100, 100), (2000, 3))
    second = rng.uniform((0, -100, -100), (100, 100, 100), (2000, 3))
    second[1000:] = first[1000:] + rng.normal(0, 3, (1000, 3))
    return [
        (tuple(map(float, p)), tuple(map(float, q))) for p, q in zip(first, second, strict=True)
    ]


@pytest.mark.parametrize(("first", "second", "printed"), SHARMA_WU_DALAL)
def test_every_pair_of_the_authors_differs_by_what_they_print(first, second, printed) -> None:
    assert delta_e_2000(first, second) == pytest.approx(printed, abs=PRINTED)


@pytest.mark.parametrize(("first", "second", "printed"), SHARMA_WU_DALAL)
def test_the_typed_table_is_what_an_independent_implementation_gives(
    colour_science, first, second, printed
) -> None:
    # colour-science, delta_E_CIE2000: guards this table against a slip of the typist.
    theirs = colour_science.difference.delta_E_CIE2000(np.array(first), np.array(second))
    assert theirs == pytest.approx(printed, abs=PRINTED)


def test_two_thousand_random_pairs_agree_with_colour_science(colour_science) -> None:
    # colour-science, delta_E_CIE2000: the same closed form in the same doubles, so only the
    # order of operations may differ; 1e-10 leaves four digits above rounding.
    pairs = random_pairs()
    theirs = colour_science.difference.delta_E_CIE2000(
        np.array([p for p, _ in pairs]), np.array([q for _, q in pairs])
    )
    ours = [delta_e_2000(p, q) for p, q in pairs]
    assert np.abs(np.array(ours) - theirs).max() < 1e-10


def test_the_difference_vector_is_as_long_as_the_difference() -> None:
    # An identity, not a table: the rotation term is a quadratic form folded into the vector.
    # The vector leaves out rotations of 1e-8 at hues far from blue, hence 1e-6.
    for target, lab in random_pairs():
        assert math.hypot(*residual_from(target)(lab)) == pytest.approx(
            delta_e_2000(target, lab), abs=1e-6
        )


def test_the_difference_is_the_same_both_ways_and_zero_to_itself() -> None:
    # Sharma, Wu & Dalal (2005), p. 24: the formula is symmetric in its two colours.
    for first, second in random_pairs():
        assert delta_e_2000(first, second) == pytest.approx(delta_e_2000(second, first), abs=1e-10)
        assert delta_e_2000(first, first) == 0.0


@pytest.mark.parametrize("hue_degrees", [20, 80, 170, 260, 350])
@pytest.mark.parametrize("step_radians", [1e-4, 1e-6, 1e-8])
def test_hues_a_hair_apart_keep_their_digits_in_the_vector(hue_degrees, step_radians):
    """The chord of a tiny turn is the turn itself (a limit of geometry, no table needed)."""
    chroma, hue = 20.0, math.radians(hue_degrees)
    first = (70.0, chroma * math.cos(hue), chroma * math.sin(hue))
    turned = hue + step_radians
    second = (70.0, chroma * math.cos(turned), chroma * math.sin(turned))
    # Ten times the turn is ten times as far, where the digits lost to a cosine would drown both.
    ten = hue + 10 * step_radians
    third = (70.0, chroma * math.cos(ten), chroma * math.sin(ten))
    residual = residual_from(first)
    assert math.hypot(*residual(third)) == pytest.approx(
        10 * math.hypot(*residual(second)), rel=2e-3
    )
