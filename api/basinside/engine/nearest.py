"""The word nearest to one that is not known, for "Did you mean …?".

J. W. Ratcliff and D. E. Metzener, "Pattern matching: the gestalt approach", Dr. Dobb's Journal,
July 1988: twice the letters in common blocks over all letters. Python's `difflib` finds the same;
it would bring the phone ten times as much.
"""

from collections.abc import Iterable

_LEAST_ALIKE = 0.6


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like this one, or None where none is much like it."""
    alike = [(likeness(word, each), each) for each in known]
    best = max((pair for pair in alike if pair[0] >= _LEAST_ALIKE), default=None)
    return best[1] if best else None


def likeness(word: str, known: str) -> float:
    """Return how alike two words are, 0 to 1."""
    letters = len(word) + len(known)
    return 2.0 * _in_common(known, word) / letters if letters else 1.0


def _in_common(a: str, b: str) -> int:
    """Return the letters of the longest block that both have, and of those on either side."""
    at_a, at_b, size = 0, 0, 0
    lengths: dict[int, int] = {}
    for i, letter in enumerate(a):
        now: dict[int, int] = {}
        for j, other in enumerate(b):
            if letter == other:
                length = now[j] = lengths.get(j - 1, 0) + 1
                if length > size:
                    at_a, at_b, size = i - length + 1, j - length + 1, length
        lengths = now
    if not size:
        return 0
    before = _in_common(a[:at_a], b[:at_b])
    return before + size + _in_common(a[at_a + size :], b[at_b + size :])
