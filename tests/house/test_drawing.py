"""What takes turns by the day: each variant has its day, and all of them run with TEST_LONG."""

import drawing
import pytest


@pytest.mark.parametrize(("of", "count"), [(1, 1), (4, 1), (7, 2), (2, 5)])
def test_each_variant_has_its_turn_within_as_many_days_as_there_are_variants(
    monkeypatch, of, count
):
    monkeypatch.setattr(drawing, "LONG", False)
    variants, seen = range(of), set()
    for day in range(of):
        monkeypatch.setenv("TEST_SEED", str(739_950 + day))
        today = drawing.in_turn(variants, count)
        assert len(set(today)) == len(today) == min(of, count)
        seen.update(today)
    assert seen == set(variants)


def test_all_of_them_run_where_everything_is_asked_for(monkeypatch):
    monkeypatch.setattr(drawing, "LONG", True)
    assert drawing.in_turn("abc") == ["a", "b", "c"]
