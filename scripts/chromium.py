"""Makes sure there is a Chromium for the tests that look at the pages.

The tests drive the system's own Chromium; no browser is ever downloaded by a test tool.
"""

import os
import shutil
import sys
from pathlib import Path

from quietly import run_quietly

CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))


def main() -> None:
    """Leave a Chromium at $CHROMIUM, or exit 1 with a sentence on how to get one."""
    if CHROMIUM.exists():
        return
    if os.geteuid() != 0 or shutil.which("apt-get") is None:
        sys.exit(
            f"The page tests need Chromium and found none at {CHROMIUM}: install it"
            " (on Debian: apt-get install chromium) or name one, as in CHROMIUM=... make test."
        )
    print("Installing Chromium for the page tests.", flush=True)
    failed = "Chromium could not be installed: see to the network and try again."
    run_quietly(["apt-get", "update"], "apt", failed)
    run_quietly(
        ["apt-get", "install", "--yes", "--no-install-recommends", "chromium"], "apt", failed
    )


if __name__ == "__main__":
    main()
