"""Makes sure there is a Chromium for the tests that look at the pages, and where it may two others.

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
# By package: what tells that it is here. WebKitGTK needs a screen, and a language for its window.
OTHERS = {
    "firefox-esr": Path("/usr/bin/firefox-esr"),
    "webkit2gtk-driver": Path("/usr/bin/WebKitWebDriver"),
    "xvfb": Path("/usr/bin/Xvfb"),
    "gir1.2-webkit2-4.1": Path("/usr/share/doc/gir1.2-webkit2-4.1"),
    "python3-gi": Path("/usr/share/doc/python3-gi"),
}


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
    lacking = [] if named else [one for one in (WITHOUT_WINDOW, WITH_WINDOW) if not one.exists()]
    others = [package for package, sign in OTHERS.items() if not sign.exists()]
    if (lacking or others) and os.geteuid() == 0 and shutil.which("apt-get"):
        print("Installing browsers for the page tests.", flush=True)
        apt_get("update")
        for browser in lacking:
            apt_get("install", "--yes", "--no-install-recommends", browser.name)
        if others:
            apt_get("install", "--yes", "--no-install-recommends", *others)
    if still := [package for package, sign in OTHERS.items() if not sign.exists()]:
        print(f"The walk in other browsers is skipped in part: {', '.join(still)} not here.")
    needed = Path(named or WITH_WINDOW)
    if not needed.exists():
        sys.exit(
            f"The page tests need Chromium and found none at {needed}: install it"
            " (on Debian: apt-get install chromium) or name one, as in CHROMIUM=... make test."
        )


if __name__ == "__main__":
    main()
