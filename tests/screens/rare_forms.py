"""Forms that take typed text on rarer pages: the way to each field, and what it takes."""

from playwright.sync_api import expect
from test_shelf import Shelf
from waiting import once


def unfolded(within, words):
    """Opens what is one tap away under these words; what is half typed opens it by itself."""
    summary = within.locator("summary", has_text=words).first

    def is_open():
        if summary.evaluate("tapped => tapped.parentElement.open"):
            return True
        summary.tap()
        return False

    once(is_open, bool)


def visit_day(page, address, ids):
    page.goto(f"{address}/#/service/{ids['planned']}")
    expect(page.locator(".planned-at summary")).to_be_visible()
    if not page.locator(".planned-at[open]").count():
        page.locator(".planned-at summary").tap()
    return page.locator(".planned-at").get_by_label("Day", exact=True)


def visit_time(page, address, ids):
    visit_day(page, address, ids)
    return page.locator(".planned-at").get_by_label("Time", exact=True)


def another_day(page, address, ids):
    page.goto(f"{address}/#/service/{ids['asked']}")
    unfolded(page, "Another day instead")
    return page.get_by_label("New time")


def tried_reading(page, address, ids):
    page.goto(f"{address}/#/try")
    # What is half typed shows by itself.
    if "tried" not in ids:
        ids["tried"] = True
        unfolded(page, "More about this hair")
        page.get_by_role("radio", name="by a reading").check(force=True)
    return page.locator("#hair").get_by_role("textbox", name="L*")


def service_over_it(page, address, ids):
    """Lays a service's entries over those of the try-out."""
    page.goto(f"{address}/#/service/{ids['asked']}")
    expect(page.locator("#mix")).to_contain_text("Another mix instead")


def paper_test(page, address, ids):
    page.goto(f"{address}/#/service/{ids['asked']}")
    unfolded(page, "An alert test on paper")
    return page.get_by_role("group", name="Put on", exact=True)


def paper_day(page, address, ids):
    return paper_test(page, address, ids).get_by_label("Day", exact=True)


def paper_hour(page, address, ids):
    return paper_test(page, address, ids).get_by_label("Hour")


def paper_reader(page, address, ids):
    paper_test(page, address, ids)
    return of_another_reader(page)


def of_another_reader(page):
    field = page.get_by_label("Read by, by name")
    another = page.get_by_role("radio", name="another name", exact=True)
    expect(field.or_(another).first).to_be_visible()
    if not field.is_visible():
        another.tap()
    return field


def own_line(page, address, ids):
    page.goto(f"{address}/#/line/{ids['own_line']}")


def shade_code(page, address, ids):
    own_line(page, address, ids)
    return page.get_by_label("Its code, as on the tube")


def tube_batch(page, address, ids):
    own_line(page, address, ids)
    unfolded(page, "Tubes and more")
    return page.get_by_label("Batch of a new tube").first


def developer(page, address, ids):
    own_line(page, address, ids)
    unfolded(page, "What the box says")
    unfolded(page, "Another strength")
    return page.get_by_label("Peroxide, percent")


def leaflet(page, address, ids):
    own_line(page, address, ids)
    unfolded(page, "What the box says")
    return page.get_by_label("Leaflet’s version")


def formula_name(page, address, ids):
    page.goto(f"{address}/#/formula/{ids['formula']}")
    return page.get_by_label("Name", exact=True)


def new_formula_name(page, address, ids):
    page.goto(f"{address}/#/service/{ids['rinsed']}")
    unfolded(page, "Keep this formula")
    return page.get_by_label("Name", exact=True)


def measured(page, address, ids):
    page.goto(f"{address}/#/service/{ids['rinsed']}")
    reading = page.locator("details:has(> .lab-field)")
    unfolded(reading, "Measured")
    return reading.get_by_role("textbox", name="L*")


def batch_in_the_bowl(page, address, ids):
    page.goto(f"{address}/#/service/{ids['rinsed']}")
    # As the page arrives it opens the result by itself.
    expect(page.get_by_role("group", name="Dry, all over is")).to_be_visible()
    page.locator("#mix .fold-line").tap()
    unfolded(page, "Batches, ")
    return page.locator("details", has_text="Batches, ").get_by_role("textbox").first


def colleague(page, address, _ids):
    page.goto(f"{address}/#/settings")
    return page.locator("#team").get_by_label("Name", exact=True).first


def reaction_by(page, address, ids):
    page.goto(f"{address}/#/reaction/{ids['client']}")
    return page.get_by_label("Your name")


def one_planned(service, _server):
    """Plans a service; returns its id and its client's."""
    service.of_a_new_client()
    clients = (op for op in service.records("outbox") if op["kind"] == "client.create")
    return {"client": next(clients)["entity_id"], "planned": service.page.url.rpartition("/")[2]}


def one_of_each(service, server):
    """Keeps what else has a form: a line, a visit, a formula, a colleague, a mix to ask of."""
    page, shelf = service.page, Shelf(service.visit)
    shelf.with_a_line().with_a_shade("9V", "violet").with_a_shade("10P", "pearl")
    ids = {"own_line": page.url.rpartition("/")[2]}
    service.open("settings")
    page.locator("#team").get_by_label("Another name").fill("Ada Venn")
    page.locator("#team").get_by_role("button", name="Add", exact=True).tap()
    expect(colleague(page, service.visit.address, ids)).to_have_value("Ada Venn")
    ids |= one_planned(service.open(), server)
    service.open().of_a_new_client("Mara Finch").to_the_clock()
    ids["rinsed"] = page.url.rpartition("/")[2]
    service.button("Last section on").rinsed().button("as shown")
    service.tap(page.locator("summary", has_text="Keep this formula")).button("Keep it")
    link = page.get_by_role("link", name="Open the formula")
    ids["formula"] = link.get_attribute("href").rpartition("/")[2]
    service.open().of_a_new_client("Tam Ferris").to_the_mix()
    ids["asked"] = page.url.rpartition("/")[2]
    return ids


# A day's or a time's keys differ from phone to phone; it goes in whole.
PICKED = (visit_day, visit_time, another_day, paper_day, paper_hour)
OF_EACH = (
    one_of_each,
    [
        *(visit_time, another_day, paper_day, paper_hour, paper_reader),
        *(shade_code, tube_batch, developer, leaflet),
        *(formula_name, new_formula_name, measured, batch_in_the_bowl),
        *(colleague, reaction_by, tried_reading),
    ],
)
# What is done once it is typed, where that could lose it.
AFTER = {tried_reading: service_over_it}


def rare_words(form, time):
    """What such a field takes, other each time; nothing for one that takes any words."""
    if form in (developer, measured, tried_reading):
        return f"{20 + time}.5"
    if form in (visit_day, paper_day):
        return f"2024-{1 + time // 28:02}-{1 + time % 28:02}"
    if form in (visit_time, paper_hour):
        return f"07:{time:02}"
    if form is another_day:
        return f"2031-03-14T07:{time:02}"
    return f"{time} V" if form is shade_code else ""
