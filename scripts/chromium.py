"""Makes sure there is a Chromium for the tests that look at the pages.

The tests drive the system's own Chromium; no browser is ever downloaded by a test tool. The one
that has no window of its own comes first: the same pages take it a third less of the processor.
It denies notifications, so the few tests about those take the other. Standard library only.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

WITHOUT_WINDOW = Path("/usr/bin/chromium-headless-shell")
WITH_WINDOW = Path("/usr/bin/chromium")


def chosen() -> Path:
    """Return the Chromium of the tests: $CHROMIUM, else the first that is here of the two."""
    if named := os.environ.get("CHROMIUM"):
        return Path(named)
    return WITHOUT_WINDOW if WITHOUT_WINDOW.exists() else WITH_WINDOW


def needed() -> Path:
    """Return the Chromium of the tests about notifications."""
    return Path(os.environ.get("CHROMIUM", WITH_WINDOW))


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


def install() -> None:
    """Install both; an older system may lack the one without a window, and needs it less."""
    print("Installing Chromium for the page tests.", flush=True)
    apt_get("update")
    for browser in (WITHOUT_WINDOW, WITH_WINDOW):
        if not browser.exists():
            apt_get("install", "--yes", "--no-install-recommends", browser.name)
    if not WITH_WINDOW.exists():
        sys.exit("Chromium could not be installed: see to the network and try again.")


def main() -> None:
    """Leave a Chromium for the tests, or exit 1 with a sentence on how to get one."""
    may_install = os.geteuid() == 0 and shutil.which("apt-get") is not None
    both = WITHOUT_WINDOW.exists() and WITH_WINDOW.exists()
    if may_install and "CHROMIUM" not in os.environ and not both:
        install()
    lacking = next((one for one in (chosen(), needed()) if not one.exists()), None)
    if lacking:
        sys.exit(
            f"The page tests need Chromium and found none at {lacking}: install it"
            f" (on Debian: apt-get install {lacking.name}) or name one, as in"
            " CHROMIUM=... make test."
        )


if __name__ == "__main__":
    main()
