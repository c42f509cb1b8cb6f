"""From a mix that was tried out to the work, by the real page: nothing is entered twice.

That a swatch takes at most 10 g is common practice, no published source.
"""

import pytest
from cleared import clear
from playwright.sync_api import expect
from test_service import Service

MOST_SWATCH_G = 10
TONE = "pearl"


def state_of(service, kind, **wanted):
    """The fields of the one record of a kind that has these, as all operations leave it."""
    states = {}
    for op in service.records("outbox"):
        if op["kind"].partition(".")[0] == kind:
            states.setdefault(op["entity_id"], {}).update(op["fields"])
    (found,) = (one for one in states.values() if wanted.items() <= one.items())
    return found


@pytest.fixture
def tried(visit, memory):
    """A phone whose try-out is at its plan, and the mix that the plan shows."""
    service = Service(visit(memory=memory)).open("try")
    expect(service.page.get_by_role("button", name="Start for nobody")).to_be_visible()
    weighed = service.page.locator(".recipe li").all_inner_texts()
    return service, [" ".join(row.split()) for row in weighed]


def test_a_tried_mix_goes_to_a_new_client_with_hair_and_wish(tried):
    service, weighed = tried
    service.button("Start for a client")
    service.page.get_by_label("Client’s name").fill("Ona Fictive")
    service.button("New client")
    page = service.page
    expect(page.get_by_role("heading", name="Ona Fictive")).to_be_visible()
    # The rules ask as always, and the page shows no grams until they are answered.
    expect(page.get_by_text("Grams show once nothing holds this service.").first).to_be_visible()
    expect(page.locator("#wish .fold-line")).to_contain_text(TONE)
    expect(page.get_by_role("button", name="Mix this")).to_have_count(0)
    clear(page, service.tap)
    service.may_begin()
    zone = state_of(service, "zone")
    grams = [part["grams"] for part in zone["mix"]["parts"]]
    assert [f"{amount:g} g" for amount in grams] == [
        row.split(" ", 2)[0] + " g" for row in weighed[: len(grams)]
    ]
    assert zone["wish"]["tone"] == [TONE]
    assert zone["hair"]["porosity"] == zone["entered"]["hair"]["porosity"]
    service.begun()


def test_a_known_client_of_today_has_it_in_the_visit_that_is_planned(tried):
    service, _ = tried
    service.open("today").of_a_new_client("Ona Fictive")
    # The visit has its own entries by then, and the try-out is put away.
    expect(service.page.get_by_role("radio", name=TONE, exact=True)).not_to_be_checked()
    service.open("try").button("Next: the wish").button("What to mix").button("Mix this")
    service.button("Start for a client")
    service.page.get_by_label("Client’s name").fill("ona")
    service.radio("Ona Fictive")
    expect(service.page.get_by_role("heading", name="Ona Fictive")).to_be_visible()
    expect(service.page.locator("#wish .fold-line")).to_contain_text(TONE)
    # One visit and one zone, not two.
    assert state_of(service, "service")["purpose"] == "client"
    assert state_of(service, "zone")["wish"]["tone"] == [TONE]


def test_for_nobody_a_few_grams_start_with_no_question(tried):
    service, weighed = tried
    service.button("Start for nobody")
    page = service.page
    expect(page.get_by_role("heading", name="A swatch")).to_be_visible()
    expect(page.locator("#safety")).to_have_count(0)
    expect(page.locator(".ladder")).to_be_visible()
    mix = state_of(service, "zone")["mix"]
    amounts = [part["grams"] for part in mix["parts"]]
    assert sum(amounts) + mix["developer"]["grams"] <= MOST_SWATCH_G
    shown = [float(row.split()[0]) for row in weighed]
    shares = [grams / shown[0] for grams in shown]
    of_first = [grams / amounts[0] for grams in [*amounts, mix["developer"]["grams"]]]
    assert of_first == pytest.approx(shares, rel=0.1)
    service.begun().button("Last section on").rinsed()
    expect(page.get_by_role("button", name="as shown")).to_be_visible()
    expect(page.get_by_text("Next visit")).to_have_count(0)
    service.open("today")
    expect(page.get_by_role("link", name="A swatch")).to_be_visible()
