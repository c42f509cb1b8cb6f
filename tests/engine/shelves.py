"""Seeded shelves, heads and wishes for the tests and benchmarks of the search."""

import random
from dataclasses import dataclass
from itertools import pairwise

from basinside.contract.formulations import Limits
from basinside.contract.products import Dyes, MinuteSpan, Product
from basinside.engine.formulation.lineups import LineUp, line_ups
from basinside.engine.hair.head import Head
from basinside.engine.timing.development import Development

# Tone families, each dye with its usual part.
FAMILIES = (
    ("yellow",),
    ("orange", "yellow"),
    ("red",),
    ("violet",),
    ("blue", "violet"),
    ("blue",),
    ("blue_green", "blue"),
    ("violet", "red"),
    ("orange", "red"),
    ("yellow", "blue", "red"),
)
# As a salon's shelf goes: mostly demis, some permanent, a little direct dye.
CLASSES = (
    ["neutral_demi"] * 8
    + ["alkaline_demi"] * 4
    + ["acid_demi"] * 3
    + ["permanent"] * 3
    + ["direct"] * 2
)
WINDOWS = {"permanent": MinuteSpan(5, 30), "direct": MinuteSpan(1, 20)}


def product(product_id: str, product_class: str, dyes: Dyes | None, tone: str) -> Product:
    return Product(
        id=product_id,
        name=product_id,
        line=product_class,
        class_=product_class,
        level=9,
        tone=[tone],
        dyes=dyes,
        window=WINDOWS.get(product_class, MinuteSpan(5, 20)),
        developer_percent=[] if product_class == "direct" else [1.9],
    )


def shelf(rng: random.Random, size: int, *, one_class: bool = False) -> list[Product]:
    """Return `size` products of log-uniform strength, and a clear for each class but direct."""
    products = []
    for i in range(size):
        product_class = "neutral_demi" if one_class else rng.choice(CLASSES)
        strength = 10 ** rng.uniform(-1.2, 0.1)
        dyes = {dye: strength * rng.uniform(0.3, 1) for dye in rng.choice(FAMILIES)}
        products.append(product(f"p{i:03}", product_class, Dyes(**dyes), "natural"))
    with_clear = ("neutral_demi", "alkaline_demi", "acid_demi", "permanent")
    return products + [product(f"clear-{name}", name, None, "clear") for name in with_clear]


@dataclass(frozen=True)
class Case:
    """One seeded question to the search."""

    lines: list[LineUp]
    head: Head
    wish: tuple[float, float, float]


def case(seed: int, size: int, *, one_class: bool = False) -> Case:
    """Return a question whose wish is a hidden mix of the shelf's, in most cases put off by noise.

    A quarter of the wishes are reached exactly somewhere on the grid (the hard case: many mixes
    come near, and the grid decides), a quarter lie well outside what the shelf reaches.
    """
    rng = random.Random(seed)
    lines = line_ups(shelf(rng, size, one_class=one_class), Limits())
    head = Head(
        level=rng.uniform(8, 10.5),
        warmth=rng.choice([1.0, 1.0, 1.5, 0.7]),
        porosity=rng.uniform(0.2, 0.9),
        damp=0.6,
        white_share=0.0,
        lifted=True,
        rate=1.0,
        uptake=1.0,
    )
    line_up = rng.choice(lines)
    count = min(len(line_up.members), rng.choice([2, 3]))
    members = sorted(rng.sample(range(len(line_up.members)), count))
    cuts = [0, *sorted(rng.sample(range(1, line_up.whole), count))]
    parts = [after - before for before, after in pairwise(cuts)]
    hidden = tuple(zip(members, parts, strict=True))
    lab = Development(line_up.bowl_of(hidden)).if_rinsed(head, rng.randint(8, 18))
    noise = rng.choice([0, 1, 1, 4])
    return Case(lines, head, tuple(v + rng.gauss(0, noise) for v in lab))
