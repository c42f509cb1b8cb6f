"""The system's own Chromium, and the built page that it opens."""

import os
import shutil
import signal
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
BUILT = ROOT / "web" / "dist"
# As scripts/bring_browsers.py chooses: the first takes a third less of the processor.
WITHOUT_WINDOW = "/usr/bin/chromium-headless-shell"
WITH_WINDOW = "/usr/bin/chromium"
CHROMIUM = os.environ.get("CHROMIUM") or (
    WITHOUT_WINDOW if Path(WITHOUT_WINDOW).exists() else WITH_WINDOW
)
# The one without a window denies every notification, whatever it is told.
NOTIFYING = os.environ.get("CHROMIUM") or WITH_WINDOW
# Playwright gives such a list too, and the last one counts: so what we need of its own is in ours.
# The address bar's two pages, which nobody sees here, took half the work of opening a window.
SWITCHED_OFF = [
    *("WebUIOmniboxPopup", "WebUIOmniboxFullPopup", "WebUIOmniboxAimPopup", "AimEnabled"),
    *("HttpsUpgrades", "HttpsFirstBalancedModeAutoEnable", "ThirdPartyStoragePartitioning"),
    *("AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "PaintHolding"),
    *("AvoidCorsURLLoaderRestartOnRedirect", "OptimizationHints", "NetworkTimeServiceQuerying"),
    *("LensOverlay", "MediaRouter", "PreconnectToSearch"),
]
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    # So that a pixel of the picture is the colour the page asked for.
    "--force-color-profile=srgb",
    f"--disable-features={','.join(SWITCHED_OFF)}",
]
PHONE, DESK = (390, 844), (1280, 800)
# A busy machine is given time; no test says how long anything may take.
PATIENCE_MS = int(os.environ.get("PATIENCE_MS", "300000"))

# Chromium does not start under faketime, so it runs without; its pages get our shift instead.
# What has no page (the engine's worker, the service worker) looks at no wall clock.
UNSHIFTED = {
    name: value
    for name, value in os.environ.items()
    if name != "LD_PRELOAD" and not name.startswith("FAKETIME")
}
SHIFT_MS = 1000 * int(os.environ.get("FAKETIME", "0").strip("+s") or 0)
SHIFT = """(() => {
    const RealDate = Date;
    globalThis.Date = class extends RealDate {
        constructor(...given) {
            given.length ? super(...given) : super(RealDate.now() + SHIFT_MS);
        }
        static now() { return RealDate.now() + SHIFT_MS; }
    };
})()"""


# The first start asks for the country; tests/screens/test_first_start.py answers it itself.
COUNTRY_SAID = """try {
    localStorage.setItem('basinside.1.country_said', 'true');
} catch {}"""


def on_our_day(context):
    """Give a new context our patience and a said country, and its pages our shifted clock."""
    context.set_default_timeout(PATIENCE_MS)
    context.add_init_script(COUNTRY_SAID)
    if SHIFT_MS:
        context.add_init_script(SHIFT.replace("SHIFT_MS", str(SHIFT_MS)))
    return context


def need_the_built_page():
    """Return the folder of the built page; without it no browser test can say anything."""
    if not all((BUILT / name).exists() for name in ("index.html", "sw.js", "engine.json")):
        pytest.fail("The page is not built: run `make` once, it builds web/dist.")
    return BUILT


@contextmanager
def open_browser(playwright, chromium=CHROMIUM):
    """Yield a browser; each of its contexts has a memory of its own."""
    need_the_built_page()
    browser = playwright.chromium.launch(
        executable_path=chromium, args=FLAGS, timeout=PATIENCE_MS, env=UNSHIFTED
    )
    yield browser
    browser.close()


def open_profile(playwright, profile, size, flags=(), chromium=CHROMIUM, **options):
    """Return the context of a browser whose profile stays in a folder when it is closed."""
    width, height = size
    context = playwright.chromium.launch_persistent_context(
        profile,
        executable_path=chromium,
        args=[*FLAGS, *flags],
        viewport={"width": width, "height": height},
        has_touch=width < 1000,
        timeout=PATIENCE_MS,
        env=UNSHIFTED,
        **options,
    )
    return on_our_day(context)


def kill_browser_of(profile):
    """End the browser that has this profile with all its processes at once, as without power."""
    named = f"--user-data-dir={profile}"
    for process in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):
            if named in (process / "cmdline").read_text().split("\0"):
                os.kill(int(process.name), signal.SIGKILL)


def copy_profile(kept, profile):
    """Copy the profile of a browser that is closed, so that a test need not set it up again."""
    # What says which process has it open is not for the copy.
    shutil.copytree(kept, profile, ignore=shutil.ignore_patterns("Singleton*"))
    return profile
