"""Hair: readings, white strands, directions of every property, and the rims of what is allowed."""

from dataclasses import replace
from math import isfinite

import pytest

from basinside.contract.hair import Hair, HairReading
from basinside.contract.mixes import Developer, Mix, Part
from basinside.contract.predictions import PredictionRequest
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.colour.lab import lab_of
from basinside.engine.hair.appearance import dry_reflectance, mixed
from basinside.engine.hair.head import head_of
from basinside.engine.hair.reading import bare_lab, read_hair
from basinside.engine.products.classes import CLASSES, levels_lifted
from basinside.engine.timing.kinetics import in_hair
from basinside.engine.timing.predict import predict


def product(product_class: str = "neutral_demi", percent: float = 1.9, **dyes: float) -> Product:
    return Product(
        id="p",
        name="p",
        line="Still",
        class_=product_class,
        level=9,
        tone=["natural"],
        dyes=Dyes(**(dyes or {"violet": 0.3, "blue": 0.2})),
        window=MinuteSpan(0, 120),
        developer_percent=[] if product_class == "direct" else [percent],
    )


def dried(hair: Hair, minute: int = 20, made: Product | None = None) -> tuple:
    request = PredictionRequest(
        hair, Mix([Part("p", 60)], minute), [made or product()], minutes=[minute]
    )
    return predict(request).strip[0].if_rinsed.lab


# --- readings -----------------------------------------------------------------------------------


@pytest.mark.parametrize("state", ["dry", "damp", "wet"])
@pytest.mark.parametrize("lifted", [True, False])
@pytest.mark.parametrize("level", [2.5, 5.0, 6.5, 8.0, 9.3, 10.0])
@pytest.mark.parametrize("warmth", [0.7, 1.0, 1.5])
def test_a_reading_of_hair_gives_back_a_hair_of_that_colour(
    state: str, lifted: bool, level: float, warmth: float
) -> None:
    known = Hair(level=level, warmth=warmth, lifted=lifted)
    colour = bare_lab(head_of(known), state)
    read = read_hair(Hair(lifted=lifted, reading=HairReading(colour, state)))
    assert delta_e_2000(bare_lab(head_of(read), state), colour) < 0.05


@pytest.mark.parametrize("level", [8.5, 9.0, 9.5, 10.0])
@pytest.mark.parametrize("state", ["dry", "damp", "wet"])
def test_a_reading_of_blonde_gives_back_its_level(level: float, state: str) -> None:
    colour = bare_lab(head_of(Hair(level=level)), state)
    read = read_hair(Hair(reading=HairReading(colour, state)))
    assert read.level == pytest.approx(level, abs=0.01)
    assert read.warmth == pytest.approx(1.0, abs=0.02)


def test_a_wiped_strand_at_minute_nought_read_wet_is_the_hair_it_came_from() -> None:
    hair = Hair(level=9.4, warmth=1.2)
    request = PredictionRequest(hair, Mix([Part("p", 60)], 0), [product()], minutes=[0])
    wiped = predict(request).strip[0].wiped.lab
    read = read_hair(Hair(reading=HairReading(wiped, "wet")))
    assert (read.level, read.warmth) == pytest.approx((9.4, 1.2), abs=0.01)


def test_the_same_hair_read_wet_as_if_dry_would_be_taken_for_darker() -> None:
    wet = bare_lab(head_of(Hair(level=10)), "wet")
    assert read_hair(Hair(reading=HairReading(wet, "dry"))).level < 9


# --- strands ------------------------------------------------------------------------------------


def test_white_strands_mix_as_light_does_not_as_pigment_does() -> None:
    head = replace(head_of(Hair(level=5, lifted=False)), white_share=0.5)
    (half, dark), (_, white) = head.strands()
    assert half == 0.5
    by_light = lab_of(mixed([(0.5, dry_reflectance(dark)), (0.5, dry_reflectance(white))]))
    by_pigment = lab_of(dry_reflectance([(p + q) / 2 for p, q in zip(dark, white, strict=True)]))
    assert dried(Hair(level=5, lifted=False, white_share=0.5), 0) == pytest.approx(by_light)
    assert by_light[0] > by_pigment[0] + 10


