"""Every place of the page with a day's records in it, under the rules of axe-core, and by touch.

Source: axe-core, which checks WCAG 2.2 levels A and AA and its own best practices.
"""

import os
from itertools import product
from pathlib import Path

import pytest
from browser import BUILT
from drawing import in_turn
from playwright.sync_api import expect
from room import LEAST_SHARE, SIZES, WRONG, drawn
from test_read_by_all import found_by_axe
from test_room_for_a_thumb import TOO_WIDE
from test_service import OPENS_AT
from test_shelf import Shelf
from visit import DESK, PHONE, Visit
from waiting import once

# A folder to look at every place in: PICTURES=folder .venv/bin/pytest tests/screens -k every_place
PICTURES = os.environ.get("PICTURES")
LEAST_TARGET_PX = 56
MOST_SCRIPT_KB = 60
# Notes when a place was last seen to come together, on the browser's own clock: the page's is set.
SEEN_OPEN = """
    globalThis.open_since = 0;
    const look = () => {
        const main = document.querySelector("main");
        const open = main?.querySelector("h2, h3") && !main.innerText.includes("Opening");
        if (!open) globalThis.open_since = 0;
        else globalThis.open_since ||= new PerformanceMark("open").startTime;
    };
    new MutationObserver(look).observe(document,
        { subtree: true, childList: true, characterData: true, attributes: true });
"""
# The scripts that were asked for until then. What goes by a running clock is asked for after it.
ASKED_BEFORE = """
    () => new Promise((done) => {
        const scripts = [];
        new PerformanceObserver((list) => {
            for (const { name, startTime } of list.getEntries()) {
                const path = new URL(name).pathname;
                if (path.endsWith(".js")) scripts.push([path, startTime]);
            }
            if (scripts.some(([path]) => path.includes("/everywhere-"))) {
                done(scripts.filter(([, at]) => at <= open_since).map(([path]) => path));
            }
        }).observe({ type: "resource", buffered: true });
    })
"""
LISTED = ("today", "clients", "formulas", "shelf", "try", "settings", "pair", "look", "desk")


def kept_day(page):
    """The addresses of one record of each kind that has a place of its own."""
    links = {}
    for place, kind in (("clients", "client"), ("formulas", "formula"), ("shelf", "line")):
        page.goto(f"{page.url.split('#')[0]}#/{place}")
        link = page.locator(f"a[href^='#/{kind}/']").first
        expect(link).to_be_visible()
        links[kind] = link.get_attribute("href").removeprefix("#/")
    page.goto(f"{page.url.split('#')[0]}#/today")
    rows = page.locator(".day-row")
    expect(rows).to_have_count(2)
    for at, name in enumerate(("service that is over", "service that runs")):
        links[name] = rows.nth(at).get_attribute("href").removeprefix("#/")
    return links


def a_day(shown):
    """Keeps a day's records on a phone, up to a clock that runs; returns where they are."""
    walk = Shelf(shown)
    walk.with_a_line().with_a_shade("9V", "violet").with_a_shade("10P", "pearl")
    walk.with_a_shade("9G", "gold").open().of_a_new_client("Oona Pell").to_the_mix()
    walk.cleared().button("First section on").button("Last section on").rinsed()
    walk.button("as shown")
    walk.tap(walk.page.locator("summary", has_text="Keep this formula"))
    walk.button("Keep it")
    walk.page.get_by_label("Note", exact=True).fill("Ends took faster.")
    walk.button("Keep the note").button("End the service").button("Back to today")
    walk.of_a_new_client("Tam Ferris").to_the_mix().cleared().button("First section on")
    expect(walk.countdown).to_be_visible()
    return walk.page.evaluate("Date.now()"), kept_day(walk.page)


@pytest.fixture
def in_the_day(visit, prepared):
    """Opens a phone in the middle of a day; returns it, and where its records are.

    Its clock is set to when they were kept: by its own, what runs would ring on a slow machine.
    """

    def opened(size=PHONE, **options):
        memory, (now_ms, links) = prepared("a day", a_day, OPENS_AT)
        shown = visit(size, memory, **options)
        shown.page.clock.install(time=now_ms / 1000)
        return shown, links

    return opened


