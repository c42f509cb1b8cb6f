"""A weak signal: the page says what is true, keeps what was entered, and shows no old answer."""

import json
import re
import time

import pytest
from browser import PATIENCE_MS
from playwright.sync_api import expect
from test_service import OPENS_AT

FORMULATIONS = "**/api/formulations"
PREDICTIONS = "**/api/predictions"
OUT_OF_REACH = re.compile("The server does not answer. Check the signal.")
KEPT = re.compile("What you entered is kept on this phone.")


class Held:
    """Requests kept waiting on the way to the server, until they are let go."""

    def __init__(self, page, calls):
        self.page = page
        self.holding = True
        self.waiting = []
        page.route(calls, self.hold)

    def hold(self, route):
        if self.holding:
            self.waiting.append(route)
        else:
            route.continue_()

    def until(self, count):
        """Waits for so many requests; the page gives each one up 20 s after it was asked."""
        until_s = time.monotonic() + PATIENCE_MS / 1000
        while time.monotonic() < until_s:
            if len(self.waiting) >= count:
                return self
            self.page.wait_for_timeout(10)
        pytest.fail(f"{len(self.waiting)} of {count} questions were asked")

    def let_go(self):
        self.holding = False
        for route in self.waiting:
            route.continue_()


def lose_the_server(page):
    page.route("**/api/**", lambda route: route.abort())


def find_the_server(page):
    page.unroute("**/api/**")


def notice(page, section):
    return page.locator(f"#{section} .notice")


def test_while_the_mix_is_awaited_the_screens_say_so_and_say_when_it_is_slow(visit):
    shown = visit().open()
    held = Held(shown.page, FORMULATIONS)
    shown.to_the_wish().radio("pearl", "Tone").click()
    expect(shown.page.get_by_text("Looking along your shelf…")).to_be_visible()
    shown.button("What to mix").click()
    expect(notice(shown.page, "mix")).to_contain_text("Looking along your shelf of 30…")
    expect(notice(shown.page, "mix")).to_contain_text(
        re.compile(r"The server is slow: \d s so far")
    )
    expect(notice(shown.page, "mix")).to_contain_text(KEPT)
    expect(shown.button("Mix this")).to_be_disabled()
    held.let_go()
    expect(shown.mixes.first).to_be_attached()
    expect(notice(shown.page, "mix")).to_have_count(0)


def test_while_the_strip_is_awaited_it_says_so(visit):
    shown = visit()
    held = Held(shown.page, PREDICTIONS)
    shown.to_the_mix()
    expect(shown.mixes.first).to_be_attached()
    shown.button("Mix this").click()
    expect(notice(shown.page, "strip")).to_contain_text("Working out the strip, minute by minute…")
    expect(notice(shown.page, "strip")).to_contain_text("The server is slow")
    expect(shown.button("No strip yet")).to_be_disabled()
    held.let_go()
    expect(shown.minute).to_be_visible()


def test_a_lost_server_loses_nothing_and_the_same_question_is_asked_again(visit):
    shown = visit().open()
    lose_the_server(shown.page)
    shown.radio("porous", "Porosity").click()
    shown.to_the_wish().radio("pearl", "Tone").click()
    expect(notice(shown.page, "wish")).to_contain_text(OUT_OF_REACH)
    expect(shown.page.get_by_text("No answer yet.")).to_be_visible()
    shown.button("What to mix").click()
    expect(notice(shown.page, "mix")).to_contain_text(KEPT)

    shown.page.reload()
    expect(shown.fold("hair")).to_contain_text("porous")
    expect(shown.fold("wish")).to_contain_text("pearl")
    expect(notice(shown.page, "mix")).to_contain_text(OUT_OF_REACH)

    find_the_server(shown.page)
    with shown.page.expect_request(FORMULATIONS) as request:
        shown.button("Ask again").click()
    assert request.value.post_data_json["hair"]["porosity"] == 0.75
    assert request.value.post_data_json["wish"]["tone"] == ["pearl"]
    expect(shown.mixes.first).to_be_attached()


def test_a_shelf_that_cannot_be_fetched_is_said_and_fetched_again(visit):
    shown = visit()
    lose_the_server(shown.page)
    shown.to_the_wish().radio("pearl", "Tone").click()
    expect(shown.page.get_by_text("Your shelf is not here yet.")).to_be_visible()
    shown.button("What to mix").click()
    expect(notice(shown.page, "mix")).to_contain_text("Your shelf is not here yet.")
    find_the_server(shown.page)
    shown.button("Ask again").click()
    expect(shown.mixes.first).to_be_attached()


