"""What a visit's record says: what was weighed, and what was known at its start and no later."""

import re

import pytest
from drawing import in_turn
from playwright.sync_api import expect
from test_read_by_all import found_by_axe
from test_room_for_a_thumb import TOO_WIDE
from test_service import SIX_WEEKS_MS, Service
from visit import DESK

A_DAY_MS = 24 * 3_600_000
OPENS_AT = "2026-12-01T10:00:00Z"
LONG_NAME = "Wilhelmina Featherstonehaugh"


@pytest.fixture
def service(visit):
    shown = visit()
    shown.page.clock.install(time=OPENS_AT)
    return Service(shown).open()


def a_visit_of(name):
    """Returns the walk to the end of a new client's visit, which returns the page's clock in ms."""

    def walk(shown):
        page = Service(shown).open().of_a_new_client(name).to_the_end().page
        expect(page.locator(".day-row")).to_contain_text("ended")
        return page.evaluate("Date.now()")

    return walk


def who_works(service, name):
    service.open("settings")
    service.page.get_by_label("Another name").fill(name)
    service.button("Add").button("Say who is working").button(name).open()


def grams_in(text):
    """Every weight in a text, in grams, in the order it stands there."""
    return [float(figure) for figure in re.findall(r"([\d.]+)\s*g\b", text)]


def written(service, kind):
    """The fields of each record of a kind, as they were last written on this phone."""
    records = {}
    for op in service.records("outbox"):
        if op["kind"].split(".")[0] == kind:
            records.setdefault(op["entity_id"], {}).update(op.get("fields") or {})
    return list(records.values())


def weigh_for_fine_hair_to_the_chin(service):
    """Returns the grams of each rung, once they are those for such hair."""
    page = service.page
    service.tap(page.locator("summary", has_text="How much hair"))
    for word in ("chin", "fine"):
        before = rungs(page)
        service.radio(word)
        until_the_ladder_is_another(page, before)
    return grams_in(" ".join(rungs(page)))


def rungs(page):
    return page.locator(".ladder-amount").all_text_contents()


def until_the_ladder_is_another(page, before):
    page.wait_for_function(
        """before => {
            const now = [...document.querySelectorAll('.ladder-amount')].map(e => e.textContent);
            return now.length > 0 && now.join() !== before.join();
        }""",
        arg=before,
    )


def to_the_record(service, client="Wren Aldous"):
    service.open("clients")
    service.tap(service.page.get_by_role("link", name=client))
    service.tap(service.page.get_by_role("link", name="Print this visit’s record").last)
    expect(service.page.get_by_role("heading", name="Consultation record")).to_be_visible()
    return service.page.locator(".consultation")


def test_weighed_grams_equal_bowl_formula_and_record_with_line_and_batch(cleared):
    service = cleared(at=OPENS_AT)
    page = service.page
    ladder = weigh_for_fine_hair_to_the_chin(service)
    service.tap(page.locator("summary", has_text="Batches"))
    page.locator("details", has_text="Batches").get_by_role("textbox").first.fill("K4407")
    page.keyboard.press("Enter")
    expect(page.locator("summary", has_text="Batches, 1 of")).to_be_visible()
    # Nothing is ticked off: what the ladder shows as the first section goes on is what is on.
    service.button("First section on").button("Last section on")

    service.whole()
    bowl = grams_in(page.locator(".recipe").inner_text())
    service.button("Back to the basin").rinsed().tap(
        page.locator("summary", has_text="Keep this formula")
    )
    service.button("Keep it").tap(page.get_by_role("link", name="Open the formula"))
    expect(page.get_by_text("It never changes")).to_be_visible()
    # The rules are asked first whether something holds the client.
    expect(page.locator("main")).to_contain_text(re.compile(r"\d\sg"))
    formula = grams_in(page.locator("main").inner_text())
    record = to_the_record(service).locator(".record-bowl")
    expect(record.locator("tbody tr").first).to_contain_text(re.compile(r"\d\sg"))
    rows = record.locator("tbody tr").all_inner_texts()
    # On paper one bowl is never parted by the end of a page.
    page.emulate_media(media="print")
    expect(record).to_have_css("break-inside", "avoid")
    on_paper = grams_in("\n".join(rows))

    assert ladder == bowl == formula == on_paper[:-1]
    assert on_paper[-1] == sum(ladder)
    [zone], [start] = written(service, "zone"), written(service, "start")
    kept = zone["mix"]
    assert [*[part["grams"] for part in kept["parts"]], kept["developer"]["grams"]] == ladder
    assert [part["grams"] for part in start["bowl"]["parts"]] == ladder[:-1]
    line = start["bowl"]["parts"][0]["line"]
    assert line in rows[0]
    assert "K4407" in rows[0]