def places(page, address, links):
    """Goes to each place; yields its name once it shows what is there."""
    for name, where in {**dict.fromkeys(LISTED), **links}.items():
        page.goto(f"{address}/#/{where or name}")
        expect(page.locator("main h2, main h3").first).to_be_visible()
        expect(page.get_by_text("Opening")).to_have_count(0)
        yield name
    page.goto(f"{address}/#/today")
    page.get_by_role("button", name="Import a day").click()
    expect(page.get_by_label("Choose the file")).to_be_attached()
    yield "day from a file"
    page.get_by_role("button", name="New service").click()
    expect(page.get_by_label("Client’s name")).to_be_visible()
    yield "new service"
    page.get_by_role("button", name="Help").click()
    yield "help"


@pytest.mark.parametrize(("size", "theme"), in_turn(product([PHONE, DESK], ["light", "dark"])))
def test_axe_finds_nothing_in_every_place(in_the_day, size, theme):
    # The page's policy lets no foreign script in, axe included; this context is for it alone.
    shown, links = in_the_day(size, color_scheme=theme, bypass_csp=True)
    found = {}
    for name in places(shown.page, shown.address, links):
        found[name] = found_by_axe(shown.page)
        if PICTURES:
            picture = f"{name.replace(' ', '-')}-{size[0]}-{theme}.png"
            shown.page.screenshot(path=Path(PICTURES) / picture)
    assert len(found) == len(LISTED) + len(links) + 3
    assert {name: faults for name, faults in found.items() if faults} == {}


def test_nothing_to_tap_is_smaller_than_a_gloved_thumb_and_nothing_runs_off_the_side(in_the_day):
    shown, links = in_the_day()
    small, wide = {}, {}
    for name in places(shown.page, shown.address, links):
        targets = shown.page.locator("button:visible, a.button:visible, summary:visible")
        boxes = targets.evaluate_all(
            "all => all.map((e) => [e.innerText, Math.round(e.getBoundingClientRect().height)])"
        )
        small[name] = [box for box in boxes if box[1] < LEAST_TARGET_PX]
        wide[name] = shown.page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert {name: those for name, those in small.items() if those} == {}
    assert {name: by for name, by in wide.items() if by > 0} == {}


def test_no_place_waits_for_more_than_sixty_kilobytes_of_scripts(in_the_day):
    shown, links = in_the_day()
    shown.page.context.close()
    weights = {}
    for name, where in {**dict.fromkeys(LISTED), **links}.items():
        shown, _ = in_the_day()
        page = shown.page
        page.add_init_script(SEEN_OPEN)
        # What goes by the running clock comes once the place is there.
        with page.expect_event("requestfinished", lambda done: "/everywhere-" in done.url):
            page.goto(f"{shown.address}/#/{where or name}")
        needed = page.evaluate(ASKED_BEFORE)
        page.context.close()
        assert needed
        # As it is sent: brotli.
        packed = {path: (BUILT / f"{path[1:]}.br").stat().st_size for path in needed}
        weights[name] = sum(packed.values()) / 1024
    print({name: round(kb, 1) for name, kb in weights.items()})
    assert {name: kb for name, kb in weights.items() if kb > MOST_SCRIPT_KB} == {}


def test_a_wide_screen_shows_the_day_in_columns_and_each_place_has_a_drawing(in_the_day):
    shown, _ = in_the_day(DESK)
    page = shown.page
    page.goto(f"{shown.address}/#/today")
    expect(page.locator(".day-row")).to_have_count(2)
    sides = "all => new Set(all.map((row) => row.getBoundingClientRect().left)).size"
    once(lambda: page.locator(".day-row").evaluate_all(sides), lambda columns: columns == 2)
    ways = page.get_by_role("navigation", name="Places").get_by_role("link")
    expect(ways).to_have_text(["Today", "Clients", "Formulas", "Shelf"])
    expect(ways.locator("svg:visible")).to_have_count(4)
    expect(ways.and_(page.locator("[aria-current=page]"))).to_have_text(["Today"])
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    once(lambda: page.locator(".day-row").evaluate_all(sides), lambda columns: columns == 1)


