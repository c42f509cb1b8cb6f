"""What is put on hair, and in which order: white strands, clock, lift, dye already there.

How porosity, damp, peroxide and dye already there act is common practice, no published source;
the numbers are the model's stated rules, written here a second time.
"""

from itertools import pairwise
from itertools import product as every
from math import exp

import numpy as np
import pytest
from asking import OXIDATION_CLASSES, asked, clear, of_dyes, seen, strip_of

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.hair.appearance import dry_lab
from basinside.engine.hair.fibre import fibre_ks
from basinside.engine.products.classes import CLASSES
from basinside.engine.products.dyes import DYES
from basinside.engine.timing.kinetics import in_hair

MIX = {"violet": 0.3, "blue": 0.3}
CIE_EPSILON, CIE_KAPPA = 216 / 24389, 24389 / 27


def dry(strip) -> list[list[float]]:
    return seen(strip, "if_rinsed")


# White strands


def tristimulus(lab) -> np.ndarray:
    """Return XYZ over white from CIELAB: CIE 015:2018, the inverse written out here."""
    fy = (lab[0] + 16) / 116
    f = np.array([fy + lab[1] / 500, fy, fy - lab[2] / 200])
    return np.where(f**3 > CIE_EPSILON, f**3, (116 * f - 16) / CIE_KAPPA)


@pytest.mark.parametrize("minute", [0, 20])
def test_white_strands_among_dark_ones_mix_as_light_does_toned_or_not(minute) -> None:
    def xyz(share: float) -> np.ndarray:
        hair = {"level": 4, "lifted": False, "white_share": share}
        return tristimulus(dry(strip_of(hair, of_dyes(**MIX), minutes=[minute]))[0])

    for share in (0.1, 0.4, 0.75):
        assert xyz(share) == pytest.approx((1 - share) * xyz(0) + share * xyz(1), abs=1e-9)


def test_hair_all_white_has_no_level() -> None:
    dark, pale = (
        dry(strip_of({"level": level, "white_share": 1}, of_dyes(**MIX))) for level in (2, 9)
    )
    assert np.array(dark) == pytest.approx(np.array(pale), abs=1e-9)


# The head's own clock and thirst


def test_uptake_makes_up_for_the_water_in_damp_hair() -> None:
    # damp hair takes 1 - 0.15 damp
    one = dry(strip_of({"level": 10, "damp": 0}, of_dyes(**MIX)))
    other = dry(strip_of({"level": 10, "damp": 1, "uptake": 1 / 0.85}, of_dyes(**MIX)))
    assert np.array(one) == pytest.approx(np.array(other), abs=1e-9)


def test_a_head_twice_as_fast_is_at_minute_5_where_others_are_at_10() -> None:
    usual = strip_of({"level": 10, "rate": 1}, of_dyes(**MIX))
    fast = strip_of({"level": 10, "rate": 2}, of_dyes(**MIX))
    for look in ("wiped", "if_rinsed"):
        assert seen(fast, look)[5] == pytest.approx(seen(usual, look)[10])
    # the product on top keeps its own time
    assert seen(fast, "on_head")[5] != pytest.approx(seen(usual, "on_head")[10], abs=0.1)


# Lift


def lightened(product_class: str, hair: dict, percent: float, minutes: int) -> list[float]:
    """Return dry hair after the clear of a class with developer of this strength."""
    one = clear(product_class) | {"developer_percent": [percent]}
    one |= {"window": {"min": 1, "max": 60}}
    return dry(strip_of(hair, one, minutes=[minutes]))[0]


@pytest.mark.parametrize(
    ("product_class", "percent", "minutes"),
    [("permanent", 6, 30), ("permanent", 9, 45), ("permanent", 12, 20), ("alkaline_demi", 12, 60)],
)
@pytest.mark.parametrize("lifted", [True, False])
def test_alkaline_classes_lift_by_strength_and_time_and_less_on_lifted_hair(
    product_class, percent, minutes, lifted
) -> None:
    factor = {"permanent": 1, "alkaline_demi": 0.15}[product_class]
    if lifted:
        levels = factor * (percent / 3 - 0.5) * (1 - exp(-minutes / 20)) / 2
    else:
        levels = factor * (percent / 3 - 0.2) * (1 - exp(-minutes / 15))
    # natural hair shows the whole warmth of its new level once a level up
    warm = 1.0 if lifted else min(1.0, levels)
    expected = dry_lab(fibre_ks(7 + levels, 1.0, warm))
    after = lightened(product_class, {"level": 7, "lifted": lifted}, percent, minutes)
    assert after == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("product_class", ["neutral_demi", "acid_demi"])
def test_a_class_without_alkali_never_lifts(product_class) -> None:
    hair = {"level": 7, "lifted": False}
    assert lightened(product_class, hair, 12, 60) == lightened(product_class, hair, 12, 0)


def test_nothing_lifts_past_ten_and_a_half() -> None:
    palest = dry_lab(fibre_ks(10.5))
    for level in (10, 10.5):
        after = lightened("permanent", {"level": level}, 12, 60)
        assert after == pytest.approx(palest, abs=1e-9)


