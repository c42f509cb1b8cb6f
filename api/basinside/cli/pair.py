"""`basinside pair`: shows a code that pairs one device, at the server's own machine."""

import io

import segno

from ..service.http.open_desk import now_ms
from ..service.store.rows import Rights
from ..service.store.unready import Unready
from ..service.sync.pairing import EVERY_RIGHT, MOST_DAYS, new_code
from .devices import opened
from .serve import Settings, served_at


def pair(settings: Settings, rights: Rights = EVERY_RIGHT) -> int:
    """Make a pairing code that gives these rights, and print it; return 0.

    Raises `Unready` if there is no salon yet, or if the days are none or too many.
    """
    if rights.days is not None and not 1 <= rights.days <= MOST_DAYS:
        raise Unready(f"A pairing lasts 1 to {MOST_DAYS} days; got {rights.days}.")
    salon = opened(settings)
    try:
        code = new_code(salon, now_ms(), rights)
    finally:
        salon.close()
    print(f"Type this code on the device, within ten minutes: {code}", flush=True)
    if rights.reads_only:
        print("It lets a program read and write nothing. A phone needs to write.", flush=True)
    if rights.days:
        print(f"The pairing ends after {counted_days(rights.days)}.", flush=True)
    address = served_at(settings.data_folder)
    if address:
        link = f"{address}#/pair/{code}"
        print(f"Or open {link}", flush=True)
        if address.startswith("https:"):  # without TLS no phone can reach it
            print(f"\n{picture(link)}", flush=True)
    return 0


def counted_days(days: int) -> str:
    """Return "1 day" or "90 days"."""
    return "1 day" if days == 1 else f"{days} days"


def picture(link: str) -> str:
    """Return a link as a QR code (ISO/IEC 18004) in half blocks, for a dark or a light terminal."""
    drawn = io.StringIO()
    segno.make(link, error="m", micro=False).terminal(drawn, compact=True)
    return drawn.getvalue()
