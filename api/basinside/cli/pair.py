"""`basinside pair`: shows a code that pairs one device, at the server's own machine."""

import io
import time

import segno

from ..service.sync.pairing import new_code
from .devices import opened
from .serve import Settings, served_at


def pair(settings: Settings) -> int:
    """Make a pairing code and print it; return 0.

    Raises `Unready` if there is no salon yet.
    """
    salon = opened(settings)
    try:
        code = new_code(salon, time.time_ns() // 1_000_000)
    finally:
        salon.close()
    print(f"Type this code on the device, within ten minutes: {code}", flush=True)
    address = served_at(settings.data_folder)
    if address:
        link = f"{address}#/pair/{code}"
        print(f"Or open {link}", flush=True)
        if address.startswith("https:"):  # without TLS no phone can reach it
            print(f"\n{picture(link)}", flush=True)
    return 0


def picture(link: str) -> str:
    """Return a link as a QR code (ISO/IEC 18004) in half blocks, for a dark or a light terminal."""
    drawn = io.StringIO()
    segno.make(link, error="m", micro=False).terminal(drawn, compact=True)
    return drawn.getvalue()
