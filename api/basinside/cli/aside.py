"""`basinside aside FILE`: writes out the rows that could not be read.

One JSON object a line: when the row was found, its kind, its record, its number, and its bytes. The
bytes are in base64 (RFC 4648), since they may be anything.
"""

from pathlib import Path

import msgspec

from ..service.store.unready import Unready
from .devices import opened
from .serve import Settings

_ALL = 1_000_000


def write_aside(settings: Settings, target: Path) -> int:
    """Write every row that was set aside, closed or not; return 0.

    Raises `Unready` if there is no salon, or if the file exists already or cannot be written.
    """
    salon = opened(settings)
    try:
        with salon.reading() as reading:
            rows = reading.aside("", _ALL, closed=True)
    finally:
        salon.close()
    try:
        with target.open("xb") as file:
            for row in rows:
                file.write(msgspec.json.encode(row._asdict()) + b"\n")
    except FileExistsError:
        raise Unready(f"{target} exists already. Name a new file.") from None
    except OSError as error:
        raise Unready(f"{target} cannot be written: {error.strerror}.") from error
    print(f"{target} holds all rows that were set aside: {len(rows)}.", flush=True)
    return 0
