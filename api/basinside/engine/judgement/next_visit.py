"""What a head did, as the description to start from next time."""

from math import hypot

import msgspec

from ...contract.hair import Hair, Sure

# Assumptions, no published source: how far a head's ways move between two visits, one standard
# deviation. Cuts, heat and lightening change porosity more than how fast and how much it takes.
_DRIFT_LOG_RATE = 0.10
_DRIFT_LOG_UPTAKE = 0.08
_DRIFT_POROSITY = 0.06


def next_visit(described: Hair, judged: Hair) -> Hair:
    """Return the hair to describe next time: rate, uptake and porosity as judged, less sure.

    Level, warmth and what is on it belong to the day: they are read again, and are as unsure as any
    first description. No deviation grows past a first description's own.
    """
    first, learnt = Sure(), judged.sure
    return msgspec.structs.replace(
        described,
        porosity=judged.porosity,
        rate=judged.rate,
        uptake=judged.uptake,
        reading=None,
        level=described.level if described.reading is None else judged.level,
        already_on=[],
        sure=Sure(
            porosity_sd=_widened(learnt.porosity_sd, _DRIFT_POROSITY, first.porosity_sd),
            log_rate_sd=_widened(learnt.log_rate_sd, _DRIFT_LOG_RATE, first.log_rate_sd),
            log_uptake_sd=_widened(learnt.log_uptake_sd, _DRIFT_LOG_UPTAKE, first.log_uptake_sd),
        ),
    )


def _widened(sd: float, drift: float, most: float) -> float:
    return min(most, hypot(sd, drift))
