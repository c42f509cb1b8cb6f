"""Seeded questions for both places: small shelves, both calls, and every way to be wrong."""

import json
import random

TONES = ("violet", "pearl", "beige", "ash", "gold", "copper", "rose")
CLASSES = ("neutral_demi", "alkaline_demi", "acid_demi", "permanent", "direct")
DYES = ("yellow", "orange", "red", "violet", "blue", "blue_green")

# Each spoils a good question in one place: its shape or its meaning.
SPOILT = (
    lambda asked: asked["hair"].update(level=12),
    lambda asked: asked["hair"].update(level="nine"),
    lambda asked: asked["hair"].update(porosity=None),
    lambda asked: asked["hair"].update(colour="blonde"),
    lambda asked: asked["hair"].pop("level"),
    lambda asked: asked.pop("hair"),
    lambda asked: asked["products"].append(asked["products"][0]),
    lambda asked: asked["products"][0].update(tone=["no such tone"]),
    lambda asked: asked["products"][0].update(tone=["clear", "ash"]),
    lambda asked: asked["products"][0].update(window={"min": 30, "max": 5}),
    lambda asked: asked.update(products=[]),
    lambda asked: asked.setdefault("wish", {}).update(level=0),
    lambda asked: asked.setdefault("mix", {}).update(parts=[{"product": "x", "grams": 10}]),
)


def product(rng, place):
    """A product that states its tone, and now and then its dyes, as shelves do."""
    kind = rng.choice(CLASSES)
    made = {
        "id": f"p{place}",
        "name": f"Invented {place}",
        "line": kind,
        "class": kind,
        "level": rng.choice([7, 8, 9, 9.5, 10]),
        "tone": ["clear"] if rng.random() < 0.1 else rng.sample(TONES, rng.choice([1, 1, 2])),
        "developer_percent": [] if kind == "direct" else rng.choice([[1.9], [1.9, 4]]),
        "window": {"min": rng.choice([3, 5]), "max": rng.choice([15, 20])},
    }
    if made["tone"] != ["clear"] and rng.random() < 0.4:
        made["dyes"] = {dye: round(rng.uniform(0.02, 0.6), 3) for dye in rng.sample(DYES, 2)}
    return made


def hair(rng):
    """Hair with more or less known of it."""
    said = {"level": rng.choice([8, 8.5, 9, 9.5, 10, 10.5])}
    if rng.random() < 0.7:
        said |= {"warmth": rng.choice([0.4, 1, 1.5]), "porosity": round(rng.random(), 2)}
    if rng.random() < 0.3:
        ends = {"level": 10, "porosity": 0.8}
        said["also"] = [{"hair": ends, "share": 0.3, "name": "ends"}]
    return said


def question(rng):
    """Return the name of a call and what is asked of it, with nothing wrong in it."""
    name = rng.choice(["formulations", "predictions"])
    shelf = [product(rng, place) for place in range(rng.randint(2, 4))]
    asked = {"hair": hair(rng), "products": shelf}
    if name == "formulations":
        asked["wish"] = {"level": rng.choice([8, 9, 10]), "tone": rng.sample(TONES, 1)}
        asked["limits"] = {"total_g": rng.choice([20, 40]), "step_g": 5}
    else:
        same = [one for one in shelf if one["class"] == shelf[0]["class"]][:2]
        parts = [{"product": one["id"], "grams": rng.choice([10, 15, 40])} for one in same]
        asked["mix"] = {"parts": parts, "minutes": rng.randint(0, 14)}
        asked["minutes"] = sorted(rng.sample(range(15), 3))
    return name, asked


def body_of(seed):
    """Return the name of the call and the text sent to it: every fourth spoilt, some no JSON."""
    rng = random.Random(seed)
    name, asked = question(rng)
    if seed % 4 == 3:
        SPOILT[seed // 4 % len(SPOILT)](asked)
    text = json.dumps(asked)
    if seed % 50 == 49:
        text = text[: rng.randrange(len(text))]
    return name, text