def test_developer_too_weak_to_lift_does_not_darken() -> None:
    # under 0.6 %, and on lifted hair under 1.5 %, the rule by itself would go below zero
    for lifted, percent in ((False, 0.5), (True, 1)):
        hair = {"level": 7, "lifted": lifted}
        assert lightened("permanent", hair, percent, 45) == lightened("permanent", hair, percent, 0)


# Already on


def after(*mixes: str) -> list[float]:
    """Return dry hair after these, each for 20 minutes, oldest first."""
    shelf = [
        of_dyes("direct", named="shampoo", blue_violet_direct=0.3),
        of_dyes(named="toner", **MIX),
        of_dyes(named="gold", yellow=0.4, orange=0.1),
    ]
    on = [{"parts": [{"product": mix, "grams": 20}], "minutes": 20} for mix in mixes]
    body = {
        "hair": {"level": 10, "already_on": on},
        "mix": {"parts": [{"product": "toner", "grams": 20}], "minutes": 20},
        "products": shelf,
        "minutes": [0],
    }
    return dry(asked("predictions", body)["strip"])[0]


def test_what_a_mix_leaves_today_is_what_is_already_on_tomorrow() -> None:
    today = dry(strip_of({"level": 10}, of_dyes(**MIX)))[-1]
    assert after("toner") == pytest.approx(today, abs=1e-9)


def test_what_went_on_first_took_the_places_so_order_matters() -> None:
    shampoo_first, gold_first = after("shampoo", "gold"), after("gold", "shampoo")
    assert delta_e_2000(shampoo_first, gold_first) > 0.5
    assert shampoo_first[2] < gold_first[2]  # b*: more of the violet stayed, less of the gold


def test_each_helping_of_a_mix_does_less_than_the_one_before() -> None:
    colours = [after(*["toner"] * times) for times in range(4)]
    steps = [delta_e_2000(one, two) for one, two in pairwise(colours)]
    assert steps[0] > steps[1] > steps[2] > 0


def test_dye_already_there_divides_uptake_by_at_most_1_75() -> None:
    young, fixed = in_hair("permanent", 0.5, 30.0)
    at = [dye.name for dye in DYES].index("blue")
    # permanent takes up 1.2 and keeps a tenth of the young
    stays = fixed[at] + 0.1 * young[at]
    first = 1.2 * stays * 0.5
    second = first / (1 + 1.5 * first / (1 + 2 * first))
    spectrum = [
        (f * fixed[at] + 0.1 * y * young[at]) / stays
        for f, y in zip(DYES[at].fixed, DYES[at].young, strict=True)
    ]
    ks = [q + (first + second) * s for q, s in zip(fibre_ks(10), spectrum, strict=True)]
    blue = of_dyes("permanent", blue=0.5) | {"developer_percent": [1]}  # too weak to lift
    on = {"parts": [{"product": "toner", "grams": 20}], "minutes": 30}
    hair = {"level": 10, "damp": 0, "already_on": [on]}
    assert dry(strip_of(hair, blue))[-1] == pytest.approx(dry_lab(ks), abs=1e-9)


# Kinetics where two steps run at one rate


def chained(rates: list[float], minutes: float) -> np.ndarray:
    """Return the shares in each stage of a chain of first-order steps: exp(matrix x time).

    By Taylor's series on a 2^20th of the time, then squared twenty times.
    """
    n = len(rates)
    flow = np.zeros((n + 1, n + 1))
    for i, rate in enumerate(rates):
        flow[i, i], flow[i + 1, i] = -rate, rate
    small = flow * minutes / 2**20
    step = np.eye(n + 1) + small + small @ small / 2 + small @ small @ small / 6
    for _ in range(20):
        step = step @ step
    return step[:, 0]


def forming_and_fixing(dye: int) -> tuple[float, float]:
    return 1.0137 / DYES[dye].colour_min, 1.0291 / DYES[dye].fix_min


def equal_rates() -> list[tuple[str, int, float]]:
    """Return (class, dye, porosity) wherever dye enters as fast as it forms, or as it fixes."""
    found = []
    for name, dye in every(OXIDATION_CLASSES, range(6)):
        for rate in forming_and_fixing(dye):
            # in-diffusion takes in_min x (1.6 - 1.2 porosity)
            porosity = (1.6 - 1 / (rate * CLASSES[name].in_min)) / 1.2
            if 0 <= porosity <= 1:
                found.append((name, dye, porosity))
    return found


@pytest.mark.parametrize(("product_class", "dye", "porosity"), equal_rates())
def test_porosity_at_which_two_steps_run_at_one_rate_is_no_special_case(
    product_class, dye, porosity
) -> None:
    row = CLASSES[product_class]
    populations = ((1 - row.slow_share, row.in_min), (row.slow_share, row.slow_min))
    slowness = 1.6 - 1.2 * porosity
    for minutes in (1.0, 5.0, 20.0):
        stages = sum(
            share * chained([1 / (in_min * slowness), *forming_and_fixing(dye)], minutes)
            for share, in_min in populations
        )
        for off in (-1e-6, 0, 1e-6):
            shares = np.array(in_hair(product_class, porosity + off, minutes))[:, dye]
            # the closed form stands a ten-thousandth aside there
            assert shares == pytest.approx(stages[2:], abs=1e-4)
