"""A range for one unknown at a time: each must widen by its own standard deviation, and no other's.

With everything unsure at once a range that forgot porosity would hardly show it. The tube's dyes
are given, and the model is taken as exact here: what it says of itself is judged elsewhere.
"""

from math import exp, log

import msgspec
import numpy as np
import pytest
from asking import of_dyes, strip_of

from basinside.contract.hair import Hair
from basinside.contract.mixes import Mix, Part
from basinside.contract.products import Product
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.hair.head import head_of
from basinside.engine.timing import doubt
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development


@pytest.fixture(autouse=True)
def the_model_is_exact(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("_DRY_FLOOR", "_DRY_MOST", "_LADDER", "_WET_FLOOR", "_WET_SHARE"):
        monkeypatch.setattr(doubt, name, 0.0)


DRAWN = 400
MINUTES = 9  # still developing, so that how fast the head is matters
KNOWN = dict.fromkeys(
    ("level_sd", "log_warmth_sd", "porosity_sd", "log_rate_sd", "log_uptake_sd"), 0.0
)
USUAL = {
    "level_sd": 0.3,
    "log_warmth_sd": 0.25,
    "porosity_sd": 0.15,
    "log_rate_sd": 0.25,
    "log_uptake_sd": 0.2,
}
TONER = of_dyes(violet=0.3, blue=0.3)
# 80 % inside is the promise. Of 400 heads the share has a standard error of two points; the rest
# is for an answer that bends. Half the deviation would hold 48 %, twice it 99 %.
INSIDE = (0.72, 0.88)


def moved(hair: Hair, unknown: str, z: float) -> Hair:
    """Return the hair with one property z standard deviations away, as the contract means them."""
    step = z * USUAL[unknown]
    match unknown:
        case "level_sd":
            return msgspec.structs.replace(hair, level=hair.level + step)
        case "porosity_sd":
            # told at porosity 0.5, where log-odds have slope 4
            odds = log(hair.porosity / (1 - hair.porosity)) + 4 * step
            return msgspec.structs.replace(hair, porosity=1 / (1 + exp(-odds)))
    name = unknown.removeprefix("log_").removesuffix("_sd")
    return msgspec.structs.replace(hair, **{name: getattr(hair, name) * exp(step)})


@pytest.mark.parametrize(("level", "porosity"), [(8.5, 0.5), (9.5, 0.35), (10, 0.65)])
@pytest.mark.parametrize("unknown", USUAL)
def test_four_in_five_heads_are_inside_when_one_thing_is_unsure(unknown, level, porosity) -> None:
    sure = KNOWN | {unknown: USUAL[unknown]}
    described = {"level": level, "porosity": porosity, "sure": sure}
    told = strip_of(described, TONER, minutes=[MINUTES])[0]["if_rinsed"]
    product = msgspec.convert(TONER, Product)
    development = Development(bowl_of(Mix([Part("toner", 30)], MINUTES), {"toner": product}))
    hair = Hair(level=level, porosity=porosity)
    inside = [
        delta_e_2000(told["lab"], development.if_rinsed(head_of(moved(hair, unknown, z)), MINUTES))
        <= told["range"]["within_delta_e"]
        for z in np.random.default_rng(80).standard_normal(DRAWN)
    ]
    assert INSIDE[0] <= np.mean(inside) <= INSIDE[1]


def test_hair_known_in_everything_has_no_range() -> None:
    told = strip_of({"level": 9.5, "sure": KNOWN}, TONER, minutes=[MINUTES])[0]
    for look in ("on_head", "wiped", "if_rinsed"):
        # a hue difference of nothing is the root of a rounding error: 1e-6
        assert told[look]["range"]["within_delta_e"] == pytest.approx(0, abs=1e-6)
        for edge in told[look]["range"]["edges"]:
            assert edge["lab"] == pytest.approx(told[look]["lab"], abs=1e-6)
