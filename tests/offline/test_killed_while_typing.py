"""The browser is killed half a second after the last key in each form: the text is there again.

A browser writes its simple storage seconds late, so half a second is what tells the strict store
from it. `TIMES` tries of each form run here; `make test-long` raises them to fifty.
"""

import re

import pytest
from drawing import LONG
from playwright.sync_api import expect
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


def new_service(page, address, first_time):
    page.goto(f"{address}/#/today")
    field, begin = (
        page.get_by_label("Client’s name"),
        page.get_by_role("button", name="New service"),
    )
    expect(field.or_(begin)).to_be_visible()
    if first_time:  # the form may have opened by itself meanwhile: then its field is tapped
        begin.or_(field).first.tap()
    return field


def reaction(page, address, _first_time):
    page.goto(f"{address}/#/reaction/{made(page, 'client')}")
    return page.get_by_label("Where, how large, since when", exact=False)


def note(page, address, _first_time):
    page.goto(f"{address}/#/service/{made(page, 'service')}")
    page.locator("summary", has_text="Notes").tap()
    return page.get_by_label("Note", exact=True)


def team(page, address, _first_time):
    page.goto(f"{address}/#/settings")
    return page.locator("#team").get_by_label(re.compile("Another name|Your name"))


def salon_name(page, address, _first_time):
    page.goto(f"{address}/#/settings")
    return page.get_by_label("The salon’s name")


def terms(page, address, _first_time):
    page.goto(f"{address}/#/settings")
    return page.get_by_label("Who read the insurer’s terms")


def client_name(page, address, _first_time):
    page.goto(f"{address}/#/client/{made(page, 'client')}")
    page.locator("summary", has_text="Name and number").tap()
    # By its place: what is said of an empty name is part of its label.
    return page.locator("details", has_text="Name and number").get_by_role("textbox").first


def line_name(page, address, first_time):
    if first_time:
        page.goto(f"{address}/#/shelf")
        page.get_by_role("button", name="Begin with a line").tap()
        expect(page.get_by_label("Name of the line")).to_be_visible()
    page.goto(f"{address}/#/line/{made(page, 'line')}")
    return page.get_by_label("Name of the line")


FORMS = {
    "new service": new_service,
    "reaction": reaction,
    "note": note,
    "team": team,
    "the salon's name": salon_name,
    "insurer's terms": terms,
    "a client's name": client_name,
    "a line's name": line_name,
}


def made(page, kind):
    """The id of the one record of a kind that this phone has made."""
    return page.evaluate(
        """(kind) => new Promise((resolve) => {
          const asked = indexedDB.open("basinside");
          asked.onsuccess = () => {
            const all = asked.result.transaction("outbox").objectStore("outbox").getAll();
            all.onsuccess = () => {
              asked.result.close();
              resolve(all.result.find((op) => op.kind === `${kind}.create`).entity_id);
            };
          };
        })""",
        kind,
    )


@pytest.mark.parametrize("form", FORMS)
def test_what_is_typed_is_there_after_a_kill(phone, server, form):
    Service(Visit(phone.on(), server.address)).open().of_a_new_client()
    phone.off()
    for time in range(TIMES):
        page = phone.on()
        words = f"Left ear, coin size {time}"
        page.goto(f"{server.address}/#/clients")
        expect(page.get_by_role("heading", name="Clients")).to_be_visible()
        field = FORMS[form](page, server.address, time == 0)
        field.fill("")
        field.press_sequentially(words)
        page.evaluate(HALF_A_SECOND_LATER, HALF_A_SECOND_MS)
        phone.kill()
        page = phone.on()
        page.goto(f"{server.address}/#/clients")
        expect(page.get_by_role("heading", name="Clients")).to_be_visible()
        expect(FORMS[form](page, server.address, False)).to_have_value(words)
        phone.off()


def test_the_country_of_the_rules_outlives_a_kill(phone, server):
    page = phone.on()
    page.goto(f"{server.address}/#/settings")
    page.get_by_role("radio", name="the United Kingdom").check(force=True)
    page.evaluate(HALF_A_SECOND_LATER, HALF_A_SECOND_MS)
    phone.kill()
    page = phone.on()
    page.goto(f"{server.address}/#/settings")
    expect(page.get_by_role("radio", name="the United Kingdom")).to_be_checked()
