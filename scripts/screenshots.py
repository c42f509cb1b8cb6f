"""Take the pictures that a phone shows before it installs the app: the real page, the demo day.

Run it after a change of how these screens look: `.venv/bin/python scripts/screenshots.py`. It
serves the built page on the loopback address, and writes web/public/screenshots/.
"""

import io
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "common"))
from browser import on_our_day, open_browser  # type: ignore[import-not-found]  # noqa: E402
from running import Server  # type: ignore[import-not-found]  # noqa: E402

FOLDER = ROOT / "web" / "public" / "screenshots"
# A Saturday morning of the demo salon, so that two runs show the same times.
AT = "2026-11-28T10:40:00"
NARROW, WIDE = (390, 844), (1280, 800)
PIXELS_EACH = {NARROW: 2, WIDE: 1}


def the_day(page: Page) -> None:
    """Show the day with its running clocks."""
    page.get_by_role("button", name="Open the demo day").click()
    expect(page.locator(".day-row").first).to_be_visible()
    expect(page.locator(".bar .clock-line, .bar .clock-bar").first).to_be_visible()


def a_mix(page: Page) -> None:
    """Show the answer to a wish."""
    page.goto(page.url.split("#")[0] + "#/try")
    page.get_by_role("button", name="Next: the wish").click()
    page.locator("label").filter(has=page.get_by_role("radio", name="pearl", exact=True)).click()
    page.get_by_role("button", name="What to mix").click()
    expect(page.locator(".bar .step-main")).to_be_enabled()
    expect(page.get_by_role("heading", name="What to mix")).to_be_visible()
    page.wait_for_load_state("networkidle")


def a_service(page: Page) -> None:
    """Show a head under colour at the basin."""
    the_day(page)
    page.locator(".day-row", has_text="rinse from").click()
    expect(page.locator(".basin-order")).not_to_be_empty()
    expect(page.locator(".basin-why")).to_contain_text("best")


SHOWN: dict[str, tuple[tuple[int, int], Callable[[Page], None]]] = {
    "day": (NARROW, the_day),
    "mix": (NARROW, a_mix),
    "basin": (NARROW, a_service),
    "day-wide": (WIDE, the_day),
}


def main() -> None:
    """Write one picture for each place."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = Server(Path(folder) / "salon").start()
        try:
            with open_browser(playwright) as browser:
                for name, (size, show) in SHOWN.items():
                    context = browser.new_context(
                        viewport=dict(zip(("width", "height"), size, strict=True)),
                        device_scale_factor=PIXELS_EACH[size],
                        has_touch=size == NARROW,
                        locale="en-GB",
                    )
                    on_our_day(context)
                    page = context.new_page()
                    page.clock.install(time=AT)
                    page.goto(f"{server.address}/#/today")
                    show(page)
                    expect(page.get_by_text("Opening")).to_have_count(0)
                    write(FOLDER / f"{name}.webp", page.screenshot())
                    context.close()
        finally:
            server.stop()


def write(file: Path, picture: bytes) -> None:
    """Write a picture as small as it can be without a change of its colours."""
    Image.open(io.BytesIO(picture)).convert("RGB").save(file, "WEBP", lossless=True, method=6)


if __name__ == "__main__":
    main()
