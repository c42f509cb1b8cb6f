"""Everyday mixes on everyday hair, worked out once by a sketch of the model on its own.

Dry, porosity 0.5, put on dry, to whole numbers; ± 1 each. No published source: no table of
CIELAB by level and shade was found. "P" is a permanent for 45 minutes, "D" a neutral demi for 20.
Where this model has moved away from the sketch, a comment says from what and why.
"""

import pytest
from asking import asked, described

Lab = tuple[float, float, float]


def shade(kind: str, level: float, tone: str, percent: float = 6.0, named: str = "toner") -> dict:
    product_class = {"P": "permanent", "D": "neutral_demi"}[kind]
    return described(
        product_class,
        id=named,
        level=level,
        tone=[tone],
        developer_percent=[percent if kind == "P" else 1.9],
        window={"min": 1, "max": 45 if kind == "P" else 20},
    )


def dried(hair: dict, *shades: dict, minutes: int | None = None) -> tuple[Lab, str]:
    """Return colour and words of hair after these, each for its full time; the last `minutes`."""
    mixes = [
        {"parts": [{"product": one["id"], "grams": 30}], "minutes": one["window"]["max"]}
        for one in shades
    ]
    last = mixes[-1] | {"minutes": minutes or mixes[-1]["minutes"]}
    body = {
        "hair": {"damp": 0, "already_on": mixes[:-1]} | hair,
        "mix": last,
        "products": list(shades),
        "minutes": [last["minutes"]],
    }
    look = asked("predictions", body)["strip"][0]["if_rinsed"]
    return tuple(look["lab"]), look["words"]


def natural(level: float, white: float = 0.0) -> dict:
    return {"level": level, "lifted": False, "white_share": white}


NATURAL_ON_ITS_OWN_LEVEL = {
    3: (22, 4, 7),
    4: (26, 5, 11),
    5: (31, 5, 14),
    6: (37, 5, 17),
    7: (44, 6, 20),
}
ON_HALF_WHITE = {4: (27, 5, 11), 5: (32, 5, 14), 6: (38, 5, 17), 7: (45, 6, 20)}
ON_WHITE = {4: (28, 5, 11), 6: (39, 5, 16), 7: (46, 6, 19)}


@pytest.mark.parametrize("level", NATURAL_ON_ITS_OWN_LEVEL)
def test_a_natural_shade_leaves_natural_hair_of_its_level_at_its_level(level) -> None:
    lab, words = dried(natural(level), shade("P", level, "natural"))
    assert lab == pytest.approx(NATURAL_ON_ITS_OWN_LEVEL[level], abs=1)
    assert words == f"level {level}, natural"


@pytest.mark.parametrize("level", ON_HALF_WHITE)
def test_a_natural_shade_makes_half_white_hair_its_level(level) -> None:
    lab, words = dried(natural(level, 0.5), shade("P", level, "natural"))
    assert lab == pytest.approx(ON_HALF_WHITE[level], abs=1)
    assert words == f"level {level}, natural"


@pytest.mark.parametrize("level", ON_WHITE)
def test_a_natural_shade_makes_white_hair_its_level(level) -> None:
    lab, words = dried(natural(level, 1.0), shade("P", level, "natural"))
    assert lab == pytest.approx(ON_WHITE[level], abs=1)
    assert words == f"level {level}, natural"


@pytest.mark.parametrize(
    ("hair", "mix", "lab", "words"),
    [
        (natural(6, 0.5), shade("D", 6, "natural"), (37, 5, 16), "level 6, natural"),
        # the sketch kept pale natural shades to white hair, (61, 4, 15) and (53, 3, 20): on
        # lifted hair they then missed their own name by 4 to 10 CIEDE2000
        (natural(5, 0.5), shade("P", 9, "natural"), (58, 5, 12), "level 8½, beige"),
        (natural(7), shade("P", 8, "natural"), (51, 3, 20), "level 8, natural"),
        (natural(5), shade("P", 5, "ash"), (29, 1, 10), "level 4½, ash"),
        (natural(7), shade("P", 7, "ash"), (40, 0, 11), "level 7, ash"),
        (natural(7), shade("P", 7, "red"), (42, 26, 17), "level 7, red"),
        (natural(5), shade("P", 7, "natural", 6), (39, 7, 22), "level 6,"),
        (natural(5), shade("P", 7, "natural", 9), (42, 6, 21), "level 6½,"),
        (natural(5), shade("P", 7, "natural", 12), (44, 6, 20), "level 6½,"),
    ],
)
def test_permanents_on_natural_hair(hair, mix, lab, words) -> None:
    made, told = dried(hair, mix)
    assert made == pytest.approx(lab, abs=1)
    assert told.startswith(words)


def test_a_darker_natural_over_a_natural_darkens_coloured_hair() -> None:
    first, second = shade("P", 6, "natural", named="six"), shade("P", 4, "natural", 3, named="four")
    made, told = dried(natural(6), first, second, minutes=30)
    assert made == pytest.approx((29, 5, 12), abs=1)
    assert told == "level 4½, natural"


@pytest.mark.parametrize(
    ("level", "mix", "lab", "words"),
    [
        (9, shade("D", 6, "natural"), (41, 6, 19), "level 6½, natural"),
        (9, shade("D", 9, "beige"), (59, 2, 14), "level 9, beige"),
        (9, shade("D", 9, "ash"), (58, -1, 12), "level 9, ash"),
        (9, shade("D", 9, "violet"), (56, 4, 5), "level 9, rose beige"),
        (10, shade("D", 10, "beige"), (74, 3, 13), "level 10, beige"),
        (10, shade("D", 10, "ash"), (72, -1, 11), "level 10, ash"),
        (10, shade("D", 10, "pearl"), (72, 3, 9), "level 10, beige"),
        (10, shade("D", 10, "natural"), (75, 2, 18), "level 9½, yellow"),
        (10, shade("D", 10, "blue violet"), (72, 0, 8), "level 10, beige"),
        # the sketch made level 8 half for natural hair, (44, 0, 17): an 8 beige then missed its
        # name by 9 on lifted 8, and by 2 here
        (8, shade("D", 8, "ash"), (45, 0, 16), "level 7, ash"),
    ],
)
def test_toners_on_lifted_hair(level, mix, lab, words) -> None:
    warmth = 1.55 if level == 8 else 1.0
    made, told = dried({"level": level, "warmth": warmth}, mix)
    assert made == pytest.approx(lab, abs=1)
    assert told == words
