"""Forms that few meet: a look under a lightener, an answer made milder, what a desk asks of one."""

import io
import time

import httpx
from cleared import LEAST_CAUTION, answer, write_down_a_paper_test
from phone import Phone
from PIL import Image
from playwright.sync_api import expect
from rare_forms import of_another_reader, unfolded
from test_live_service import lightener_on

TATTOO = "Ever had a temporary black tattoo?"
# Posts a shared photo to the worker as the browser does, and waits until the worker has it.
SHARE = """async (bytes) => {
    while (!navigator.serviceWorker.controller) await new Promise((soon) => setTimeout(soon, 50));
    const photo = new File([Uint8Array.from(bytes)], "ends.jpg", { type: "image/jpeg" });
    const body = new FormData();
    body.append("file", photo);
    await fetch("/shared", { method: "POST", body, redirect: "manual" });
}"""


def started_for(page, address, ids):
    """The name of the client for whom a tried mix is started."""
    page.goto(f"{address}/#/try")
    if "started" not in ids:
        ids["started"] = True
        for name in ("Next: the wish", "What to mix"):
            page.get_by_role("button", name=name, exact=True).tap()
            if name == "Next: the wish":
                page.get_by_role("radio", name="pearl", exact=True).tap()
        page.get_by_role("button", name="Mix this", exact=True).tap()
        page.get_by_role("button", name="Start for a client").tap()
    return page.get_by_role("region", name="Start with this mix").get_by_label("Client’s name")


def wish_reading(page, address, ids):
    page.goto(f"{address}/#/service/{ids['planned']}")
    # What is half typed shows by itself.
    if "wished" not in ids:
        ids["wished"] = True
        page.get_by_role("group", name="Wish by").get_by_role("radio", name="a reading").tap()
    return page.locator("#wish").get_by_role("textbox", name="L*")


def look_under_a_lightener(page, address, ids):
    page.goto(f"{address}/#/service/{ids['lightening']}")
    unfolded(page, "Measured, as")
    return page.locator("#strip").get_by_role("textbox", name="L*")


def milder_answer(page, address, ids):
    """What was seen that makes an answer less careful than the record."""
    page.goto(f"{address}/#/service/{ids['held']}")
    fold, given = page.locator("#safety .fold-line"), page.locator("summary", has_text="Answers, ")
    expect(fold.or_(given).first).to_be_visible()
    if not given.is_visible():
        fold.tap()
    unfolded(page, "Answers, ")
    row = page.locator(".safety-given > li", has_text=TATTOO)
    row.get_by_role("button", name="Another answer").tap()
    row.get_by_role("button", name="Never", exact=True).tap()
    return row.get_by_label("What you saw")


def version_on_the_leaflet(page, address, ids):
    page.goto(f"{address}/#/service/{ids['asked']}")
    return page.locator(".safety").get_by_label("Leaflet’s version, as printed")


def reader_of_the_skin(page, address, ids):
    page.goto(f"{address}/#/{ids['test']}")
    return of_another_reader(page)


def reader_on_paper(page, address, ids):
    page.goto(f"{address}/#/new_test/{ids['client']}")
    if "on paper" not in ids:
        ids["on paper"] = True
        page.get_by_role("group", name="Which line").get_by_role("radio").first.tap()
        page.get_by_role("radio", name="done on paper").tap()
    return of_another_reader(page)


def words_with_a_photo(page, address, _ids):
    page.goto(f"{address}/#/shared")
    return page.get_by_label("Note with it")


def closing(page, address, _ids):
    page.goto(f"{address}/#/look")
    matter = page.get_by_role("article", name="Refused from a phone")
    unfolded(matter, "Close this")
    return matter.get_by_label("What you saw")


def why_the_milder(page, address, _ids):
    page.goto(f"{address}/#/look")
    apart = page.get_by_role("article", name="Ona Petrel").filter(has_text="apart")
    apart.get_by_role("button", name="mild").tap()
    return apart.get_by_label("is less careful")


