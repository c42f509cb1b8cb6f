"""The minutes to rinse in: the best, and the unbroken run around it that is worth half as much."""

import pytest
from asking import asked, of_dyes

from basinside.engine.timing.window import Landing, window_of

HAIR = {"level": 10}
MIX = {"parts": [{"product": "toner", "grams": 30}], "minutes": 10}


def landings(chances: list[float], *, best: int) -> list[Landing]:
    """Return minutes from 5 on; the expected ΔE is lowest at `best`, whatever the chances."""
    return [
        Landing(5 + i, expected=3.0 + abs(5 + i - best), chance=chance)
        for i, chance in enumerate(chances)
    ]


def span(chances: list[float], *, best: int) -> tuple[object, object, object]:
    window = window_of(landings(chances, best=best))
    return window.earliest, window.best, window.latest


def test_a_minute_of_half_the_highest_chance_is_in_and_one_of_less_is_out() -> None:
    assert span([0.29, 0.30, 0.60, 0.30, 0.29], best=7) == (6, 7, 8)
    assert span([0.31, 0.31, 0.60, 0.29, 0.60], best=7) == (5, 7, 7)


def test_half_is_of_the_highest_chance_wherever_that_is() -> None:
    # the best minute has 0.4 and the highest chance, 0.6, stands beside it
    assert span([0.29, 0.40, 0.60, 0.29], best=6) == (6, 6, 7)


def test_the_run_is_unbroken_and_holds_the_best_minute() -> None:
    assert span([0.6, 0.6, 0.1, 0.5, 0.5, 0.1, 0.6], best=8) == (8, 8, 9)


def test_the_window_ends_where_the_leaflet_does() -> None:
    assert span([0.5, 0.6, 0.5], best=6) == (5, 6, 7)


def test_of_equal_minutes_the_earlier_is_best() -> None:
    level = [Landing(minute, expected=2.0, chance=0.5) for minute in (5, 6, 7)]
    assert window_of(level).best == 5


@pytest.mark.parametrize(("chance", "hopeless"), [(0.049, True), (0.05, False)])
def test_under_one_in_twenty_there_is_only_the_reason(chance: float, hopeless: bool) -> None:
    window = window_of(landings([chance, chance], best=5))
    assert bool(window.reason) == hopeless
    assert bool(window.best) != hopeless


@pytest.mark.parametrize(
    ("chance", "told"),
    [
        (0.0, "not even 1 in 100 heads"),
        (0.004, "not even 1 in 100 heads"),
        (0.006, "at best 1 in 100 heads"),
        (0.032, "at best 3 in 100 heads"),
    ],
)
def test_the_reason_tells_the_best_chance_and_never_as_nought(chance: float, told: str) -> None:
    reason = window_of(landings([0.0, chance], best=5)).reason
    assert reason.startswith(f"No minute of this mix lands near the wish: {told}")


def window_at_the_door(**question: object) -> dict[str, object]:
    product = of_dyes(violet=0.3, blue=0.3) | {"window": {"min": 6, "max": 18}}
    body = {"hair": HAIR, "mix": MIX, "products": [product], **question}
    return asked("predictions", body)["window"]


def test_without_a_wish_the_window_is_the_makers() -> None:
    assert window_at_the_door() == {"earliest": 6, "best": 18, "latest": 18}


def test_with_a_wish_the_window_lies_inside_the_makers() -> None:
    window = window_at_the_door(wish={"level": 10, "tone": ["natural"]})
    assert 6 <= window["earliest"] <= window["best"] <= window["latest"] <= 18


def test_the_minutes_asked_for_do_not_move_the_window() -> None:
    wish = {"level": 10, "tone": ["natural"]}
    assert window_at_the_door(wish=wish, minutes=[0, 17]) == window_at_the_door(wish=wish)


def test_a_wish_out_of_reach_has_a_reason_and_no_minute() -> None:
    window = window_at_the_door(wish={"level": 6, "tone": ["copper"]})
    assert list(window) == ["reason"]
    assert "No minute" in window["reason"]
