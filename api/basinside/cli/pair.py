"""`basinside pair`: a code that lets one device in, shown at the server's own machine."""

import time

from ..service.store.salon import DATABASE_FILE, Salon
from ..service.store.unready import Unready
from ..service.sync.pairing import new_code
from .serve import Settings


def pair(settings: Settings) -> int:
    """Make a pairing code and print it; return 0.

    Raises `Unready` where there is no salon yet.
    """
    database = settings.data_folder / DATABASE_FILE
    if not database.exists():
        raise Unready(f"There is no salon in {settings.data_folder} yet. Run `make run` once.")
    salon = Salon(database)
    try:
        code = new_code(salon, time.time_ns() // 1_000_000)
    finally:
        salon.close()
    print(f"Type this code on the device, within ten minutes: {code}", flush=True)
    return 0
