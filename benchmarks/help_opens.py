"""How long a tap on Help takes to be on the screen, with the processor slowed 4 times.

The time from the tap's own event to the end of the frame that shows the card, in Chromium, at
390 x 844, from the screen that holds most: the strip. The aim is under 100 ms; a slow machine is
reported, never failed.
"""

from statistics import median

from _page import CHROMIUM, FLAGS, PHONE, missing, served
from playwright.sync_api import Page, sync_playwright

SLOWED = 4
RUNS = 9
AIM_MS = 100

# `timeStamp` is when the finger came off; the second frame begins once the first is drawn.
MEASURE = """() => new Promise((told) => {
  const button = document.querySelector(".help-button");
  button.addEventListener("click", (tap) => {
    requestAnimationFrame(() => requestAnimationFrame((shown) => told(shown - tap.timeStamp)));
  }, { once: true });
})"""


def to_the_strip(page: Page, address: str) -> None:
    """Walk to the strip, with the hair and the wish left as they are at first."""
    page.goto(f"{address}/#/try")
    page.get_by_role("button", name="Next: the wish").click()
    page.get_by_role("radio", name="pearl", exact=True).click()
    page.get_by_role("button", name="What to mix").click()
    page.get_by_role("button", name="Mix this").click()
    page.get_by_role("slider", name="Minute").wait_for()


def times_ms(address: str) -> list[float]:
    """Return the time of each opening, in ms."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport=PHONE, has_touch=True)
        to_the_strip(page, address)
        slowly = page.context.new_cdp_session(page)
        slowly.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        times = []
        for _ in range(RUNS):
            page.evaluate(f"() => {{ window.shown = ({MEASURE})() }}")
            page.locator(".help-button").tap()
            times.append(page.evaluate("window.shown"))
            page.get_by_role("button", name="Close").click()
        browser.close()
    return times


def main() -> None:
    """Serve the page, open the card and print how long that took."""
    if sentence := missing():
        print(sentence)
        return
    with served() as address:
        times = times_ms(address)
    print(
        f"Help opens in {median(times):.0f} ms (median of {RUNS}, {SLOWED} times slowed; "
        f"first {times[0]:.0f}, longest {max(times):.0f}; aim {AIM_MS})"
    )


if __name__ == "__main__":
    main()
