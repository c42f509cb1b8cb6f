"""What washing takes out: by class, by porosity, and what is left after thirty washes.

Washes by class are common practice, no published source, but for permanent colour.
"""

from itertools import pairwise
from math import dist

import msgspec
import pytest
from asking import described

from basinside.contract.hair import Hair
from basinside.contract.mixes import Developer, Mix, Part
from basinside.contract.products import Product
from basinside.engine.hair.appearance import dry_strands_lab
from basinside.engine.hair.head import head_of
from basinside.engine.timing.development import after_what_is_on
from basinside.engine.timing.washing import after_one_wash, after_washes, washed_out


def permanent(level: int, tone: str) -> Product:
    one = described("permanent", level=level, tone=[tone], developer_percent=[6])
    return msgspec.convert(one | {"window": {"min": 1, "max": 45}}, Product)


def white_with(product: Product, porosity: float = 0.5) -> Hair:
    on = Mix([Part(product.id, 30)], 45, Developer(6, 30))
    return Hair(level=5, lifted=False, white_share=1.0, porosity=porosity, already_on=[on])


def kept(product: Product, washes: int, porosity: float = 0.5) -> float:
    """Return the share of the colour change that washing leaves, by CIELAB distance."""
    hair, shelf = white_with(product, porosity), {product.id: product}
    bare, dyed, left = (
        dry_strands_lab(head.strands())
        for head in (
            head_of(hair),
            after_what_is_on(head_of(hair), hair, shelf),
            after_washes(head_of(hair), hair, shelf, washes),
        )
    )
    return dist(bare, left) / dist(bare, dyed)


@pytest.mark.parametrize(
    ("level", "tone"), [(5, "natural"), (6, "red"), (7, "natural"), (7, "copper"), (8, "natural")]
)
def test_permanent_cover_keeps_over_90_percent_of_its_colour_after_30_washes(level, tone) -> None:
    # IFSCC Magazine 11 (2008) 139-142, abstract: over 90 % of the colour result after 30 washes
    product = permanent(level, tone)
    assert kept(product, 30) > 0.9
    # and it does fade: a hundred washes are seen
    assert kept(product, 100) < 0.9


@pytest.mark.parametrize(
    ("product_class", "washes"),
    [("direct", 8), ("acid_demi", 20), ("neutral_demi", 24), ("alkaline_demi", 28)],
)
def test_a_class_is_down_to_a_tenth_after_as_many_washes_as_is_said_of_it(
    product_class, washes
) -> None:
    assert (1 - washed_out(product_class)) ** washes == pytest.approx(0.1)


@pytest.mark.parametrize("product_class", ["direct", "acid_demi", "neutral_demi", "permanent"])
def test_porous_hair_fades_sooner(product_class) -> None:
    # common practice, no published source
    lost = [washed_out(product_class, porosity) for porosity in (0.0, 0.3, 0.5, 0.8, 1.0)]
    assert all(less < more for less, more in pairwise(lost))
    assert lost[2] == washed_out(product_class)
    assert 1.5 < lost[-1] / lost[0] < 3


def test_porous_hair_keeps_less_of_the_same_mix() -> None:
    product = permanent(7, "copper")
    assert kept(product, 30, porosity=0.95) < kept(product, 30) < kept(product, 30, porosity=0.1)


def test_thirty_single_washes_are_what_thirty_at_once_are_and_none_is_none() -> None:
    product = permanent(6, "natural")
    hair, shelf = white_with(product), {product.id: product}
    worn = after_what_is_on(head_of(hair), hair, shelf)
    none, one, two = (after_washes(head_of(hair), hair, shelf, n) for n in (0, 1, 2))
    assert none == worn
    assert one == after_one_wash(head_of(hair), hair, shelf)
    share = one.white_dye_total / worn.white_dye_total
    assert two.white_dye_total == pytest.approx(share**2 * worn.white_dye_total)
