"""The standard normal distribution: its share below a value, and back.

Written out, since the standard library's `statistics` would weigh 25 KB more on the phone.
"""

from math import erfc, exp, pi, sqrt

_ROUNDS = 60


def share_below(x: float) -> float:
    """Return Φ(x), the share of a standard normal below `x`."""
    return 0.5 * erfc(-x / sqrt(2))


def value_at(share: float) -> float:
    """Return the x with Φ(x) = `share`, for shares strictly between 0 and 1, to rounding.

    Newton's steps on Φ, at most one long each; from 0 they never overshoot in the tails.
    """
    x = 0.0
    for _ in range(_ROUNDS):
        density = exp(-x * x / 2) / sqrt(2 * pi)
        step = (share - share_below(x)) / density
        step = min(1.0, max(-1.0, step))
        x += step
        if abs(step) < 1e-15:
            break
    return x
