"""The boxes of the basin as the browser lays them out: what is out of sight, covered or cut off.

At the usual text nothing scrolls at all. At twice the text the order, the colour looked at, one act
and Help stay in sight; the rest is scrolled to, one by one, and must then be whole and uncovered.
"""

from test_room_for_a_thumb import TARGET_PX

SIZES = {"phone": (390, 844), "small phone": (320, 640), "on its side": (844, 390)}
TEXTS = ("100%", "200%")

# What is out of sight, covered, cut off or too small, in words; and how many things were measured.
WRONG = """([least, may_scroll]) => {
  const frame = document.querySelector(".frame-basin");
  const targets = "button, a[href], label, [role=slider]";
  const told = "h1, .basin-order, .basin-why, .shade, figcaption, figure > p, .basin-causes p"
    + ", .ringing-words";
  const kept = ".basin-order, .help-button, .basin-steps > :first-child, .ringing button,"
    + ".basin-as-shown .shade";
  const shown = [...frame.querySelectorAll(`${targets}, ${told}`)]
    .filter((one) => one.checkVisibility());
  const wrong = [];
  const name_of = (one) => `${one.tagName}.${one.className} ${one.textContent.trim().slice(0, 30)}`;
  const seen = (one) => {
    const name = name_of(one);
    const { left, top, right, bottom } = one.getBoundingClientRect();
    if (left < -0.5 || top < -0.5 || right > innerWidth + 0.5 || bottom > innerHeight + 0.5) {
      return wrong.push(`${name}: out of sight, ${[left, top, right, bottom].map(Math.round)}`);
    }
    // Its middle, and near its corners: a part that something lies over is covered too. The line of
    // a large letter reaches some pixels out of its own box.
    const x = Math.max(0, (right - left) / 2 - 10);
    const y = Math.max(0, (bottom - top) / 2 - 10);
    const [across, down] = [(left + right) / 2, (top + bottom) / 2];
    const near = [[across, down], ...[-1, 1].flatMap((to) =>
      [[across - x, down + to * y], [across + x, down + to * y]])];
    for (const [x, y] of near) {
      const hit = document.elementFromPoint(x, y);
      if (!hit || !(one.contains(hit) || hit.contains(one) && hit.closest(".frame-basin"))) {
        return wrong.push(`${name}: covered by ${hit?.className}`);
      }
      const over = hit.closest("button, .bar, .basin-order, .basin-as-shown");
      const mine = one.closest("button, .bar, .basin-order, .basin-as-shown");
      if (over !== mine && !one.contains(over) && !(over && over.contains(one))) {
        return wrong.push(`${name}: ${over?.className} lies over it`);
      }
    }
  };
  const scrolls = ".basin, .basin-work, .basin-top, .basin-rest";
  for (const one of shown) {
    const is_kept = one.matches(kept);
    if (may_scroll && !is_kept) one.scrollIntoView({ block: "nearest" });
    seen(one);
    const { width, height } = one.getBoundingClientRect();
    if (one.matches(targets) && (width < least - 0.01 || height < least - 0.01)) {
      wrong.push(`${name_of(one)}: ${width} x ${height}`);
    }
    // What rings is whole at the usual text; a tap leads to the rest of it at twice the text.
    const whole = "button, .basin-order, figcaption, figure > p, label > span" +
      (may_scroll ? "" : ", .ringing-words");
    if (one.matches(whole) &&
        (one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 8)) {
      wrong.push(`${name_of(one)}: cut off`);
    }
    // Longer words come with the next minute: they go on in a second line.
    if (one.matches("figure > p") && getComputedStyle(one).whiteSpace === "nowrap") {
      wrong.push(`${name_of(one)}: kept to one line`);
    }
  }
  if (may_scroll) {
    // Scrolled to the very end, what is kept in sight is still there.
    for (const one of frame.querySelectorAll(scrolls)) one.scrollTop = one.scrollHeight;
    for (const one of shown) if (one.matches(kept)) seen(one);
    for (const one of frame.querySelectorAll(scrolls)) one.scrollTop = 0;
  }
  for (const one of [document.documentElement, ...frame.querySelectorAll("*")]) {
    const whole = one.matches("html, .scroll, main") || !may_scroll && one.matches(
      ".basin, .basin-work, .basin-ground, .basin-doubt, .basin-early, .basin-top, .basin-rest");
    if (whole && one.scrollHeight > one.clientHeight + 1) {
      wrong.push(`.${one.className} scrolls: ${one.scrollHeight} in ${one.clientHeight}`);
    }
    if (one.matches(`html, .scroll, main, ${scrolls}`) && one.scrollWidth > one.clientWidth + 1) {
      wrong.push(`.${one.className} scrolls sideways: ${one.scrollWidth} in ${one.clientWidth}`);
    }
  }
  // By their first line: what the colour is called beside "as shown" goes where there is no room.
  const acts = shown.filter((one) => one.matches("button, a[href]"))
    .map((one) => (one.querySelector("strong") ?? one).innerText.replace(/\\s+/g, " ").trim());
  return { measured: shown.length, wrong, acts: [...new Set(acts)].sort() };
}"""

SETTLED = "new Promise((on) => requestAnimationFrame(() => requestAnimationFrame(on)))"


def wrong_at_each_size(page, state, texts=TEXTS):
    """What is wrong with a state of the basin, by the size of the screen and of its text."""
    found = {}
    for name, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        acts = []
        for text in texts:
            page.evaluate(f"document.documentElement.style.fontSize = '{text}'")
            page.wait_for_function("() => innerWidth > 0 && document.querySelector('.basin')")
            page.evaluate(SETTLED)
            seen = page.evaluate(WRONG, [TARGET_PX, text != TEXTS[0]])
            assert seen["measured"] > 5, state
            acts.append(seen["acts"])
            if seen["wrong"]:
                found[f"{state}, {name}, text {text}"] = seen["wrong"]
        if len(acts) > 1 and acts[0] != acts[1]:
            found[f"{state}, {name}, acts"] = acts
    page.evaluate("document.documentElement.style.fontSize = ''")
    page.set_viewport_size(dict(zip(("width", "height"), SIZES["phone"], strict=True)))
    return found
