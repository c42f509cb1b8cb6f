"""The normal distribution against the standard library's, which is written apart from ours."""

from statistics import NormalDist

import pytest

from basinside.engine.colour.normal import share_below, value_at

NORMAL = NormalDist()


@pytest.mark.parametrize("x", [-8.0, -3.0, -1.0, -0.1, 0.0, 0.5, 2.0, 6.0])
def test_the_share_below_a_value_is_the_librarys(x: float) -> None:
    assert share_below(x) == pytest.approx(NORMAL.cdf(x), rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("share", [1e-9, 0.001, 0.02, 0.2, 0.5, 0.8, 0.97, 0.9999, 1 - 1e-9])
def test_the_value_at_a_share_is_the_librarys(share: float) -> None:
    assert value_at(share) == pytest.approx(NORMAL.inv_cdf(share), rel=1e-8, abs=1e-12)