# How many left edges the parts of a place have: in one column they all begin at one.
LEFT_EDGES = "all => new Set(all.map((part) => Math.round(part.getBoundingClientRect().left))).size"
# In how many rows things stand: what begins under the end of another is in the next.
TOP_ROWS = """all => {
  const boxes = all.map((one) => one.getBoundingClientRect());
  const end = Math.min(...boxes.map((box) => box.bottom));
  return boxes.some((box) => box.top >= end) ? 2 : 1;
}"""
# Whether the words of the strip's bracket are whole: in sight, with nothing over them.
BRACKET_IN_SIGHT = """() => [...document.querySelectorAll(".strip-bracket text")].every((words) => {
  const { left, right, top, bottom } = words.getBoundingClientRect();
  const on_top = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return bottom > top && Boolean(on_top?.closest("svg, .strip"));
})"""


def test_a_wide_screen_uses_its_width_and_each_list_has_its_act_in_the_bar(in_the_day):
    shown, links = in_the_day(DESK)
    page = shown.page
    for place, parts in (("settings", ".settings > *"), (links["line"], ".shades > .shade")):
        page.goto(f"{shown.address}/#/{place}")
        expect(page.locator(parts).nth(2)).to_be_attached()
        once(lambda on=parts: page.locator(on).evaluate_all(LEFT_EDGES), lambda count: count >= 2)
    page.goto(f"{shown.address}/#/{links['service that runs']}")
    # The strip of what runs is beside its order, not under it.
    expect(page.locator("#strip .strip-ground")).to_be_visible()
    beside = page.locator("#strip > .stack > :is(.order, .strip-ground)")
    once(lambda: beside.evaluate_all(LEFT_EDGES), lambda count: count == 2)
    # What came of one that is over is beside its lines, and the places stay in one row over it.
    page.goto(f"{shown.address}/#/{links['service that is over']}")
    expect(page.locator("#result.fold-open")).to_be_visible()
    once(lambda: page.locator("main .fold").evaluate_all(LEFT_EDGES), lambda count: count == 2)
    once(lambda: page.locator(".top > *").evaluate_all(TOP_ROWS), lambda rows: rows == 1)
    page.goto(f"{shown.address}/#/formulas")
    page.locator(".bar").get_by_role("button", name="Work out a mix").click()
    Visit(page, shown.address).to_the_strip()
    expect(page.locator(".strip-bracket text").first).to_be_visible()
    once(lambda: page.evaluate(BRACKET_IN_SIGHT), lambda whole: whole)
    page.goto(f"{shown.address}/#/clients")
    page.locator(".bar").get_by_role("button", name="New service").click()
    expect(page.get_by_label("Client’s name")).to_be_visible()


@pytest.mark.parametrize(("size", "text", "theme"), drawn())
def test_every_place_has_room_and_nothing_lies_on_what_is_tapped(in_the_day, size, text, theme):
    screen, (top, right, bottom, left) = SIZES[size]
    shown, links = in_the_day(screen, color_scheme=theme)
    page = shown.page
    insets = {"top": top, "right": right, "bottom": bottom, "left": left}
    page.context.new_cdp_session(page).send(
        "Emulation.setSafeAreaInsetsOverride", {"insets": insets}
    )
    page.add_init_script(
        f"addEventListener('DOMContentLoaded', () => {{"
        f" document.documentElement.style.fontSize = '{text}%'; }})"
    )
    wrong = {}
    for name in places(page, shown.address, links):
        wrong[name] = page.evaluate(WRONG, [LEAST_TARGET_PX, LEAST_SHARE])
        # The words in a field may be longer than it: they scroll in it as one types.
        wide = [one for one in page.evaluate(TOO_WIDE) if not one.startswith("INPUT")]
        wrong[name] += wide if name != "help" else []
        if PICTURES:
            kind = f"{size.split()[0]}-{text}-{theme}"
            page.screenshot(path=Path(PICTURES) / f"{name.replace(' ', '-')}-{kind}.png")
    assert {name: those for name, those in wrong.items() if those} == {}
