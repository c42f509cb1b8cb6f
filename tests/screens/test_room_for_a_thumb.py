"""Every target as large as a gloved thumb needs, and no page wider than its screen.

Sources: WCAG 2.2, 2.5.5 Target Size (Enhanced) asks for 44 px, 1.4.10 Reflow for 320 px without
sideways scroll, 1.4.4 Resize Text for 200 %. That a wet glove needs 56 px is common practice, no
published source.
"""

import pytest
from drawing import in_turn

TARGET_PX = 56

TOO_SMALL = """least => {
  const targets = document.querySelectorAll(
    "button, a[href], summary, select, input:not(.unseen), textarea, label:has(> .unseen),"
    + "[role=slider], [role=radio]");
  const shown = [...targets].filter((one) => one.checkVisibility());
  // What is laid out in fractions of a pixel may be short of a whole one by rounding.
  const small = shown.filter((one) => {
    const { width, height } = one.getBoundingClientRect();
    return width < least - 0.01 || height < least - 0.01;
  });
  return {
    measured: shown.length,
    small: small.map((one) => {
      const { width, height } = one.getBoundingClientRect();
      return `${one.tagName} ${one.ariaLabel ?? one.textContent}: ${width} x ${height}`;
    }),
  };
}"""

# The document, and whatever scrolls inside it: nothing may reach past the right edge.
TOO_WIDE = """() => [document.documentElement, ...document.querySelectorAll("body *")]
  .filter((one) => one.checkVisibility() && !one.matches(".unseen"))
  .filter((one) => {
    const scrolls = getComputedStyle(one).overflowX !== "visible" || one.matches("html");
    return scrolls && one.scrollWidth > one.clientWidth
      || one.getBoundingClientRect().right > innerWidth + 0.5;
  })
  .map((one) => `${one.tagName}.${one.className}: ${one.scrollWidth} in ${one.clientWidth}`)"""

SCREENS = {
    "320 px": ((320, 640), 1),
    "phone": ((390, 844), 3),
    "phone on its side": ((844, 390), 3),
    "desk": ((1280, 800), 1),
    "wide desk": ((1600, 900), 1),
    # What a browser does at 200 %: half as many CSS pixels, each of them twice as large.
    "desk at 200 %": ((640, 400), 2),
    "wide desk at 200 %": ((800, 450), 2),
}


@pytest.mark.parametrize("screens", in_turn(SCREENS, 2))
def test_every_screen_has_room(visit, memory, screens):
    size, scale = SCREENS[screens]
    shown = visit(size, memory, device_scale_factor=scale)
    small, wide = {}, {}
    for screen in shown.every_screen():
        targets = shown.page.evaluate(TOO_SMALL, TARGET_PX)
        assert targets["measured"] > 3, f"hardly a target was found on {screen}"
        small[screen] = targets["small"]
        wide[screen] = shown.page.evaluate(TOO_WIDE)
    assert len(small) == 9
    assert {screen: which for screen, which in small.items() if which} == {}
    assert {screen: which for screen, which in wide.items() if which} == {}


def test_a_small_target_and_a_wide_box_are_seen(visit):
    page = visit().open().page
    page.evaluate(
        """() => {
          const small = document.createElement("a");
          small.href = "#";
          small.textContent = "small";
          const wide = document.createElement("div");
          wide.style.cssText = "width: 500px; height: 1px";
          document.querySelector("main").append(small, wide);
        }"""
    )
    assert any("small" in one for one in page.evaluate(TOO_SMALL, TARGET_PX)["small"])
    assert page.evaluate(TOO_WIDE)
