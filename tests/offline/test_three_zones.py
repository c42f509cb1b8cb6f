"""Three zones of one head on a phone without its server: lightened, toned, judged and mended.

The sizes are measured as the browser computes them. That a wet glove needs 56 px, and that 64 px
are read at arm's length, is common practice, no published source.
"""

import re

from playwright.sync_api import expect
from test_room_for_a_thumb import TARGET_PX, TOO_SMALL
from test_service import Service
from visit import Visit

FIGURE_PX = 64
MAIN_PX = 64

# The largest text there is, and whether it is what to do now.
LARGEST = """() => {
  const words = [...document.querySelectorAll("body *")].filter((one) =>
    one.checkVisibility() && !one.closest(".unseen")
    && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()));
  const size = (one) => parseFloat(getComputedStyle(one).fontSize);
  const most = Math.max(...words.map(size));
  const largest = words.filter((one) => size(one) === most);
  return {
    px: most,
    others: largest.filter((one) =>
        !one.closest(".order, .order-due, .basin-order"))
      .map((one) => one.textContent),
  };
}"""


def assert_for_a_glove(page):
    assert page.evaluate(TOO_SMALL, TARGET_PX)["small"] == []
    main = page.locator(".step-main")
    assert main.bounding_box()["height"] >= MAIN_PX


def assert_the_order_is_largest(page):
    largest = page.evaluate(LARGEST)
    assert largest["others"] == []
    assert largest["px"] >= FIGURE_PX


def mixed(service):
    """Takes the first mix for the zone that is laid out."""
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.button("Mix this").cleared()
    figure = service.page.locator(".ladder-figure").first
    expect(figure).to_be_visible()
    assert figure.evaluate("it => parseFloat(getComputedStyle(it).fontSize)") >= FIGURE_PX
    assert_for_a_glove(service.page)


def test_three_zones_are_lightened_toned_judged_and_mended_without_a_server(cold_phone):
    opened = Service(Visit(cold_phone.on(), cold_phone.address)).open()
    service = opened.of_a_new_client()
    page = service.page

    # The lightener first: looked at, light enough, rinsed.
    service.radio("pearl")
    service.tap(page.locator("summary", has_text="or a lightener")).radio("a lightener")
    service.button("Next: the hair").button("The lightener").radio("30 min")
    assert_for_a_glove(page)
    expect(page.get_by_role("button", name="Held: see why")).to_be_visible()
    service.cleared().button("First section on")
    expect(page.locator(".order-figure")).to_have_text("5")
    assert_the_order_is_largest(page)
    assert_for_a_glove(page)
    service.button("Last section on")
    service.tap(page.get_by_role("radio", name="level 10, ").nth(1))
    expect(page.get_by_role("region", name="Light enough")).to_contain_text("Rinse now")

    # The hair it left, toned; and the roots beside it, with a bowl of their own.
    service.rinsed().button("Tone this hair")
    mixed(service)
    service.tap(page.locator("summary", has_text="Another zone")).radio("roots")
    mixed(service)
    order = page.get_by_role("region", name="Order of work")
    expect(order).to_contain_text("Every zone lands inside its window")

    # At the basin the order of work leads: the other zone goes on next.
    service.cleared().button("First section on").button("Last section on")
    expect(page.locator(".basin-order")).to_have_text(re.compile("^Put all over, toner on"))
    assert_for_a_glove(page)
    service.button("Put all over, toner on").button("Last section on: all over, toner")
    expect(page.locator(".basin-order")).to_have_text(re.compile("^Wait"))
    assert_the_order_is_largest(page)

    # Judged at the basin: what to do follows, for this head.
    service.tap(page.get_by_role("button", name=re.compile("looks different$"))).button("yellower")
    expect(page.get_by_role("button", name="Undo: yellower")).to_be_visible()
    expect(page.locator(".basin-order")).to_have_text(
        re.compile("Wait|Look again|Rinse now|Saturate")
    )
    assert_the_order_is_largest(page)

    # One zone rinsed brings the other; a strand of it dried says that it missed.
    first = page.get_by_role("heading", level=1).inner_text()
    service.rinsed()
    expect(page.get_by_role("heading", level=1)).not_to_have_text(first)
    service.rinsed()
    expect(page.get_by_role("region", name="Result")).to_be_visible()
    service.button("yellower").button("It missed: what now?")
    ways = page.get_by_role("region", name="Ways on")
    expect(ways.locator(".mend-name").filter(has_text="Wash once")).to_have_count(1)
    service.tap(ways.get_by_role("button", name="Mix this second").first)
    service.cleared()  # it may be of another line, which has questions of its own
    expect(page.locator(".ladder-figure").first).to_be_visible()
    assert_for_a_glove(page)
    rinsed = [op for op in service.records("outbox") if "rinsed_at" in op["fields"]]
    assert len(rinsed) == 3
