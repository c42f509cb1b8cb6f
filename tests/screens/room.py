"""The room a place has at every size, in letters as large as one likes, in both themes.

Sources: WCAG 2.2, 1.4.10 Reflow (320 px without sideways scroll) and 1.4.4 Resize Text (200 %).
That the page keeps 40 % of the height above the bar is the project's own rule.
"""

import itertools

from drawing import in_turn

ENLARGED = "desk, four times as large"
# The screen in px, and its safe insets: top, right, bottom, left, as a notch leaves them.
SIZES = {
    "small": ((320, 640), (0, 0, 0, 0)),
    "phone": ((390, 844), (47, 0, 34, 0)),
    "on its side, with a notch": ((844, 390), (0, 47, 21, 47)),
    "desk": ((1280, 800), (0, 0, 0, 0)),
    "wide desk": ((1920, 1080), (0, 0, 0, 0)),
    # A screen of 1280 by 1024 at 400 % zoom (WCAG 2.2, 1.4.10). Its text is large already.
    ENLARGED: ((320, 256), (0, 0, 0, 0)),
}
TEXTS = (100, 200)
THEMES = ("light", "dark")
EVERY = [
    (size, text, theme)
    for size, text, theme in itertools.product(SIZES, TEXTS, THEMES)
    if text == 100 or size != ENLARGED
]
DRAWN = 2
LEAST_SHARE = 0.4


def drawn():
    """The combinations of this run: two a day, so that eleven days walk all."""
    return in_turn(EVERY, DRAWN)


# What is wrong with the room of this place, in words. Whatever can be tapped is looked at where it
# is: what lies under a fixed bar is scrolled to, what lies over another thing to tap is a fault.
WRONG = """([least, share]) => {
  const box = (one) => one.getBoundingClientRect();
  const name = (one) => `${one.tagName} ${one.ariaLabel ?? one.innerText}`.slice(0, 60);
  const wrong = [];
  // What is out of sight may be laid out only once it is scrolled to.
  for (const one of document.querySelectorAll("main *"))
    if (getComputedStyle(one).contentVisibility === "auto") one.style.contentVisibility = "visible";
  const all = [...document.querySelectorAll(
    "button, a[href], summary, select, input:not(.unseen), textarea, [role=slider]")];
  const folded = (one) => {
    const fold = one.closest("details:not([open])");
    const above = fold?.parentElement.closest("details:not([open])");
    return fold && (one.parentElement !== fold || above);
  };
  const shown = all.filter((one) => !folded(one) && one.checkVisibility());
  // What scrolls goes under what keeps its place: each is looked at among its own. Two sliders may
  // lie over the same field.
  const keeps = (one) => {
    const { position, overflowY } = getComputedStyle(one);
    return ["sticky", "fixed"].includes(position) || ["auto", "scroll"].includes(overflowY);
  };
  const layer_of = (one) => {
    while (one !== document.body && !keeps(one)) one = one.parentElement;
    return one;
  };
  const layers = new Map();
  for (const one of shown) {
    const layer = layer_of(one);
    layers.set(layer, [...(layers.get(layer) ?? []), one]);
  }
  for (const [, ones] of layers) {
    ones.forEach((one, at) => {
      for (const other of ones.slice(at + 1)) {
        if (one.contains(other) || other.contains(one)) continue;
        if (one.role === "slider" && other.role === "slider") continue;
        const [a, b] = [box(one), box(other)];
        const [x, y] = [
          Math.min(a.right, b.right) - Math.max(a.left, b.left),
          Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top),
        ];
        if (x > 1 && y > 1) wrong.push(`${name(one)} lies on ${name(other)}`);
      }
    });
  }
  for (const bar of document.querySelectorAll(".bar")) {
    for (const one of bar.querySelectorAll(".step-main, .help-button")) {
      one.scrollIntoView({ block: "nearest" });
      const { top, bottom, left, right, width, height } = box(one);
      if (top < -0.5 || left < -0.5 || bottom > innerHeight + 0.5 || right > innerWidth + 0.5)
        wrong.push(`${name(one)} is out of sight`);
      if (width < least - 0.01 || height < least - 0.01)
        wrong.push(`${name(one)} is ${width} x ${height}`);
      if (one.scrollWidth > one.clientWidth + 1) wrong.push(`${name(one)} is cut off`);
    }
    bar.scrollTop = 0;
  }
  for (const page of document.querySelectorAll(".frame .scroll")) {
    const seen = Math.min(box(page).bottom, innerHeight) - Math.max(box(page).top, 0);
    if (seen < share * innerHeight) wrong.push(`the page keeps ${Math.round(seen)} px`);
  }
  return wrong;
}"""
