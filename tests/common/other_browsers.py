"""Debian's Firefox and WebKitGTK on a folder that stays, so that they can be killed and come back.

Both are started with all their processes in one group, which is ended at once. `lacks` says what a
machine lacks for one of them; scripts/bring_browsers.py installs it where it may.
"""

import contextlib
import os
import signal
import subprocess
import time
from pathlib import Path

from browser import PATIENCE_MS, UNSHIFTED
from running import free_port
from webdriver import OverHttp, OverMarionette, Window

FIREFOX = "/usr/bin/firefox-esr"
# It makes no window narrower than about 450.
NARROW = ("--width", "390", "--height", "844")
WEBKIT_DRIVER, DISPLAY_SERVER = "/usr/bin/WebKitWebDriver", "/usr/bin/Xvfb"
# The system's own Python: its packages hold the bindings, ours do not.
SYSTEM_PYTHON = "/usr/bin/python3"
HAS_WEBKIT = "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2"
WINDOW_PROGRAM = Path(__file__).with_name("webkit_window.py")
PREFERENCES = """user_pref("marionette.port", 0);
user_pref("app.normandy.enabled", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
"""


class OtherBrowser:
    """A browser whose folder outlives its processes."""

    def __init__(self, folder):
        self.folder = folder
        folder.mkdir()
        self._groups, self._window = [], None

    def kill(self):
        """Ends all its processes at once, as a phone that runs out of power."""
        if self._window:
            self._window.close()
            self._window = None
        for started in self._groups:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(started.pid, signal.SIGKILL)
            started.wait()
        self._groups = []

    def _start(self, *command, **options):
        env = UNSHIFTED | {"HOME": str(self.folder), **options.pop("env", {})}
        started = subprocess.Popen(
            [str(part) for part in command],
            env=env,
            start_new_session=True,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            **options,
        )
        self._groups.append(started)
        return started


class Firefox(OtherBrowser):
    """Firefox without a window, driven by its own socket."""

    def lacks():
        return [] if Path(FIREFOX).exists() else ["firefox-esr"]

    def on(self):
        told = self.folder / "MarionetteActivePort"
        told.unlink(missing_ok=True)
        (self.folder / "user.js").write_text(PREFERENCES)
        self._start(FIREFOX, *("--headless", "--marionette", *NARROW, "--profile", self.folder))
        # The file is there before its number is.
        way = _once(lambda: OverMarionette(int(told.read_text())), (OSError, ValueError))
        self._window = Window(way)
        way.begin({})
        return self._window


class WebKit(OtherBrowser):
    """WebKitGTK in a window on a screen that nobody sees."""

    def lacks():
        lacking = [one for one in (WEBKIT_DRIVER, DISPLAY_SERVER) if not Path(one).exists()]
        binds = [SYSTEM_PYTHON, "-c", HAS_WEBKIT]
        if not lacking and subprocess.run(binds, check=False, capture_output=True).returncode:
            lacking = ["gir1.2-webkit2-4.1"]
        return lacking

    def on(self):
        reading, writing = os.pipe()
        self._start(
            *(DISPLAY_SERVER, "-displayfd", writing, "-screen", "0", "800x900x24"),
            *("-nolisten", "tcp"),
            pass_fds=[writing],
        )
        os.close(writing)
        with os.fdopen(reading) as said:
            screen = f":{said.readline().strip()}"
        port = free_port()
        shown = {"DISPLAY": screen, "GDK_BACKEND": "x11", "LIBGL_ALWAYS_SOFTWARE": "1"}
        self._start(WEBKIT_DRIVER, f"--port={port}", env=shown)
        window = {"binary": SYSTEM_PYTHON, "args": [str(WINDOW_PROGRAM), str(self.folder)]}
        way = OverHttp(port)
        _once(lambda: way.begin({"webkitgtk:browserOptions": window}), (OSError,))
        self._window = Window(way)
        return self._window


def _once(start, not_yet):
    """Return what `start` does as soon as the browser takes it."""
    until_s = time.monotonic() + PATIENCE_MS / 1000
    while True:
        try:
            return start()
        except not_yet:
            assert time.monotonic() < until_s, "the browser does not start"
            time.sleep(0.1)
