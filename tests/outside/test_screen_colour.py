"""Lab to the screen against two independent implementations of sRGB and of CSS gamut mapping."""

import numpy as np
import pytest
from coloraide import Color

from basinside.engine.colour.srgb import hex_of

STEP = 1  # of 255: a value that lies on the border between two steps may fall either way
# Ours forgives 1e-4 of linear light, which near black is 12.92 times that once encoded: a third
# of a step. Nobody can see whether such a colour counts as inside.
BORDER = 1.3e-3


def bytes_of(shown: str) -> np.ndarray:
    return np.array([int(shown[i : i + 2], 16) for i in (1, 3, 5)])


def random_labs(count: int, chroma_limit: float) -> list[tuple[float, float, float]]:
    rng = np.random.default_rng(61966)
    lightness = rng.uniform(1, 99, count)
    chroma, hue = rng.uniform(0, chroma_limit, count), rng.uniform(0, 2 * np.pi, count)
    labs = np.stack([lightness, chroma * np.cos(hue), chroma * np.sin(hue)], axis=-1)
    return [tuple(map(float, lab)) for lab in labs]


def srgb(lab: tuple[float, float, float]) -> Color:
    """Return coloraide's sRGB of a Lab, unclipped."""
    return Color("lab-d65", lab).convert("srgb")


def test_colours_a_screen_can_show_agree_with_coloraide_to_one_step() -> None:
    # coloraide (lab-d65 to srgb); IEC 61966-2-1.
    fitting = 0
    for lab in random_labs(1500, 60):
        theirs = srgb(lab)
        if not theirs.in_gamut():
            continue
        fitting += 1
        ours, paled = hex_of(lab)
        assert not paled, lab
        assert np.abs(bytes_of(ours) - 255 * np.array(theirs.coords())).max() <= STEP, lab
    assert fitting > 500


def test_colours_a_screen_cannot_show_are_paled_as_css_color_4_says() -> None:
    # coloraide's gamut map "oklch-chroma", CSS Color 4, 13.2.2.
    outside = 0
    for lab in random_labs(700, 130):
        theirs = srgb(lab)
        if theirs.in_gamut(tolerance=BORDER):
            continue
        outside += 1
        ours, paled = hex_of(lab)
        assert paled, lab
        fitted = theirs.fit(method="oklch-chroma").coords()
        assert np.abs(bytes_of(ours) - 255 * np.array(fitted)).max() <= STEP, lab
    assert outside > 300


def test_colours_a_screen_can_show_agree_with_colour_science_to_one_step(colour_science) -> None:
    # colour-science: Lab_to_XYZ under sRGB's own white (0.3127, 0.3290), XYZ_to_sRGB.
    white = np.array([0.3127, 0.3290])
    compared = 0
    for lab in random_labs(500, 60):
        theirs = 255 * colour_science.XYZ_to_sRGB(
            colour_science.Lab_to_XYZ(np.array(lab), white), white
        )
        if theirs.min() < 0 or theirs.max() > 255:
            continue
        compared += 1
        assert np.abs(bytes_of(hex_of(lab)[0]) - theirs).max() <= STEP, lab
    assert compared > 150


@pytest.mark.parametrize(
    ("lab", "shown"), [((100.0, 0.0, 0.0), "#ffffff"), ((0.0, 0.0, 0.0), "#000000")]
)
def test_white_and_black_are_the_screens_own(lab, shown) -> None:
    # IEC 61966-2-1: D65 white is (255, 255, 255).
    assert hex_of(lab) == (shown, False)


def test_neutral_colours_stay_neutral_on_the_screen() -> None:
    # Lab's white is sRGB's white, so a* = b* = 0 must give equal channels.
    for lightness in range(101):
        red, green, blue = bytes_of(hex_of((float(lightness), 0.0, 0.0))[0])
        assert red == green == blue