# --- directions ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("less", "more"),
    [
        (Hair(level=10, porosity=0.3), Hair(level=10, porosity=0.7)),
        (Hair(level=10, uptake=0.8), Hair(level=10, uptake=1.2)),
        (Hair(level=10, rate=0.7), Hair(level=10, rate=1.4)),
        (Hair(level=10, damp=1.0), Hair(level=10, damp=0.0)),
    ],
    ids=["porosity", "uptake", "rate", "dryness"],
)
def test_more_of_it_takes_more_dye(less: Hair, more: Hair) -> None:
    bare = bare_lab(head_of(Hair(level=10)), "dry")
    assert delta_e_2000(bare, dried(less, 10)) < delta_e_2000(bare, dried(more, 10))


def test_twice_the_developer_at_the_same_strength_thins_the_dye_by_a_third() -> None:
    # (1 + r0) / (1 + r) with r0 = 1, r = 2
    hair, made = Hair(level=10), product()
    thin = PredictionRequest(
        hair,
        Mix([Part("p", 60)], 20, Developer(1.9, 120)),
        [made],
        minutes=[20],
    )
    weaker = product(violet=0.3 * 2 / 3, blue=0.2 * 2 / 3)
    assert predict(thin).strip[0].if_rinsed.lab == pytest.approx(dried(hair, 20, weaker))


def test_dye_already_there_leaves_less_room_for_more() -> None:
    def change(already: list[Mix]) -> float:
        hair = Hair(level=10, already_on=already)
        return delta_e_2000(dried(hair, 0), dried(hair, 20))

    first = Mix([Part("p", 60)], 20)
    assert change([]) > change([first]) > change([first, first])


# --- lift (common practice, no published source) -------------------------------------------------


def test_only_alkaline_classes_lift_and_more_peroxide_lifts_more() -> None:
    lifts = {
        name: [levels_lifted(row, percent, 20, lifted=False) for percent in (0.6, 3, 6, 9, 12)]
        for name, row in CLASSES.items()
    }
    assert lifts["permanent"][0] == 0
    assert lifts["permanent"] == sorted(lifts["permanent"])
    assert lifts["permanent"][-1] > lifts["alkaline_demi"][-1] > 0
    assert all(not any(lifts[name]) for name in ("neutral_demi", "acid_demi", "direct"))


def test_a_permanent_on_natural_hair_lightens_and_warms_it_and_never_past_the_palest() -> None:
    clear = Product(
        id="p",
        name="p",
        line="Cobble",
        class_="permanent",
        level=9,
        tone=["clear"],
        window=MinuteSpan(0, 60),
        developer_percent=[12],
    )
    before, after = (dried(Hair(level=6, lifted=False), t, clear) for t in (0, 40))
    assert after[0] > before[0] + 5
    assert after[2] > before[2] + 5
    palest, still = (dried(Hair(level=10.5), t, clear) for t in (0, 60))
    assert delta_e_2000(palest, still) < 1e-9


# --- rims ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("product_class", CLASSES)
@pytest.mark.parametrize("level", [1.0, 10.5])
@pytest.mark.parametrize("porosity", [0.0, 1.0])
def test_hair_at_the_rims_gives_finite_colours_at_every_minute(
    product_class: str, level: float, porosity: float
) -> None:
    for lifted in (True, False):
        hair = Hair(level=level, porosity=porosity, lifted=lifted, rate=5, uptake=5, warmth=5)
        request = PredictionRequest(
            hair,
            Mix([Part("p", 60)], 120),
            [product(product_class, violet=5, yellow=5)],
            minutes=[0, 1, 60, 120],
        )
        for minute in predict(request).strip:
            for colour in (minute.on_head, minute.wiped, minute.if_rinsed):
                assert all(isfinite(v) for v in (*colour.lab, colour.range.within_delta_e))


def test_kinetics_go_on_smoothly_where_two_steps_run_at_one_rate() -> None:
    # in-diffusion as fast as colour forms: 3.0 · (1.6 − 1.2 p) = 2.5 / 1.0137
    same = (1.6 - 2.5 / 1.0137 / 3.0) / 1.2
    for step in (1e-3, 1e-5, 1e-7):
        low, here, high = (in_hair("neutral_demi", same + d, 7.0) for d in (-step, 0, step))
        for stage in (0, 1):
            for a, b, c in zip(low[stage], here[stage], high[stage], strict=True):
                assert min(a, c) - 1e-4 <= b <= max(a, c) + 1e-4
