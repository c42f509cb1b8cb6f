"""The page's words for a second tone mean what the engine makes of them."""

import json
import math
import re
from pathlib import Path

import pytest

from basinside.engine.products.tones import WISH_TONES, wish_lab

TABLES = Path(__file__).resolve().parents[2] / "web" / "src" / "screens" / "wish" / "second_tone.ts"
LEVELS = [5 + half / 2 for half in range(12)]


def table(name: str) -> dict:
    text = re.search(rf"export const {name}[^=]*= (\{{.*?\n\}});", TABLES.read_text(), re.DOTALL)[1]
    text = re.sub(r"^(\s*)(\w+):", r'\1"\2":', text, flags=re.MULTILINE)
    return json.loads(re.sub(r",(\s*[\]}])", r"\1", text))


def _warmth(lab) -> float:
    return lab[1] + lab[2]


def _hue(lab) -> float:
    return math.degrees(math.atan2(lab[2], lab[1]))


WAYS = {
    "cooler": lambda alone, both: _warmth(alone) - _warmth(both),
    "warmer": lambda alone, both: _warmth(both) - _warmth(alone),
    "rosier": lambda alone, both: both[1] - alone[1],
    "redder": lambda alone, both: _hue(alone) - _hue(both),
    "golder": lambda alone, both: _hue(both) - _hue(alone),
    "softer": lambda alone, both: math.hypot(*alone[1:]) - math.hypot(*both[1:]),
    "bluer": lambda alone, both: alone[2] - both[2],
}


@pytest.mark.parametrize(
    ("first", "way", "second"),
    [(first, way, second) for first, leans in table("LEANS").items() for way, second in leans],
)
def test_a_second_word_leans_the_first_the_way_the_page_says(first, way, second) -> None:
    for level in LEVELS:
        alone, both = wish_lab(level, [first]), wish_lab(level, [first, second])
        assert WAYS[way](alone, both) > 0.5, level


def test_words_that_contradict_are_words_of_a_wish() -> None:
    listed = table("TAKES_AWAY")
    taken = {word for words in listed.values() for word in words}
    assert {*listed, *taken} <= WISH_TONES.keys()
