"""Makes sure there is a Chromium for the tests that look at the pages.

The tests drive the system's own Chromium; no browser is ever downloaded by a test tool. The one
that has no window of its own comes first: the same pages take it a third less of the processor.
It denies notifications, so the few tests about those take the other, and an older system that lacks
the first does with the other alone. `tests/common/browser.py` chooses. Standard library only.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

WITHOUT_WINDOW = Path("/usr/bin/chromium-headless-shell")
WITH_WINDOW = Path("/usr/bin/chromium")


def apt_get(*arguments: str) -> bool:
    """Return whether `apt-get` did it; a network that does not answer is given up soon."""
    within = ("-qq", "-o", "Acquire::http::Timeout=20", "-o", "Acquire::Retries=1")
    try:
        ended = subprocess.run(
            ["apt-get", *within, *arguments],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
            timeout=240,
        )
    except subprocess.TimeoutExpired:
        return False
    return ended.returncode == 0


def main() -> None:
    """Leave a Chromium for the tests, or exit 1 with a sentence on how to get one."""
    named = os.environ.get("CHROMIUM")
    lacking = [one for one in (WITHOUT_WINDOW, WITH_WINDOW) if not one.exists()]
    if not named and lacking and os.geteuid() == 0 and shutil.which("apt-get"):
        print("Installing Chromium for the page tests.", flush=True)
        apt_get("update")
        for browser in lacking:
            apt_get("install", "--yes", "--no-install-recommends", browser.name)
    needed = Path(named or WITH_WINDOW)
    if not needed.exists():
        sys.exit(
            f"The page tests need Chromium and found none at {needed}: install it"
            " (on Debian: apt-get install chromium) or name one, as in CHROMIUM=... make test."
        )


if __name__ == "__main__":
    main()