def answered_up_to_the_pack(service, answers=LEAST_CAUTION):
    """Answers what comes before the list that is read off the mix and its pack.

    A salon confirms a line's pack once, so the list is left to the test.
    """
    write_down_a_paper_test(service.page, service.tap)
    asking = service.page.locator(".safety[data-asks='yes']")
    pack = asking.get_by_role("region", name="The mix and its pack")
    question = asking.get_by_role("region", name="Question")
    expect(pack.or_(question).first).to_be_visible()
    while not pack.is_visible():
        for words in question.get_by_role("heading").all_inner_texts():
            asked = service.page.get_by_role("heading", name=words, exact=True)
            answer(question.filter(has=asked), words, service.tap, answers)
        expect(pack.or_(question).first).to_be_visible()


def a_photo():
    with io.BytesIO() as drawn:
        Image.new("RGB", (64, 48), "#b08a5a").save(drawn, "JPEG")
        return list(drawn.getvalue())


def one_of_each_more(service, _server):
    """A lightener on, an answer that holds, a pack to be read, a test on skin, a shared photo."""
    page = service.page
    page.evaluate(SHARE, a_photo())
    ids = {"lightening": None}
    service.of_a_new_client("Sol Marsh")
    ids["planned"] = page.url.rpartition("/")[2]
    service.open().of_a_new_client("Mara Finch").to_the_mix()
    answered_up_to_the_pack(service, LEAST_CAUTION | {TATTOO: "Yes, no reaction"})
    ids["held"] = page.url.rpartition("/")[2]
    service.open().of_a_new_client("Tam Ferris").to_the_mix()
    ids["asked"] = page.url.rpartition("/")[2]
    answered_up_to_the_pack(service)
    service.open()
    lightener_on(service.of_a_new_client("Ida Quell"))
    ids["lightening"] = page.url.rpartition("/")[2]
    clients = [op for op in service.records("outbox") if op["kind"] == "client.create"]
    by_name = {op["fields"]["name"]: op["entity_id"] for op in clients}
    ids["client"] = by_name["Sol Marsh"]
    service.open(f"new_test/{by_name['Ida Quell']}")
    service.tap(page.get_by_role("group", name="Which line").get_by_role("radio").first)
    service.radio("behind the ear").button("It is on")
    expect(page.locator(".test-standing")).to_contain_text("read it from")
    ids["test"] = page.url.rpartition("#/")[2]
    return ids


def at_a_salon(service, server):
    """Pairs the phone with a desk that refused an entry, and holds two answers of one client."""
    page = service.page
    with httpx.Client(base_url=server.address) as client:
        one, other = (Phone(client, None, number, time.time_ns() // 1_000_000) for number in (1, 2))
        for phone in (one, other):
            phone.pair_with(server.code())
        ona = next(one.ids)
        made = one.op("client.create", ona, {"name": "Ona Petrel", "colour_reaction": "mild"})
        assert one.push(made).json()["accepted"]
        assert one.push(one.op("client.set", ona, {"name": 5})).json()["refused"]
        severe = other.op("client.set", ona, {"colour_reaction": "severe"})
        assert other.push(severe).json()["accepted"]
    service.open(f"pair/{server.code()}")
    page.get_by_label("Name of this phone").fill("Ana’s phone")
    service.button("Pair this phone")
    expect(page.get_by_role("heading", name="This phone is paired")).to_be_visible()
    return {}


OF_EACH_MORE = (
    one_of_each_more,
    [
        *(wish_reading, look_under_a_lightener, milder_answer),
        *(version_on_the_leaflet, reader_of_the_skin, reader_on_paper, words_with_a_photo),
    ],
)
# Alone: another visit in between lays its own entries out.
OF_A_TRIED_MIX = (lambda _service, _server: {}, [started_for])
OF_A_SALON = (at_a_salon, [closing, why_the_milder])
IN_NUMBERS = (wish_reading, look_under_a_lightener)
