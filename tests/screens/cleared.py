"""Clears a held service as a careful colourist does with a client whom nothing speaks against.

Every question is answered by tapping its answer with the least caution, and the alert test stands
on a paper: put on three days ago and read a day ago. The rules themselves say when nothing holds.
"""

import time

from browser import PATIENCE_MS
from playwright.sync_api import TimeoutError as TookTooLong
from playwright.sync_api import expect

LEAST_CAUTION = {
    "Is the client 18 or over?": "Yes",
    "Has hair colour ever given a reaction, even a mild one?": "No, never",
    "Ever had a temporary black tattoo?": "Never",
    "Is a dye allergy known or suspected?": "No",
    "Has lightener ever given a rash, trouble breathing or a faint?": "No",
    "Any chemotherapy, now or before?": "None",
    "What was done to this hair before?": "Nothing of these",
    "Is this the first service here, or the first with this line?": "No",
    "Is it in the maker's own pack, with its label?": "Yes",
    "Are the allergy caution and the test directions on the label?": "Yes",
    "How is the air where you mix?": "Window or door open",
    "How much ammonia does it hold, in percent?": "Not known",
    "Will heat be used?": "No",
    "Is the leaflet for freshly lightened hair?": "Yes",
}
LEAFLET = "Which version has this line's leaflet?"
MOST_ANSWERS = 60
# How long a tap is tried before the page is read again; another question may be there by then.
TRIED_MS = 2000


def take_over_a_usual_test(page, tap):
    """Enters the usual paper test by its short ways alone, each a tap."""
    tap(page.get_by_role("button", name="3 days ago, read today", exact=True))
    tap(page.get_by_role("radio", name="no reaction", exact=True))
    tap(page.get_by_role("button", name="salon put it on, no colouring relied on it", exact=True))
    read_by(page, tap, "Ada Venn")
    tap(page.get_by_role("button", name="Keep this test", exact=True))


def write_down_a_paper_test(page, tap, result="no reaction", hours_ago=72):
    """Enters a paper test for the line in the bowl; `tap` taps a locator."""
    tap(page.locator("summary", has_text="An alert test on paper"))
    for label, hours in (("Put on", hours_ago), ("Read", hours_ago - 48)):
        local = page.evaluate(
            "h => { const at = new Date(Date.now() - h * 3600e3);"
            " return new Date(at - at.getTimezoneOffset() * 60e3).toISOString().slice(0, 16); }",
            hours,
        )
        day, hour = local.split("T")
        moment = page.get_by_role("group", name=label, exact=True)
        moment.get_by_label("Day").fill(day)
        moment.get_by_label("Hour").fill(hour)
    for name in (result, "the salon", "no, none"):
        tap(page.get_by_role("radio", name=name, exact=True))
    read_by(page, tap, "Ada Venn")
    tap(page.get_by_role("button", name="Keep this test", exact=True))


def read_by(page, tap, name):
    """Says who read a test: by a tap where the phone knows the name, else typed."""
    names = page.get_by_role("group", name="Read by", exact=True)
    known = names.get_by_role("radio", name=name, exact=True)
    if known.count() > 0:
        tap(known)
        return
    if names.count() > 0:
        tap(names.get_by_role("radio", name="another name", exact=True))
    page.get_by_label("Read by, by name").fill(name)


def confirm_the_pack(pack, tap):
    """Confirms what is read off a mix and its pack; says whether the tap was taken."""
    version = pack.get_by_label("Leaflet’s version, as printed")
    confirm = pack.get_by_role("button", name="All true of this mix")
    return took(pack, confirm, tap, version if version.count() > 0 else None)


def clear(page, tap, answers=LEAST_CAUTION, paper_test=write_down_a_paper_test):
    """Answers until no question is left. Returns how many taps that took."""
    taps = 0
    # While the rules are asked, what they asked before stays on the page and takes no tap.
    asking = page.locator(".safety[data-asks='yes']")
    question = asking.get_by_role("region", name="Question")
    at_once = asking.get_by_role("button", name="All true today")
    pack = asking.get_by_role("region", name="The mix and its pack")
    no_question = page.locator(".safety[data-asks='no']")
    # The grams stand in the place of the questions once nothing holds.
    something = question.or_(at_once).or_(pack).or_(no_question).or_(beginning(page)).first
    paper = page.locator(".safety summary", has_text="An alert test on paper")
    until_s = time.monotonic() + PATIENCE_MS / 1000
    while taps < MOST_ANSWERS and time.monotonic() < until_s:
        expect(something).to_be_visible()
        if paper.count() > 0:
            paper_test(page, tap)
            expect(paper).to_have_count(0)
            continue
        if at_once.is_visible():
            tap(at_once)
            expect(at_once).to_have_count(0)
        elif pack.is_visible():
            if not confirm_the_pack(pack, tap):
                continue
        elif words := question.get_by_role("heading").all_inner_texts():
            asked = page.get_by_role("heading", name=words[0], exact=True)
            if not answer(question.filter(has=asked), words[0], tap, answers):
                continue
        elif no_question.or_(beginning(page)).first.is_visible():
            break
        else:
            continue
        taps += 1
    return taps


def answer(question, words, tap, answers):
    """Answers a question; says whether it took the tap, or another was there by then."""
    is_leaflet = words == LEAFLET
    name = "Keep this" if is_leaflet else answers[words]
    button = question.get_by_role("button", name=name, exact=True)
    return took(
        question, button, tap, question.get_by_label("As printed there") if is_leaflet else None
    )


def took(asked, button, tap, version=None):
    """Types the leaflet's version where there is a field, and taps; says whether that was taken."""
    try:
        if version is not None:
            version.fill("leaflet 3", timeout=TRIED_MS)
        button.click(trial=True, timeout=TRIED_MS)
    except TookTooLong:
        return False
    tap(button)
    expect(asked).to_have_count(0)
    return True


def beginning(page):
    """The button that starts the clock, there once nothing holds."""
    return page.get_by_role("button", name="First section on", exact=True)


def may_go_on(page):
    """Waits until the rules say that nothing holds the service and its clock may start."""
    expect(beginning(page)).to_be_visible()
