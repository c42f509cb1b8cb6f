"""The nearest word is the one that Python's `difflib` finds, the outside judge here."""

import random
from difflib import SequenceMatcher, get_close_matches

from basinside.engine.nearest import likeness, nearest
from basinside.engine.products.tones import PRODUCT_TONES, WISH_TONES
from basinside.engine.safety.rulebook import rules_by_id

WORDS = [*PRODUCT_TONES, *WISH_TONES, *rules_by_id()]


def misspelt(rng, word):
    letters = list(word)
    for _ in range(rng.randrange(5)):
        at = rng.randrange(len(letters))
        letters[at : at + rng.randrange(2)] = rng.choice(["", "e", "-", "st", letters[at]])
        letters = letters or ["a"]
    return "".join(letters)


def test_a_misspelt_word_finds_the_word_that_difflib_finds():
    rng = random.Random(7)
    found = 0
    for _ in range(1500):
        word = misspelt(rng, rng.choice(WORDS))
        expected = next(iter(get_close_matches(word, WORDS, n=1)), None)
        assert nearest(word, WORDS) == expected, word
        found += expected is not None
    assert found > 1000


def test_words_are_as_alike_as_difflib_says():
    rng = random.Random(8)
    for _ in range(1000):
        a, b = ("".join(rng.choices("abcd", k=rng.randrange(9))) for _ in range(2))
        assert likeness(a, b) == SequenceMatcher(a=b, b=a).ratio(), (a, b)


def test_a_word_like_none_finds_none():
    assert nearest("qqqq", WORDS) is None
    assert nearest("", []) is None
