"""A whole service by keys alone: each act is reached with Tab and done with Enter or Space.

Source: WCAG 2.2, 2.1.1 Keyboard, 2.1.2 No Keyboard Trap and 2.4.7 Focus Visible.
"""

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_service import Service
from visit import DESK, PHONE

MOST_TABS = 150

# Where the focus is, seen from an element: on it, in its group of radios, or elsewhere.
FOCUS = """one => {
  const now = document.activeElement;
  if (now === one) return "on it";
  return one.type === "radio" && now?.type === "radio" && now.name === one.name ? "beside" : "";
}"""

# What shows that an element has the focus: a line around it, or around what stands for it.
SHOWN = """one => [one, one.nextElementSibling, one.closest("label")].some((seen) => {
  if (!seen) return false;
  const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(seen);
  return outlineStyle !== "none" && parseFloat(outlineWidth) > 0 || boxShadow !== "none";
})"""


class ByKeys(Service):
    """A walk through a service that never points at anything."""

    def tap(self, locator):
        expect(locator).to_be_visible()
        page = self.page
        for _ in range(MOST_TABS):
            where = locator.evaluate(FOCUS)
            if where:
                break
            page.keyboard.press("Tab")
        else:
            raise AssertionError(f"{locator} is not reached by {MOST_TABS} tabs")
        while where == "beside":
            page.keyboard.press("ArrowDown")
            where = locator.evaluate(FOCUS)
        assert locator.evaluate(SHOWN), f"nothing shows that {locator} has the focus"
        # A question that has just come takes no press yet.
        expect(locator).to_be_enabled()
        is_radio = locator.evaluate("one => one.type === 'radio'")
        page.keyboard.press("Space" if is_radio else "Enter")
        self.taps += 1
        return self


@pytest.mark.parametrize("size", in_turn([PHONE, DESK]), ids=str)
def test_a_whole_service_is_done_by_keys(visit, size):
    service = ByKeys(visit(size)).open().of_a_new_client()
    service.to_the_clock().button("Last section on").button("yellower")
    undo = service.page.get_by_role("button", name="Undo: yellower", exact=True)
    expect(undo).to_be_visible()
    service.rinsed().button("as shown").button("End the service").button("Back to today")
    expect(service.page.locator(".day-row")).to_contain_text("ended")
    looks = [op for op in service.records("outbox") if op["kind"] == "reading.create"]
    assert next(op["fields"]["words"] for op in looks) == "yellower"
