"""The browser is killed half a second after the last key in each form: the text is there again.

A browser writes its simple storage seconds late, so half a second is what tells the strict store
from it. `TIMES` tries of each form run here; `make test-long` raises them to fifty. A browser that
finds one form again is the one in which the next is typed, so each try starts it once. A rarer
form, of a kind with one that is tried here, waits for the long run.
"""

import re

import pytest
from cleared import LEAST_CAUTION, clear
from drawing import LONG
from more_forms import IN_NUMBERS, OF_A_SALON, OF_A_TRIED_MIX, OF_EACH_MORE
from playwright.sync_api import expect
from rare_forms import AFTER, OF_EACH, PICKED, one_planned, rare_words, visit_day
from test_service import Service
from visit import Visit

HALF_A_SECOND_MS = 500
# A busy page is late with its timers, and its store with the writing; both keep their order.
HALF_A_SECOND_LATER = """(ms) => new Promise((done, failed) => setTimeout(() => {
  const asked = indexedDB.open("basinside");
  asked.onerror = () => failed(asked.error);
  asked.onsuccess = () => {
    const behind = asked.result.transaction([...asked.result.objectStoreNames], "readwrite");
    behind.oncomplete = () => { asked.result.close(); done(); };
  };
}, ms))"""
TIMES = 50 if LONG else 2


def new_service(page, address, ids):
    page.goto(f"{address}/#/today")
    field, begin = (
        page.get_by_label("Client’s name"),
        page.get_by_role("button", name="New service"),
    )
    # Once half filled, it opens by itself.
    expect(field.or_(begin).first).to_be_visible()
    if "new service" not in ids:
        ids["new service"] = True
        begin.or_(field).first.tap()
    return field


def my_name(page, address, _ids):
    page.goto(f"{address}/#/today")
    return page.get_by_role("region", name="Your name on the record?").get_by_label("Your name")


def a_file(page, address, ids):
    page.goto(f"{address}/#/today")
    if "file" not in ids:
        ids["file"] = {"name": "day.csv", "mimeType": "", "buffer": b"name,time\nMo Pell,10:00\n"}
        page.get_by_role("button", name="Import a day").tap()
        page.get_by_label("Choose the file").set_input_files(ids["file"])
    # A reload chooses no file: its rows stand there by themselves.
    page.locator(".from-file summary", has_text="Correct it").tap()
    return page.locator(".from-file").get_by_label("Client’s name")


def reaction(page, address, ids):
    page.goto(f"{address}/#/reaction/{ids['client']}")
    return page.get_by_label("Where, how large, since when", exact=False)


def note(page, address, ids):
    page.goto(f"{address}/#/service/{ids['service']}")
    page.locator("summary", has_text="Notes").tap()
    return page.get_by_label("Note", exact=True)


def decision(page, address, ids):
    page.goto(f"{address}/#/service/{ids['held']}")
    fold, form = page.locator("#safety .fold-line"), page.locator("summary", has_text="Decide this")
    expect(fold.or_(form).first).to_be_visible()
    if not form.is_visible():
        fold.tap()
    form.tap()
    return page.get_by_label("What you saw")


def look(page, address, ids):
    page.goto(f"{address}/#/service/{ids['service']}")
    page.locator("summary", has_text="Looks different").tap()
    field = page.locator(".judge").get_by_label("L*", exact=False).first
    # What is half typed shows by itself.
    if "look" not in ids:
        ids["look"] = True
        page.locator("summary", has_text="Measured, as").tap()
    return field


def team(page, address, _ids):
    page.goto(f"{address}/#/settings")
    return page.locator("#team").get_by_label(re.compile("Another name|Your name"))


def salon_name(page, address, _ids):
    page.goto(f"{address}/#/settings")
    return page.get_by_label("The salon’s name")


def terms(page, address, _ids):
    page.goto(f"{address}/#/settings")
    return page.get_by_label("Who read the insurer’s terms")


