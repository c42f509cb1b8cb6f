"""The moments of one review, read once, and whether the device's clock can be trusted."""

from typing import NamedTuple

from ...contract.safety import SafetyReviewRequest
from .instants import Moment, read_moment

HOUR_S = 3600
# Two devices may differ by this much before one of them is called wrong.
CLOCK_SLACK_S = 300


class Times(NamedTuple):
    """`at` is the moment the review is about: the planned start at booking, else now."""

    now: Moment
    starts_at: Moment
    at: Moment
    clock_back: bool


def times_of(request: SafetyReviewRequest) -> Times:
    """Return the moments of a review whose moments are all readable.

    A record dated after now shows that the clock was set back since: no age can then be
    told, and an age that cannot be told opens nothing.
    """
    now, starts_at = read_moment(request.now), read_moment(request.starts_at)
    facts, plan = request.facts, request.plan
    stored = [test.applied_at for test in facts.tests]
    stored += [test.read_at for test in facts.tests if test.read_at]
    stored += [said.at for said in facts.said_at]
    stored += [text for text in (plan.opened_at, plan.started_at, plan.seen_until) if text]
    latest = max((read_moment(text).seconds for text in stored), default=now.seconds)
    ahead = plan.moment == "booking" and starts_at.seconds > now.seconds
    return Times(now, starts_at, starts_at if ahead else now, latest > now.seconds + CLOCK_SLACK_S)
