"""Formulas that were kept: found again by words or by colour, and mixed again."""

from playwright.sync_api import expect
from test_service import Service
from waiting import once


class Formulas(Service):
    def try_out(self, tone):
        self.open("try")
        opened = self.page.locator("#wish.fold-open")
        folded = self.page.locator("#wish button.fold-line")
        on_the_way = self.page.get_by_role("button", name="Next: the wish", exact=True)
        expect(opened.or_(folded).or_(on_the_way).first).to_be_visible()
        if not opened.is_visible():
            self.tap(folded if folded.is_visible() else on_the_way)
        self.radio(tone).button("What to mix")
        expect(self.visit.mixes.first).to_be_attached()
        return self

    def with_kept(self, tone, name):
        self.try_out(tone)
        self.tap(self.page.locator("summary", has_text="Keep this formula"))
        self.page.get_by_label("Name", exact=True).fill(name)
        self.button("Keep it")
        expect(self.page.get_by_role("link", name="Open the formula")).to_be_visible()
        return self

    @property
    def names(self):
        return self.page.locator(".found-words > strong")


def test_a_kept_formula_is_found_by_name_and_by_colour(visit):
    formulas = Formulas(visit()).with_kept("pearl", "Shell").with_kept("gold", "Honey")
    formulas.open("formulas")
    expect(formulas.names).to_have_text(["Honey", "Shell"])
    formulas.page.get_by_label("Find a name").fill("shel")
    expect(formulas.names).to_have_text(["Shell"])
    formulas.page.get_by_label("Find a name").fill("")
    formulas.tap(formulas.page.locator("summary", has_text="Find by colour"))
    formulas.radio("pearl")
    expect(formulas.names).to_have_text(["Shell", "Honey"])
    formulas.radio("gold")
    expect(formulas.names).to_have_text(["Honey", "Shell"])


def test_a_kept_formula_is_mixed_again_for_a_service(visit):
    formulas = Formulas(visit()).with_kept("pearl", "Shell")
    formulas.open().of_a_new_client()
    formulas.open("formulas").tap(formulas.page.locator(".found-row"))
    mixed = once(formulas.page.locator(".formula-grams strong").all_inner_texts, bool)
    formulas.tap(formulas.page.get_by_role("button", name="Mix again for Wren Aldous"))
    expect(formulas.page.get_by_role("heading", name="What to mix")).to_be_visible()
    formulas.cleared()
    # The empty bowl comes first here; there, the minutes came last.
    _, *poured = once(formulas.page.locator(".ladder-amount").all_inner_texts, bool)
    assert poured == [amount.replace("\xa0", " ") for amount in mixed[:-1]]
    formulas.button("First section on")
    expect(formulas.countdown).to_be_visible()


def test_two_formulas_stand_side_by_side(visit):
    formulas = Formulas(visit()).with_kept("pearl", "Shell").with_kept("gold", "Honey")
    formulas.open("formulas").tap(formulas.page.locator(".found-row").first)
    formulas.button("Compare")
    formulas.open("formulas").tap(formulas.page.locator(".found-row").last)
    expect(formulas.page.locator(".formula-pair .patch-colour")).to_have_count(2)


def test_a_result_is_kept_as_a_formula_of_its_client(visit):
    formulas = Formulas(visit()).open().of_a_new_client().to_the_clock()
    formulas.button("Last section on").rinsed()
    formulas.tap(formulas.page.locator("summary", has_text="Keep this formula"))
    formulas.button("Keep it")
    formulas.tap(formulas.page.get_by_role("link", name="Open the formula"))
    expect(formulas.page.get_by_text("First for Wren Aldous")).to_be_visible()
