"""Numbers of the model that nothing else in the answers would show to be another.

Each is an assumption or common practice, as its file says; here it is held to what it means.
"""

import pytest

from basinside.contract.hair import Hair, Sure
from basinside.engine.colour.outcome import distances, likely_distance, share_within
from basinside.engine.judgement.next_visit import next_visit
from basinside.engine.timing.washing import washed_out

# Washes to a tenth of the dye: common practice, no published source (from memory); permanent is set
# by IFSCC Magazine 11 (2008) 139, see washing.py.
WASHES = {"direct": 8, "acid_demi": 20, "neutral_demi": 24, "alkaline_demi": 28, "permanent": 300}
# The normal's 0.90 quantile, since half of the rest lies on either side: Abramowitz and Stegun,
# Handbook of Mathematical Functions (1964), table 26.5; from memory.
LIKELY_OF_ONE = 1.2815516


@pytest.mark.parametrize("product_class", WASHES)
def test_a_tenth_of_a_class_s_dye_is_left_after_its_washes(product_class):
    left = (1 - washed_out(product_class, 0.5)) ** WASHES[product_class]
    assert left == pytest.approx(0.1, rel=1e-9)


def test_the_likely_distance_holds_eight_outcomes_in_ten():
    # Two points whose variance on one axis is 1: the distance is that of a normal from its mean.
    ascending = distances([(1.0, 0.0, 0.0), (-1.0, 0.0, 0.0)])
    # 1 %: 256 points stand for the distribution; at a share of 0.83 it would be 7 % more.
    assert likely_distance(ascending) == pytest.approx(LIKELY_OF_ONE, rel=0.01)
    assert share_within(ascending, likely_distance(ascending)) == pytest.approx(0.8, abs=0.005)


def test_a_head_known_exactly_is_less_sure_by_its_drift_at_the_next_visit():
    known = Sure(level_sd=0, log_warmth_sd=0, porosity_sd=0, log_rate_sd=0, log_uptake_sd=0)
    sure = next_visit(Hair(level=9), Hair(level=9, sure=known)).sure
    # Assumptions, no published source: next_visit.py.
    drift = (sure.porosity_sd, sure.log_rate_sd, sure.log_uptake_sd)
    assert drift == pytest.approx((0.06, 0.10, 0.08))


def test_no_drift_makes_a_head_less_sure_than_a_first_description():
    vague = Sure(porosity_sd=0.5, log_rate_sd=2, log_uptake_sd=2)
    sure = next_visit(Hair(level=9), Hair(level=9, sure=vague)).sure
    first = Sure()
    assert sure.porosity_sd == first.porosity_sd
    assert sure.log_rate_sd == first.log_rate_sd
    assert sure.log_uptake_sd == first.log_uptake_sd