def test_the_record_says_who_heard_an_alarm_and_when(cleared):
    service = cleared(at=OPENS_AT).button("First section on").button("Last section on")
    service.page.clock.fast_forward("25:00")
    service.button("Heard").rinsed()
    heard = to_the_record(service).locator("dl div", has_text="Alarm heard")
    expect(heard).to_contain_text(re.compile("Dec 1, 2026, 10:.*this phone"))


def test_each_zone_is_asked_how_much_of_the_head_it_is(cleared):
    service = cleared(at=OPENS_AT)
    page = service.page
    whole = weigh_for_fine_hair_to_the_chin(service)
    service.tap(page.locator("summary", has_text="Another zone")).radio("ends")
    service.button("What to mix")
    expect(service.visit.mixes.first).to_be_attached()
    service.button("Mix this")
    expect(page.get_by_text("This bowl is not fitted to ends yet.")).to_be_visible()
    expect(page.locator(".ladder-amount").first).to_be_visible()
    service.radio("a quarter")
    expect(page.get_by_text("not fitted to ends")).to_have_count(0)
    # The chart is per head, so a quarter takes a quarter of it, to the gram of each pour.
    quarter = pytest.approx(sum(whole) / 4, abs=3)
    before = rungs(page)
    while sum(grams_in(" ".join(before))) != quarter:
        until_the_ladder_is_another(page, before)
        before = rungs(page)
    service.radio("all over")
    expect(page.get_by_role("radio", name="the whole head")).to_be_checked()


def test_a_later_reaction_is_no_answer_of_an_earlier_visit_on_paper(service):
    page = service.page
    who_works(service, "Mae Orr")
    service.of_a_new_client().to_the_end()
    page.clock.fast_forward(SIX_WEEKS_MS)
    service.open("clients").tap(page.get_by_role("link", name="Wren Aldous"))
    client = page.url.split("/")[-1]
    page.goto(f"{service.visit.address}/#/reaction/{client}")
    page.get_by_role("checkbox", name="hives", exact=True).check(force=True)
    service.button("Keep the record")
    expect(page.get_by_text("Kept on this phone.")).to_be_visible()

    record = to_the_record(service)
    page.emulate_media(media="print")
    paper = record.inner_text()
    at_the_visit, later = paper.split("Known later, not at this visit")
    assert "Worked by" in at_the_visit
    assert "Mae Orr" in at_the_visit
    assert re.search(r"Reaction to hair colour\s+No, never\s.*2026.*Mae Orr", at_the_visit)
    for word in ("severe", "hives", "2027"):
        assert word not in at_the_visit.replace(printed_on(at_the_visit), "")
        assert word in later


@pytest.mark.parametrize("size", in_turn([(390, 844), (320, 640), (844, 390), DESK]))
def test_the_record_is_read_at_twice_the_text_and_by_everybody(visit, prepared, size):
    memory, ended_ms = prepared("a long name", a_visit_of(LONG_NAME), OPENS_AT)
    shown = visit(size, memory, bypass_csp=True)
    page = shown.page
    page.clock.install(time=ended_ms / 1000)
    to_the_record(Service(shown).open(), LONG_NAME)
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        assert found_by_axe(page) == []
    for text in ("100%", "200%"):
        page.evaluate(f"document.documentElement.style.fontSize = '{text}'")
        assert page.evaluate(TOO_WIDE) == []


def printed_on(text):
    return re.search(r"Printed\s+(.*)", text)[1]


def test_a_visit_that_was_held_and_never_began_says_so_and_why(service):
    page = service.page
    service.of_a_new_client().to_the_mix().button("Held: see why")
    expect(page.get_by_role("region", name="What holds this service")).to_be_visible()
    held = next(fields["held"] for fields in written(service, "service") if "held" in fields)
    page.clock.fast_forward(2 * A_DAY_MS)
    service.open("clients").tap(page.get_by_role("link", name="Wren Aldous"))
    visit = page.locator(".visit", has_text="not done")
    expect(visit).to_contain_text(f"held: {held['words'][1:].rstrip('.')}".replace("held: ", ""))
    assert not grams_in(visit.inner_text())
    expect(page.get_by_text("Nothing noted yet.")).to_be_visible()
    record = to_the_record(service)
    expect(record).to_contain_text("not done, held:")
    expect(record).to_contain_text("Nothing went on.")
    service.radio("did not come")
    expect(record).to_contain_text("not done: did not come")


def test_what_was_put_on_here_is_part_of_the_hairs_history_with_its_year(service):
    page = service.page
    service.of_a_new_client().to_the_end()
    page.clock.fast_forward(SIX_WEEKS_MS)
    service.open("clients").tap(page.get_by_role("link", name="Wren Aldous"))
    here = page.get_by_role("listitem").filter(has_text=", here:")
    expect(here).to_have_count(1)
    expect(here).to_contain_text("2026")
    expect(page.locator(".visit strong").last).to_contain_text("2026")
