"""What a live service costs the phone: four zones running, with the processor slowed 4 times.

Long tasks (W3C Long Tasks: over 50 ms on the main thread) while nothing is touched, and while
zones are changed, the strip is scrubbed and a look is kept. And what is changed and painted while
only seconds pass: nothing but the countdowns may, once a second. Reported, never failed.
"""

import re
import sys
from collections import Counter
from pathlib import Path

from _page import CHROMIUM, COUNTRY_SAID, FLAGS, PHONE, missing, served
from playwright.sync_api import CDPSession, Locator, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "screens"))

from cleared import clear

SLOWED = 4
QUIET_S = 12
LONGEST_MS = 50
SETTLE_MS = 2000
OTHER_ZONES = ("roots", "lengths", "ends")

WATCH = """() => {
  window.tasks = [];
  new PerformanceObserver((seen) => window.tasks.push(
    ...seen.getEntries().map(({ duration }) => duration)
  )).observe({ type: "longtask" });
  window.changes = [];
  new MutationObserver((seen) => window.changes.push(...seen.map(({ target, type }) => {
    const at = target.nodeType === 3 ? target.parentElement : target;
    return `${type} ${at?.closest("[class]")?.className}`;
  }))).observe(document.body,
    { subtree: true, childList: true, characterData: true, attributes: true });
}"""


# Once what settles on it is over.
SETTLED = """on => Promise.allSettled(on.getAnimations().map(shown => shown.finished))
    .then(() => null)"""


def tap(page: Page, name: str, role: str = "button") -> None:
    """Tap what carries a name, once it takes a tap: what has just come settles first."""
    found = page.get_by_role(role, name=name, exact=True)  # type: ignore[arg-type]
    found.evaluate(SETTLED)
    found.tap()


def to_the_whole_page(page: Page) -> None:
    """Go from the basin, of one zone or of several, to the whole page of the service."""
    page.locator(".basin").wait_for()
    look = page.get_by_role("button", name=re.compile("looks different$"))
    if look.count() > 0:
        look.tap()
    tap(page, "Whole strip")


def with_four_zones(page: Page, address: str) -> None:
    """Walk to a service with four zones, each with a mix and a running clock."""
    page.goto(f"{address}/#/today")
    tap(page, "New service")
    page.get_by_label("Client’s name").fill("Wren Aldous")
    tap(page, "New client")
    tap(page, "pearl", "radio")
    tap(page, "Next: the hair")
    for zone in (None, *OTHER_ZONES):
        if zone:
            to_the_whole_page(page)
            page.locator("summary", has_text="Another zone").tap()
            tap(page, zone, "radio")
        tap(page, "What to mix")
        page.locator(".answer").wait_for()
        tap(page, "Mix this")
        clear(page, Locator.tap)
        tap(page, "First section on")
        last = page.get_by_role("button", name=re.compile("^Last section on"))
        last.evaluate(SETTLED)
        last.tap()
    to_the_whole_page(page)
    page.locator("[data-strip]").first.wait_for()
    page.wait_for_load_state("networkidle")


def quiet(page: Page, slowly: CDPSession) -> None:
    """Report what changes and is painted while only seconds pass."""
    events: Counter[str] = Counter()
    slowly.on(
        "Tracing.dataCollected",
        lambda told: events.update(event["name"] for event in told["value"]),
    )
    page.evaluate("window.changes = []; window.tasks = []")
    slowly.send(
        "Tracing.start", {"categories": "devtools.timeline", "transferMode": "ReportEvents"}
    )
    page.wait_for_timeout(QUIET_S * 1000)
    changes = Counter(page.evaluate("window.changes"))
    slowly.send("Tracing.end")
    page.wait_for_timeout(SETTLE_MS)
    report("untouched", page)
    print(f"  {QUIET_S} s: {events['Paint']} paints, {events['Layout']} layouts")
    for what, count in changes.most_common(8):
        print(f"  changed {count} times: {what}")


def report(what: str, page: Page) -> None:
    """Print the long tasks since the last report."""
    tasks = sorted(page.evaluate("window.tasks.splice(0)"), reverse=True)
    longest = f", longest {tasks[0]:.0f} ms" if tasks else ""
    print(f"{what}: {len(tasks)} tasks over {LONGEST_MS} ms{longest}")


def touched(page: Page) -> None:
    """Report the long tasks of what a hand does while four clocks run."""
    for zone in ("roots", "lengths", "all over"):
        tap(page, zone, "radio")
        page.wait_for_timeout(SETTLE_MS)
        report(f"another zone ({zone})", page)
    minute = page.get_by_role("slider", name="Minute")
    minute.focus()
    for _ in range(6):
        page.keyboard.press("ArrowDown")
        page.wait_for_timeout(150)
    report("the strip scrubbed by 6 minutes", page)
    tap(page, "Back to the basin")
    page.get_by_role("button", name=re.compile("looks different$")).tap()
    tap(page, "yellower")
    page.wait_for_timeout(2 * SETTLE_MS)
    report("a look kept and judged", page)
    tap(page, "Whole strip")
    tap(page, "−1 min")
    page.wait_for_timeout(SETTLE_MS)
    report("the clock moved by a minute", page)


def main() -> None:
    """Serve the page, run four zones on it and print what they cost."""
    if sentence := missing():
        print(sentence)
        return
    with served() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport=PHONE, has_touch=True)
        page.add_init_script(COUNTRY_SAID)
        with_four_zones(page, address)
        slowly = page.context.new_cdp_session(page)
        slowly.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        page.evaluate(WATCH)
        quiet(page, slowly)
        touched(page)
        browser.close()


if __name__ == "__main__":
    main()
