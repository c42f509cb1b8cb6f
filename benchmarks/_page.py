"""The built page from the real server, in the system's Chromium, for what is measured of it."""

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# With a window, as people have it; else the one that the tests bring.
BROWSERS = (Path("/usr/bin/chromium"), Path("/usr/bin/chromium-headless-shell"))
CHROMIUM = Path(os.environ.get("CHROMIUM") or next(filter(Path.exists, BROWSERS), BROWSERS[0]))
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
PHONE = {"width": 390, "height": 844}
# The first start asks for the country, which nothing measured here is about.
COUNTRY_SAID = "try { localStorage.setItem('basinside.1.country_said', 'true') } catch {}"


def missing() -> str | None:
    """Return what is not here and how to get it, in one sentence; None when all is."""
    if not CHROMIUM.exists():
        return f"No Chromium at {CHROMIUM}: install it, or name one, as in CHROMIUM=... make bench."
    if not (ROOT / "web" / "dist" / "index.html").exists():
        return "The page is not built: run `make` once, it builds web/dist."
    return None


@contextmanager
def served(data_folder: str | None = None) -> Iterator[str]:
    """Serve the page from a data folder, or an empty one; give its address, with no slash."""
    with tempfile.TemporaryDirectory(prefix="basinside-bench-") as empty:
        server = subprocess.Popen(
            [sys.executable, "-m", "basinside.cli", "serve"],
            stdout=subprocess.PIPE,
            env=os.environ | {"PORT": "0", "BASINSIDE_DATA": data_folder or empty},
            text=True,
        )
        try:
            yield server.stdout.readline().split()[-1].rstrip("/")
        finally:
            server.send_signal(signal.SIGINT)
            server.wait()
