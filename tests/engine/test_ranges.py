"""Ranges mean what they say: on heads drawn from how unsure the hair is, they hold.

Heads are drawn as science states the uncertainty (normal in level, log warmth, log-odds of
porosity, log rate, log uptake) and developed by the engine; what is tested is the shortcut from
ten possible heads to a range and a chance, against 2,000 heads drawn at random.
"""

from dataclasses import replace
from math import exp

import numpy as np
import pytest

from basinside.contract.hair import Hair, Sure
from basinside.contract.mixes import Mix, Part
from basinside.contract.predictions import PredictionRequest
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.engine.colour.difference import delta_e_2000, residual_from
from basinside.engine.hair.head import Head, head_of, moved_porosity
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import heads_of, predict
from basinside.engine.timing.window import landing

QUESTIONS = 20
HEADS_EACH = 100
LOOKS = ("on_head", "wiped", "if_rinsed")


def drawn(rng: np.random.Generator, centre: Head, sure: Sure) -> Head:
    """Return one head at random from how unsure the described one is."""
    level, warmth, porosity, rate, uptake = rng.standard_normal(5)
    return replace(
        centre,
        level=centre.level + level * sure.level_sd,
        warmth=centre.warmth * exp(warmth * sure.log_warmth_sd),
        porosity=moved_porosity(centre.porosity, porosity * sure.porosity_sd / 0.25),
        rate=centre.rate * exp(rate * sure.log_rate_sd),
        uptake=centre.uptake * exp(uptake * sure.log_uptake_sd),
    )


def asked(rng: np.random.Generator) -> tuple[Hair, Product, int]:
    """Return varied hair, a product of two dyes, and a minute."""
    product_class = rng.choice(["neutral_demi", "alkaline_demi", "acid_demi", "permanent"])
    first, second = rng.choice(
        ["yellow", "orange", "red", "violet", "blue", "blue_green"], 2, replace=False
    )
    amounts = {first: rng.uniform(0.05, 0.5), second: rng.uniform(0.05, 0.5)}
    product = Product(
        id="p",
        name="p",
        line="Still",
        class_=str(product_class),
        level=9,
        tone=["natural"],
        dyes=Dyes(**{str(name): float(v) for name, v in amounts.items()}),
        window=MinuteSpan(1, 30),
        developer_percent=[1.9],
    )
    hair = Hair(level=float(rng.uniform(8, 10.5)), porosity=float(rng.uniform(0.3, 0.8)))
    return hair, product, int(rng.integers(3, 31))


def test_eight_in_ten_heads_lie_within_the_range_of_each_look() -> None:
    rng = np.random.default_rng(20)
    inside = dict.fromkeys(LOOKS, 0)
    for _ in range(QUESTIONS):
        hair, product, minute = asked(rng)
        mix = Mix([Part("p", 60)], minute)
        strip = predict(PredictionRequest(hair, mix, [product], minutes=[minute])).strip[0]
        development = Development(bowl_of(mix, {"p": product}))
        for _ in range(HEADS_EACH):
            looks = development.looks(drawn(rng, head_of(hair), hair.sure), minute)
            for look in LOOKS:
                colour = getattr(strip, look)
                gone = delta_e_2000(colour.lab, getattr(looks, look))
                inside[look] += gone <= colour.range.within_delta_e
    shares = {look: n / (QUESTIONS * HEADS_EACH) for look, n in inside.items()}
    assert all(0.75 <= share <= 0.85 for share in shares.values()), shares


def test_a_chance_is_the_share_that_lands_in_each_quarter_of_its_range() -> None:
    rng = np.random.default_rng(21)
    said: list[float] = []
    landed: list[float] = []
    for _ in range(60):
        hair, product, minute = asked(rng)
        mix = Mix([Part("p", 60)], minute)
        development = Development(bowl_of(mix, {"p": product}))
        heads = heads_of(hair, {"p": product})
        reached = np.array(development.if_rinsed(heads.centre, minute))
        results = [
            development.if_rinsed(drawn(rng, heads.centre, hair.sure), minute)
            for _ in range(HEADS_EACH)
        ]
        # wishes at, near and well off what the mix gives, so that every quarter is asked about
        for off in (0.0, 1.5, 3.0, 5.0):
            direction = rng.standard_normal(3)
            wish = tuple(reached + off * direction / np.linalg.norm(direction))
            tolerance = float(rng.uniform(2, 5))
            residual = residual_from(wish)
            at = landing(
                minute,
                [residual(development.if_rinsed(head, minute)) for head in heads.possible],
                tolerance,
            )
            said.append(at.chance)
            landed.append(sum(delta_e_2000(wish, lab) <= tolerance for lab in results) / HEADS_EACH)
    quarters = np.minimum((np.array(said) * 4).astype(int), 3)
    for quarter in range(4):
        asked_here = quarters == quarter
        assert asked_here.sum() >= 20, "too few questions in this quarter to tell"
        gap = np.mean(np.array(said)[asked_here]) - np.mean(np.array(landed)[asked_here])
        assert abs(gap) <= 0.05, (quarter, gap, int(asked_here.sum()))


@pytest.mark.parametrize("look", LOOKS)
def test_hair_known_exactly_has_no_range(look: str) -> None:
    rng = np.random.default_rng(22)
    hair, product, minute = asked(rng)
    exact = Hair(level=hair.level, porosity=hair.porosity, sure=Sure(0, 0, 0, 0, 0))
    request = PredictionRequest(exact, Mix([Part("p", 60)], minute), [product], minutes=[minute])
    colour = getattr(predict(request).strip[0], look)
    assert colour.range.within_delta_e == pytest.approx(0, abs=1e-6)
    assert [edge.hex for edge in colour.range.edges] == [colour.hex, colour.hex]


def test_the_less_sure_the_hair_the_wider_the_range() -> None:
    rng = np.random.default_rng(23)
    hair, product, minute = asked(rng)
    widths = []
    for scale in (0.25, 0.5, 1.0, 1.5):
        sure = Sure(0.3 * scale, 0.25 * scale, 0.15 * scale, 0.25 * scale, 0.2 * scale)
        unsure = Hair(level=hair.level, porosity=hair.porosity, sure=sure)
        request = PredictionRequest(
            unsure, Mix([Part("p", 60)], minute), [product], minutes=[minute]
        )
        widths.append(predict(request).strip[0].if_rinsed.range.within_delta_e)
    assert widths == sorted(widths)
    assert widths[0] < widths[-1] / 3
