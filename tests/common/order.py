"""Which tests stay together, and which go first: the longest, so that no worker ends on one.

`longest.txt` has seconds and a file a line, as they were once measured on a quiet machine; they
need not be right, only in order. A file it does not name counts as a short one.
"""

from pathlib import Path

from xdist.scheduler import LoadScopeScheduling

HERE = Path(__file__).parent
# Their tests share nothing but what a whole worker has.
TESTS_ALONE = ("screens/", "service/test_schema_driven.py")
SHORT_S = 5


def seconds_by_file():
    """Return how long each file took, by its path under tests/."""
    rows = (line.split(maxsplit=1) for line in (HERE / "longest.txt").read_text().splitlines())
    return {path.strip(): float(seconds) for seconds, path in rows}


def place_of(item):
    """Return a test's file under tests/."""
    return item.path.relative_to(HERE.parent).as_posix()


def is_alone(place):
    """Say whether each test of a file may go to any worker; else a worker gets the whole file."""
    return place.startswith(TESTS_ALONE)


class LongestFirst(LoadScopeScheduling):
    """Hands out files, or tests that share nothing, in the order in which they were collected."""

    def _split_scope(self, nodeid):
        path = nodeid.partition("::")[0]
        return nodeid if is_alone(path.removeprefix("tests/")) else path


def longest_first(items):
    """Sort the tests in place."""
    known, many = seconds_by_file(), {}
    for item in items:
        place = place_of(item)
        many[place] = many.get(place, 0) + 1

    def seconds(item):
        place = place_of(item)
        whole = known.get(place, SHORT_S)
        return whole / many[place] if is_alone(place) else whole

    items.sort(key=seconds, reverse=True)
