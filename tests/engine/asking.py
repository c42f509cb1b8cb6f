"""Questions put at the engine's door in JSON, as a program outside would put them."""

import json
from collections.abc import Sequence
from math import cos, radians, sin
from pathlib import Path
from typing import Any

from basinside.engine.door import answer

OXIDATION_CLASSES = ("alkaline_demi", "neutral_demi", "acid_demi", "permanent")
OXIDATION_DYES = ("yellow", "orange", "red", "violet", "blue", "blue_green")
CONSISTENCIES = ("liquid", "gel", "light_cream", "cream")
FULL_MIN = {"permanent": 30}  # the others 20: usual toning times, common practice

Json = dict[str, Any]
Looked = list[float]  # L*, a*, b*


def demo_shelf() -> list[Json]:
    """Return the products of the demo shelf."""
    path = Path(__file__).parents[2] / "seed_demo" / "shelf.json"
    return json.loads(path.read_text(encoding="utf-8"))["products"]


def described(product_class: str = "neutral_demi", **changed: Any) -> Json:
    """Return a product told by class, level and tone words, left on for its class's usual time."""
    direct = product_class == "direct"
    return {
        "id": "toner",
        "name": "toner",
        "line": product_class,
        "class": product_class,
        "level": 9,
        "tone": ["violet"],
        "developer_percent": [] if direct else [1.9],
        "window": {"min": 1, "max": FULL_MIN.get(product_class, 20)},
        **changed,
    }


def of_dyes(product_class: str = "neutral_demi", /, named: str = "toner", **dyes: float) -> Json:
    """Return a product of these dye amounts."""
    return described(product_class, id=named, dyes=dyes)


def clear(product_class: str = "neutral_demi") -> Json:
    """Return the clear of a class."""
    return described(product_class, id="clear", tone=["clear"])


def asked(question: str, body: Json) -> Json:
    """Return the reply to a question, which must be answered."""
    reply = answer(question, json.dumps(body).encode())
    assert reply.status == 200, reply.body.decode()
    return json.loads(reply.body)


def strip_of(
    hair: Json,
    product: Json,
    *,
    bunched: float = 0.3,
    beside: Sequence[Json] = (),
    **question: Any,
) -> list[Json]:
    """Return the strip of one product, from minute 0 to its full time.

    `beside` are products already on the hair; `question` is added to the request.
    """
    mix = {
        "parts": [{"product": product["id"], "grams": 30}],
        "minutes": product["window"]["max"],
    }
    body = {
        "hair": hair,
        "mix": mix,
        "products": [product, *beside],
        "look": {"bunched": bunched},
        **question,
    }
    return asked("predictions", body)["strip"]


def seen(strip: Sequence[Json], look: str) -> list[Looked]:
    """Return the colours of one look, minute by minute."""
    return [minute[look]["lab"] for minute in strip]


def formulated(hair: Json, wish: Json, products: Sequence[Json], **limits: Any) -> Json:
    """Return the reply to what to mix."""
    body = {"hair": hair, "wish": wish, "products": list(products), "limits": limits}
    return asked("formulations", body)


def lowest_delta_e(reply: Json) -> float:
    """Return the lowest ΔE00 of all mixes on the hair as described."""
    return reply["closest_delta_e"]


def polar(lightness: float, chroma: float, hue: float) -> tuple[float, float, float]:
    """Return L*, a*, b* from lightness, chroma and hue in degrees."""
    return lightness, chroma * cos(radians(hue)), chroma * sin(radians(hue))