@pytest.mark.parametrize(
    ("status", "body"),
    [(503, ""), (502, "<h1>Bad gateway</h1>"), (200, "<p>Sign in to this wifi</p>")],
)
def test_an_answer_that_is_not_ours_is_not_taken_for_one(visit, status, body):
    shown = visit()
    shown.page.route(
        FORMULATIONS,
        lambda route: route.fulfill(status=status, body=body, content_type="text/html"),
    )
    shown.to_the_mix()
    expect(notice(shown.page, "mix")).to_contain_text(f"not to this question ({status})")
    expect(notice(shown.page, "mix")).to_contain_text(KEPT)
    expect(shown.mixes).to_have_count(0)


def test_the_last_question_and_its_answers_are_there_after_a_reload_without_a_server(visit):
    shown = visit().to_the_strip()
    taken = shown.page.locator(".recipe li").first.inner_text().split()[-1]
    shown.minute.press("PageDown")
    heard = shown.minute.get_attribute("aria-valuetext")
    order = shown.page.locator(".order").inner_text()
    lose_the_server(shown.page)
    shown.page.reload()
    expect(shown.minute).to_have_attribute("aria-valuetext", heard)
    assert shown.page.locator(".order").inner_text() == order
    shown.fold("mix").click()
    expect(shown.mixes.first).to_contain_text(taken)
    expect(shown.page.get_by_text(re.compile("Worked out on the server at"))).to_be_visible()
    expect(notice(shown.page, "mix")).to_have_count(0)


def test_an_older_reply_never_takes_the_place_of_a_newer_one(visit):
    shown = visit().open()
    held = Held(shown.page, FORMULATIONS)
    shown.to_the_wish().radio("pearl", "Tone").click()
    older = held.until(1).waiting[0]
    shown.radio("copper", "Tone").click()
    newer = held.until(2).waiting[1]
    assert newer.request.post_data_json["wish"]["tone"] == ["copper"]

    late = older.fetch()
    newer.continue_()
    shown.button("What to mix").click()
    expect(shown.mixes.first).to_be_attached()
    names = shown.page.locator("#mix .answer-rows").all_inner_texts()
    assert names
    older.fulfill(response=late)
    # The late reply has had its turn once the page has asked and been answered something else.
    shown.page.evaluate("fetch('/api/health').then((reply) => reply.text())")
    assert shown.page.locator("#mix .answer-rows").all_inner_texts() == names
    kept = json.loads(shown.page.evaluate("localStorage.getItem('basinside.1.answer.formulas')"))
    assert kept["request"]["wish"]["tone"] == ["copper"]
    assert kept["answer"]["reply"]["formulas"] != late.json()["formulas"]


def test_while_a_newer_answer_is_awaited_the_older_one_is_not_shown(visit):
    shown = visit().to_the_mix()
    expect(shown.mixes.first).to_be_attached()
    held = Held(shown.page, FORMULATIONS)
    shown.fold("wish").click()
    shown.radio("copper", "Tone").click()
    held.until(1)
    shown.button("What to mix").click()
    expect(notice(shown.page, "mix")).to_contain_text("Looking along your shelf")
    expect(shown.mixes).to_have_count(0)
    held.let_go()
    expect(shown.mixes.first).to_be_attached()


def test_a_part_that_comes_after_it_was_drawn_and_before_its_first_effect_is_shown(visit):
    shown = visit()
    page = shown.page
    page.clock.install(time=OPENS_AT)
    page.goto(f"{shown.address}/#/today")
    new_service = page.get_by_role("button", name="New service")
    expect(new_service).to_be_visible()
    code = Held(page, re.compile(r"/assets/settings-.*\.js$"))
    opening = page.get_by_role("main").get_by_text("Opening…")
    page.evaluate("location.hash = '#/settings'")
    code.until(1)
    # Effects come with the clock; the code comes while it is still.
    page.clock.pause_at(page.evaluate("Date.now() + 1000"))
    page.evaluate("location.hash = '#/today'")
    expect(new_service).to_be_visible()
    page.evaluate("location.hash = '#/settings'")
    expect(opening).to_be_visible()
    code.let_go()
    assert page.evaluate("code => import(code).then(() => true)", code.waiting[0].request.url)
    page.clock.resume()
    expect(page.get_by_role("heading", name="Settings")).to_be_visible()