def client_name(page, address, ids):
    page.goto(f"{address}/#/client/{ids['client']}")
    page.locator("summary", has_text="Name and number").tap()
    # By its place: what is said of an empty name is part of its label.
    return page.locator("details", has_text="Name and number").get_by_role("textbox").first


def client_number(page, address, ids):
    page.goto(f"{address}/#/client/{ids['client']}")
    page.locator("summary", has_text="Name and number").tap()
    return page.locator("details", has_text="Name and number").get_by_role("textbox").last


def phrase(page, address, ids):
    note(page, address, ids)
    page.get_by_role("button", name="Change phrases").tap()
    return page.get_by_label("A phrase of your own")


def line_name(page, address, ids):
    if "line" not in ids:
        page.goto(f"{address}/#/shelf")
        page.get_by_role("button", name="Begin with a line").tap()
        expect(page.get_by_label("Name of the line")).to_be_visible()
        ids["line"] = page.url.rpartition("/")[2]
    page.goto(f"{address}/#/line/{ids['line']}")
    return page.get_by_label("Name of the line")


def phone_name(page, address, _ids):
    page.goto(f"{address}/#/pair")
    return page.get_by_label("Name of this phone")


def begun_and_held(service, _server):
    """Begins a service, and holds another client's for a decision; returns their ids."""
    page = service.page
    treated = LEAST_CAUTION | {"Any chemotherapy, now or before?": "In treatment"}
    service.of_a_new_client("Mara Finch").to_the_mix()
    clear(page, service.tap, treated)
    held = page.url.rpartition("/")[2]
    service.open().of_a_new_client()
    begun = page.url.rpartition("/")[2]
    service.to_the_clock()
    client = next(
        op["fields"]["client"] for op in service.records("outbox") if op["entity_id"] == begun
    )
    return {"held": held, "service": begun, "client": client}


OF_THE_SALON = (
    one_planned,
    [new_service, my_name, team, salon_name, terms, line_name, reaction, visit_day],
)
RARE = [client_number, phrase]
OF_A_SERVICE = (
    begun_and_held,
    [a_file, note, look, decision, client_name, phone_name, *(RARE if LONG else [])],
)
RUNS = {"salon": OF_THE_SALON, "service": OF_A_SERVICE}
if LONG:
    RUNS |= {"each": OF_EACH, "more": OF_EACH_MORE}
    RUNS |= {"tried": OF_A_TRIED_MIX, "paired": OF_A_SALON}


@pytest.mark.parametrize(("before", "forms"), RUNS.values(), ids=RUNS)
def test_what_is_typed_is_there_after_a_kill(phone, server, before, forms):
    page = phone.on()
    ids = before(Service(Visit(page, server.address)).open(), server)
    for time in range(TIMES):
        for form in forms:
            words = rare_words(form, time) or (
                f"{20 + time}.5" if form in (look, *IN_NUMBERS) else f"Left ear, coin size {time}"
            )
            field = form(page, server.address, ids)
            field.fill("")
            if form in PICKED:
                field.fill(words)
            else:
                field.press_sequentially(words)
            if form in AFTER:
                AFTER[form](page, server.address, ids)
            page.evaluate(HALF_A_SECOND_LATER, HALF_A_SECOND_MS)
            phone.kill()
            page = phone.on()
            expect(form(page, server.address, ids), form.__name__).to_have_value(words)


def test_the_country_of_the_rules_outlives_a_kill(phone, server):
    page = phone.on()
    page.goto(f"{server.address}/#/settings")
    page.get_by_role("radio", name="the United Kingdom").check(force=True)
    page.evaluate(HALF_A_SECOND_LATER, HALF_A_SECOND_MS)
    phone.kill()
    page = phone.on()
    page.goto(f"{server.address}/#/settings")
    expect(page.get_by_role("radio", name="the United Kingdom")).to_be_checked()
