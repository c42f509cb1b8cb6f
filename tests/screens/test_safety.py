"""The safety questions on a service's page, answered by touch against the real rules."""

from cleared import clear
from playwright.sync_api import expect
from test_service import Service


def test_a_clean_new_client_is_asked_until_nothing_holds(visit):
    service = Service(visit()).open().of_a_new_client().to_the_mix()
    service.tap(service.page.locator("#safety .fold-line"))
    clear(service.page, service.tap)
    expect(service.page.get_by_text("Nothing holds this service now.")).to_be_visible()
    answers = [op for op in service.records("outbox") if op["kind"] == "safety.answer"]
    said = {field for op in answers for field in op["fields"]}
    assert {"colour_reaction", "black_tattoo", "dye_allergy"} <= said
