"""`basinside pair`: a code that lets one device in, shown at the server's own machine."""

import time

from ..service.sync.pairing import new_code
from .devices import opened
from .serve import Settings


def pair(settings: Settings) -> int:
    """Make a pairing code and print it; return 0.

    Raises `Unready` where there is no salon yet.
    """
    salon = opened(settings)
    try:
        code = new_code(salon, time.time_ns() // 1_000_000)
    finally:
        salon.close()
    print(f"Type this code on the device, within ten minutes: {code}", flush=True)
    return 0
