"""How much of what is repeated runs now: a tenth, chosen by the day, or with TEST_LONG all of it.

Of a few kinds, each counted over many draws, one kind runs.

Every draw comes from a fixed list, so a day finds only what all of it finds too. `make test`
prints the day's seed; TEST_SEED=n draws that day's tenth again.
"""

import datetime as dt
import os

PARTS = 10
LONG = bool(os.environ.get("TEST_LONG"))


def seed_of_the_day():
    """Return the number that chooses the tenth: the one given, or the day's."""
    return int(os.environ.get("TEST_SEED") or dt.datetime.now(dt.UTC).date().toordinal())


def tenth(full):
    """Return how many of `full` repetitions run now."""
    return full if LONG else -(-full // PARTS)


def seeds(full, parts=PARTS):
    """Return which of the seeds 0 to `full` - 1 run now: one part of so many, a tenth if not told.

    What costs a second for each seed has more parts, what is counted over many has fewer.
    """
    if LONG:
        return range(full)
    size = -(-full // parts)
    first = seed_of_the_day() % parts * size
    return range(min(first, full - size), min(first + size, full))


def in_turn(variants, count=1):
    """Return so many of the variants of one test: others each day, or with TEST_LONG all of them.

    For a walk that looks at the same in several sizes, themes or countries, and for what is counted
    over many draws of one kind, where a tenth of the draws would tell nothing.
    """
    every = list(variants)
    if LONG:
        return every
    first = seed_of_the_day() * count
    return [every[(first + at) % len(every)] for at in range(min(count, len(every)))]
