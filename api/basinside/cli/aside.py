"""`basinside aside FILE`: writes out the rows that could not be read, for whoever looks into them.

One JSON object a line: when it was found, what it was, of which record, under which number, and
the bytes that stood there, in base64 (RFC 4648) since they may be anything.
"""

from pathlib import Path

import msgspec

from ..service.store.unready import Unready
from .devices import opened
from .serve import Settings

_ALL = 1_000_000


def write_aside(settings: Settings, target: Path) -> int:
    """Write every row that was set aside, closed or not; return 0.

    Raises `Unready` where there is no salon, or the file is there already or cannot be written.
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
        raise Unready(f"{target} is there already. Name a file that is not.") from None
    except OSError as error:
        raise Unready(f"{target} cannot be written: {error.strerror}.") from error
    print(f"{target} holds the rows that were set aside: {len(rows)}.", flush=True)
    return 0
