"""Read by each Python of a run at another date: sleeping there in a way that faketime leaves alone.

faketime 0.9.10 takes what Python 3.11 and newer sleep by (clock_nanosleep until a moment of the
monotonic clock) for a moment of the shifted clock, and the call fails.
"""

import select
import time
from typing import SupportsIndex


def _sleep(seconds: "float | SupportsIndex", /) -> None:
    select.select((), (), (), float(seconds))


time.sleep = _sleep
