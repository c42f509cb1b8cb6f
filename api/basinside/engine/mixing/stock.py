"""The developer wanted, made from what is in stock.

Mass balance: of t % peroxide from h % and l %, the share of the stronger is (t − l) / (h − l).
Developer is thinned and never strengthened, and only with a weaker one that goes with the
same line or with the maker's diluent, which is in stock as 0 %.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from ...contract.weighing import StockedDeveloper

_SAME = 1e-9  # percent


@dataclass(frozen=True, slots=True)
class Blend:
    """A developer from the shelf, and a weaker one where the wanted strength is not there."""

    strong: StockedDeveloper
    weak: StockedDeveloper | None = None
    strong_share: float = 1.0  # by mass


class NotInStock(Exception):
    """Raised when the wanted strength cannot be made; says why and what to do.

    `instead_percent` are the strengths in stock that the leaflets allow, lowest first.
    """

    def __init__(self, why: str, instead_percent: Sequence[float]) -> None:
        super().__init__(why)
        self.instead_percent = instead_percent


def stocked(developers: Iterable[StockedDeveloper | float]) -> list[StockedDeveloper]:
    """Return developers from strengths or fuller descriptions of them."""
    return [d if isinstance(d, StockedDeveloper) else StockedDeveloper(d) for d in developers]


def blend_for(
    wanted_percent: float,
    developers: Sequence[StockedDeveloper],
    lines: set[str],
    allowed: Sequence[float],
) -> Blend:
    """Return what to pour for a strength: itself, else its nearest neighbours on the shelf.

    The nearer the two, the less a gram too much of one matters. `lines` are those in the
    bowl, `allowed` the strengths their leaflets share, lowest first.

    Raises `NotInStock`.
    """
    usable = [d for d in developers if d.line is None or d.line in lines]
    for developer in usable:
        if abs(developer.percent - wanted_percent) < _SAME:
            return Blend(developer)
    stronger = [d for d in usable if d.percent > wanted_percent]
    weaker = [d for d in usable if d.percent < wanted_percent]
    pairs = [(high, low) for high, low in product(stronger, weaker) if _go_together(high, low)]
    if not pairs:
        here = {d.percent for d in usable}
        instead = [p for p in allowed if any(abs(p - percent) < _SAME for percent in here)]
        raise NotInStock(_why_not(wanted_percent, usable, stronger, weaker, instead), instead)
    strong, weak = min(
        pairs, key=lambda pair: (pair[0].percent - pair[1].percent, -pair[1].percent)
    )
    share = (wanted_percent - weak.percent) / (strong.percent - weak.percent)
    return Blend(strong, weak, share)


def volumes(percent: float) -> float:
    """Return the trade's name for a strength, percent × 10 / 3, to two decimals."""
    return round(percent * 10 / 3, 2)


def called(developer: StockedDeveloper) -> str:
    """Return what a developer is called when it is to be poured."""
    if developer.name is not None:
        return developer.name
    if developer.percent == 0:
        return "the maker's diluent"
    return f"{developer.percent:g} % developer ({round(volumes(developer.percent), 1):g} vol)"


def _go_together(high: StockedDeveloper, low: StockedDeveloper) -> bool:
    return high.line is None or low.line is None or high.line == low.line


def _why_not(
    wanted_percent: float,
    usable: Sequence[StockedDeveloper],
    stronger: Sequence[StockedDeveloper],
    weaker: Sequence[StockedDeveloper],
    instead: Sequence[float],
) -> str:
    wanted = f"The mix wants {wanted_percent:g} %"
    choose = (
        f" The leaflet also allows {instead[0]:g} %, which is here: that makes another mix."
        if instead
        else ""
    )
    if not usable:
        return f"{wanted}, and no developer in stock goes with its line. List one that does."
    if not stronger:
        most = max(d.percent for d in usable)
        return (
            f"{wanted}; the strongest developer in stock is {most:g} %. Developer can be thinned,"
            f" never strengthened: take a bottle of {wanted_percent:g} % or more.{choose}"
        )
    if not weaker:
        least = min(d.percent for d in usable)
        return (
            f"{wanted}; the weakest developer in stock is {least:g} %. Thinning it takes a weaker"
            f" developer, or the maker's diluent listed as 0 %, where the leaflet allows.{choose}"
        )
    return (
        f"{wanted}; what is in stock above and below it belongs to different lines. List two"
        f" that go with one line.{choose}"
    )
