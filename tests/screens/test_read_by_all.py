"""Nobody is shut out: every screen, both themes, phone and desk, under the rules of axe-core.

Source: axe-core, which checks WCAG 2.2 levels A and AA and its own best practices.
"""

from itertools import product
from pathlib import Path

import pytest
from drawing import in_turn
from visit import DESK, PHONE

AXE = Path(__file__).resolve().parents[2] / "web" / "node_modules" / "axe-core" / "axe.min.js"

RUN_AXE = """async () => {
  const { violations } = await axe.run();
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${help}: ${target}: ${failureSummary}`));
}"""


def found_by_axe(page):
    if not page.evaluate("'axe' in window"):
        page.add_script_tag(path=AXE)
    return page.evaluate(RUN_AXE)


@pytest.mark.parametrize(("size", "theme"), in_turn(product([PHONE, DESK], ["light", "dark"])))
def test_axe_finds_nothing_on_any_screen(visit, memory, size, theme):
    # The page's policy lets no foreign script in, axe included; this context is for it alone.
    shown = visit(size, memory, color_scheme=theme, bypass_csp=True)
    found = {screen: found_by_axe(shown.page) for screen in shown.every_screen()}
    assert len(found) == 9
    assert {screen: faults for screen, faults in found.items() if faults} == {}


def test_axe_sees_a_button_without_a_name(visit):
    page = visit(bypass_csp=True).open().page
    page.evaluate("document.querySelector('main').append(document.createElement('button'))")
    assert any(fault.startswith("button-name: ") for fault in found_by_axe(page))


def test_the_theme_chosen_in_the_settings_outweighs_the_devices(visit):
    shown = visit(color_scheme="dark").open()
    ground = "getComputedStyle(document.body).backgroundColor"
    dark = shown.page.evaluate(ground)
    shown.page.get_by_role("link", name="Settings").click()
    shown.radio("light", "Light").click()
    light = shown.page.evaluate(ground)
    assert light != dark
    shown.radio("dark", "Light").click()
    assert shown.page.evaluate(ground) == dark
    shown.radio("light", "Light").click()
    shown.page.reload()
    assert shown.page.evaluate(ground) == light
