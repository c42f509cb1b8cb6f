"""The minutes to rinse in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ...contract.predictions import Window
from ...contract.products import MinuteSpan
from ..colour.lab import LabTuple
from ..colour.outcome import distances, mean_distance, share_within
from ..hair.head import Heads
from .development import Development

_HOPELESS = 0.05


@dataclass(frozen=True, slots=True)
class Landing:
    """What rinsing at one minute is worth: expected CIEDE2000 and chance within tolerance."""

    minute: int
    expected: float
    chance: float


def landing(
    minute: int, misses: Sequence[LabTuple], tolerance: float, doubt: float = 0.0
) -> Landing:
    """Return the landing of one minute from the possible heads' difference vectors.

    `doubt` is how far off the model may be on each axis, one deviation, CIEDE2000.
    """
    ascending = distances(misses, doubt)
    return Landing(minute, mean_distance(ascending), share_within(ascending, tolerance))


def landing_on(
    heads: Heads,
    development: Development,
    minute: int,
    residual: Callable[[LabTuple], LabTuple],
    tolerance: float,
) -> Landing:
    """Return the landing of one minute on possible heads; `residual` measures from the wish."""
    misses = [residual(development.if_rinsed(head, minute)) for head in heads.possible]
    return landing(minute, misses, tolerance, development.dry_doubt(heads, minute))


def best_landing(landings: Sequence[Landing]) -> Landing:
    """Return the landing of lowest expected ΔE, the earlier of equals (to 4 places)."""
    return min(landings, key=lambda at: (round(at.expected, 4), at.minute))


def window_of(landings: Sequence[Landing]) -> Window:
    """Return the unbroken run of minutes around the best one with at least half the best chance.

    `landings` are consecutive whole minutes inside the maker's window.
    """
    best = best_landing(landings)
    highest = max(at.chance for at in landings)
    if highest < _HOPELESS:
        return Window(reason=_no_minute(highest))
    by_minute = {at.minute: at for at in landings}
    earliest = latest = best.minute
    while earliest - 1 in by_minute and by_minute[earliest - 1].chance >= highest / 2:
        earliest -= 1
    while latest + 1 in by_minute and by_minute[latest + 1].chance >= highest / 2:
        latest += 1
    return Window(earliest=earliest, best=best.minute, latest=latest)


def _no_minute(highest: float) -> str:
    hundredths = round(100 * highest)
    share = f"at best {hundredths} in 100" if hundredths else "not even 1 in 100"
    return f"No minute of this mix lands near the wish: {share} heads like this one would."


def makers_window(maker: MinuteSpan | None) -> Window:
    """Return the maker's own window: without a wish there is no better one."""
    if maker is None:
        return Window(reason="The leaflets of these products have no minute in common.")
    return Window(earliest=maker.min, best=maker.max, latest=maker.max)
