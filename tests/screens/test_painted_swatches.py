"""The swatch bench by touch: planned, painted, rinsed, read, in force, and back to the label.

What swatches teach is held to simulated tubes in tests/engine; here it is the page that counts.
"""

import re

from playwright.sync_api import expect
from test_read_by_all import found_by_axe
from test_shelf import Shelf
from visit import pause_at

OPENS_AT, PAINTED_AT = "2026-11-25T10:00:00Z", "2026-11-25T10:10:00Z"


class Bench(Shelf):
    def with_one_tube(self):
        self.with_a_line()
        return self.with_a_shade("9V", "violet")

    def to_the_bench(self):
        self.tap(self.page.get_by_role("link", name="Learn these tubes from swatches"))
        expect(self.page.get_by_role("heading", name="Quill: swatches")).to_be_visible()
        return self

    def planned(self):
        for level in ("9", "10"):
            self.tap(self.page.get_by_role("checkbox", name=level, exact=True))
        self.radio("4").button("Plan 4 swatches")
        expect(self.rows).to_have_count(4)
        return self

    @property
    def rows(self):
        return self.page.locator(".swatch-row")

    def read(self, at, lab=(68, 2, 14)):
        """Type what an instrument would read."""
        row = self.rows.nth(at)
        for name, value in zip(("L*", "a*", "b*"), lab, strict=True):
            row.get_by_role("group", name="Painted end").get_by_label(name).fill(str(value))
        self.tap(row.get_by_role("button", name="Keep this reading"))
        expect(row.get_by_text("Read it again")).to_be_visible()
        return self


def test_swatches_are_painted_read_and_mixed_by_and_the_label_is_one_tap_away(visit):
    bench = Bench(visit(bypass_csp=True)).with_one_tube().to_the_bench().planned()
    bench.page.clock.install(time=OPENS_AT)
    bench.page.reload()
    expect(bench.rows).to_have_count(4)
    pause_at(bench.page, PAINTED_AT)
    page, first = bench.page, bench.rows.first
    bench.tap(first.get_by_role("button", name="Painted: start its clock"))
    expect(first.get_by_role("timer")).to_contain_text("0 of")
    page.clock.run_for("03:02")
    expect(first.get_by_role("timer")).to_contain_text(re.compile(r"^(3 of \d+ min|Rinse now)"))
    bench.tap(first.get_by_role("button", name="Rinsed"))
    expect(first.get_by_text("Rinsed after 3 min.")).to_be_visible()
    # What looks for faults of the page waits by the page's clock.
    page.clock.resume()
    bench.read(0)
    for at in (1, 2, 3):
        bench.tap(bench.rows.nth(at).get_by_text("Painted before"))
        bench.read(at, lab=(66, 2, 12 + at))
    expect(page.locator(".swatch-third", has_text="learnt")).to_have_count(4)
    assert found_by_axe(page) == []
    bench.button("Mix by these 4 swatches")
    expect(page.get_by_text(re.compile("^Mixes go by 4 swatches, right to"))).to_be_visible()
    page.reload()
    expect(page.get_by_text(re.compile("^Mixes go by 4 swatches, right to"))).to_be_visible()
    bench.tap(page.get_by_text("Go back", exact=True)).button("To the labels")
    expect(page.get_by_text("Mixes go by the labels.", exact=True)).to_be_visible()


def test_half_a_reading_outlives_a_reload_and_half_a_bare_end_says_what_it_lacks(visit):
    bench = Bench(visit()).with_one_tube().to_the_bench().planned()
    row = bench.rows.first
    bench.tap(row.get_by_text("Painted before"))
    row.get_by_role("group", name="Painted end").get_by_label("L*").fill("61.5")
    row.get_by_role("group", name="Bare end").get_by_label("b*").fill("24")
    expect(row.get_by_text("Type all three numbers of the bare end, or none.")).to_be_visible()
    expect(row.get_by_role("button", name="Keep this reading")).to_be_disabled()
    bench.page.reload()
    bench.tap(row.get_by_text("Painted before"))
    typed = row.get_by_role("group", name="Painted end").get_by_label("L*")
    expect(typed).to_have_value("61.5")
