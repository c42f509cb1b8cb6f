"""Every way a field merges, on two browsers at once, and each in both orders.

Phone and desk write apart. Of Wren's records the phone writes first, of Tamsin's the desk; the
phone is then the first to be heard. So for every rule the earlier write arrives before the later
one in one case and after it in the other, and so does the more careful one.

What must come of it is the salon's own promise (docs/sync.md, "how a field shows" in
`basinside.service.records.fields`), and no published standard; that the merge does not depend on
the order is what makes it one, as every text on replicated data has it.
"""

import re

import pytest
from browsers import new_service, put_a_test_on, rename, to_the_client
from cleared import read_by
from playwright.sync_api import expect

from basinside.service.records.fields import KINDS

WREN, TAMSIN = "Wren Aldous", "Tamsin Orrery"
# By whichever of its names a client goes when a test runs.
OF_WREN, OF_TAMSIN = re.compile("Wren A|W[.] Aldous"), re.compile("Tamsin O|T[.] Orrery")
HELD = {"ordinary", "text", "safety", "fixed", "each"}


def test_no_rule_of_merging_is_left_out_here():
    assert {rule for kind in KINDS.values() for rule in kind.fields.values()} == HELD


@pytest.fixture(scope="module")
def apart(windows, server):
    """What both hold at first; then each writes without the other, and both are heard."""
    phone, desk = windows
    for name in (WREN, TAMSIN):
        new_service(desk, name)
        put_a_test_on(desk, name)
    begin_a_line(desk)
    for window in windows:
        window.when_kept_for_offline()
        window.go("shelf")
        expect(window.page.get_by_text("2 shades")).to_be_visible()
        to_the_test(window, TAMSIN)
        expect(window.page.get_by_text("Did it react already?")).to_be_visible()

    server.kill()
    write_on_a_client(phone, WREN, "Wren A.", "555 0101", "permed")
    read_the_test(phone, "Wren A.", "redness", "Ana")
    write_on_a_client(desk, WREN, "W. Aldous", "555 0102", "lightened elsewhere")
    read_the_test(desk, "W. Aldous", "itch", "Bo")
    write_on_a_client(desk, TAMSIN, "T. Orrery", "555 0201", "permed")
    read_the_test(desk, "T. Orrery", "redness", "Bo")
    write_on_a_client(phone, TAMSIN, "Tamsin O.", "555 0202", "lightened elsewhere")
    read_the_test(phone, "Tamsin O.", "itch", "Ana")
    add_a_shade(phone, "10P", "pearl")
    add_a_shade(desk, "10G", "gold")
    for shade in ("9V", "8A"):
        take_off_the_shelf(phone, shade)
        say_it_is_out(desk, shade)

    desk.lose_the_network()
    server.start()
    phone.go("today")
    expect(phone.page.get_by_text("All sent")).to_be_visible()
    desk.find_the_network()
    desk.go("today")
    expect(desk.page.get_by_text("All sent")).to_be_visible()
    return phone, desk


def an_ordinary_field_shows_the_later_write_on_both_and_nobody_is_asked(apart):
    for window in apart:
        for name, number in ((OF_WREN, "555 0102"), (OF_TAMSIN, "555 0202")):
            to_the_client(window, name)
            window.page.locator("summary", has_text="Name and number").click()
            expect(window.page.get_by_label("Number", exact=True)).to_have_value(number)
        window.go("look")
        expect(window.page.get_by_role("article").first).to_be_visible()
        expect(window.page.get_by_text("its phone")).to_have_count(0)


def test_what_is_only_ever_added_is_there_from_both(apart):
    for window in apart:
        for name in (OF_WREN, OF_TAMSIN):
            to_the_client(window, name)
            for what in ("permed", "lightened elsewhere"):
                expect(window.page.get_by_text(f"{what}, noted")).to_have_count(1)


def test_keys_that_merge_apart_are_both_kept(apart):
    for window in apart:
        to_the_line(window)
        window.page.locator("summary", has_text="Legend of its codes").click()
        for piece, tone in (("P", "pearl"), ("G", "gold"), ("V", "violet"), ("A", "ash")):
            group = window.page.get_by_role("group", name=f"“{piece}” means")
            expect(group.get_by_role("radio", name=tone, exact=True)).to_be_checked()


def what_two_wrote_stands_there_with_both_and_who_and_one_tap_decides(apart):
    phone, _ = apart
    for shown, other in (("W. Aldous", "Wren A."), ("Tamsin O.", "T. Orrery")):
        for window in apart:
            assert sides(window, f"client {shown}") == {
                ("Wren A." if "W" in shown else "Tamsin O."): "Ana",
                ("W. Aldous" if "W" in shown else "T. Orrery"): "Ilse",
            }
        phone.go("look")
        article(phone, f"client {shown}").get_by_role("button", name=other).click()
        for window in apart:
            expect(article(window, f"client {shown}")).to_have_count(0)
            to_the_client(window, other)


def a_caution_of_two_is_the_greater_and_falls_only_by_a_decision(apart):
    _, desk = apart
    for name, careful in ((OF_WREN, "Ana"), (OF_TAMSIN, "Ilse")):
        for window in apart:
            to_the_test(window, name)
            expect(window.page.locator(".test-standing")).to_contain_text("redness")
            written = sides(window, of_the_test(name))
            assert set(written) == {"redness", "itch"}
            assert written["redness"] == careful

    # The more careful one takes one tap.
    article(desk, of_the_test(OF_WREN)).get_by_role("button", name="redness").click()
    # The other takes a reason; until it is given, nothing has changed anywhere.
    tamsin = article(desk, of_the_test(OF_TAMSIN))
    tamsin.get_by_role("button", name="itch").click()
    expect(tamsin.get_by_role("button", name="Keep this one")).to_be_disabled()
    for window in apart:
        expect(article(window, of_the_test(OF_WREN))).to_have_count(0)
        to_the_test(window, OF_TAMSIN)
        expect(window.page.locator(".test-standing")).to_contain_text("redness")
    desk.go("look")
    tamsin.get_by_role("button", name="itch").click()
    tamsin.get_by_label("Why is it right?").fill("Looked at in daylight by both: no redness")
    tamsin.get_by_role("button", name="Keep this one").click()
    for window in apart:
        expect(article(window, of_the_test(OF_TAMSIN))).to_have_count(0)
        to_the_test(window, OF_TAMSIN)
        expect(window.page.locator(".test-standing")).to_contain_text("itch")
        to_the_test(window, OF_WREN)
        expect(window.page.locator(".test-standing")).to_contain_text("redness")


def a_delete_that_had_not_seen_an_edit_is_asked_about_and_both_answers_hold(apart):
    phone, _ = apart
    for window in apart:
        to_the_line(window)
        expect(window.page.get_by_text("2 shades")).to_be_visible()
        window.go("look")
        for shade in ("9V", "8A"):
            of_shade = article(window, f"product {shade}")
            expect(of_shade).to_contain_text(re.compile("Deleted.*Ana"))
            expect(of_shade).to_contain_text(re.compile("in stock: no.*Ilse"))
    article(phone, "product 9V").get_by_role("button", name="Bring it back").click()
    article(phone, "product 8A").get_by_role("button", name="Leave it deleted").click()
    for window in apart:
        expect(window.page.get_by_text("Nothing now.")).to_be_visible()
        to_the_line(window)
        codes = window.page.locator(".shade-words > strong")
        expect(codes).to_have_count(3)
        assert set(codes.all_text_contents()) == {"9V", "10P", "10G"}


def of_the_test(name):
    return re.compile(f"^alert test ({name.pattern})")


def article(window, name):
    window.go("look")
    exact = isinstance(name, str)
    return window.page.get_by_role("article", name=name, exact=exact)


def sides(window, name):
    """What stands on the sides of one record, each with who wrote it."""
    of_record = article(window, name).locator(".side")
    expect(of_record).to_have_count(2)
    return {
        side.locator("strong").inner_text(): side.locator("span").inner_text().split(",")[0]
        for side in of_record.all()
    }


def to_the_line(window):
    window.go("shelf")
    window.page.get_by_role("link", name="Quill").click()
    expect(window.page.get_by_role("heading", name="Quill", exact=True)).to_be_visible()


def to_the_test(window, name):
    to_the_client(window, name)
    window.page.locator(".visit[href^='#/test/']").click()
    expect(window.page.locator(".test-standing")).to_be_visible()


def read_the_test(window, name, result, by):
    to_the_test(window, name)
    window.page.get_by_role("radio", name=result, exact=True).click()
    read_by(window.page, lambda found: found.click(), by)
    window.page.get_by_role("button", name="Keep the reading").click()
    expect(window.page.locator(".test-standing")).to_contain_text(f"{result}, read by {by}")


def write_on_a_client(window, name, other, number, happened):
    rename(window, name, other)
    field = window.page.get_by_label("Number", exact=True)
    field.fill(number)
    field.press("Enter")
    expect(window.page.get_by_text("Number: ")).to_be_visible()
    window.page.locator("summary", has_text="Add to the history").click()
    window.page.get_by_role("button", name=happened, exact=True).click()
    expect(window.page.get_by_text(f"{happened}, noted")).to_be_visible()


def begin_a_line(window):
    page = window.page
    window.go("shelf")
    page.get_by_role("button", name="Begin with a line").click()
    page.get_by_label("Name of the line").fill("Quill")
    page.get_by_label("Name of the line").press("Enter")
    page.get_by_role("radio", name="direct, no developer", exact=True).click()
    for asked, said in (("Earliest", "none given"), ("At most", "20 min")):
        group = page.get_by_role("group", name=asked)
        group.get_by_role("radio", name=said, exact=True).click()
    add_a_shade(window, "9V", "violet")
    add_a_shade(window, "8A", "ash")


def add_a_shade(window, code, means):
    page = window.page
    if "line/" not in page.url:
        to_the_line(window)
    page.get_by_label("Its code").fill(code)
    group = page.get_by_role("group", name="In this line")
    group.get_by_role("radio", name=means, exact=True).click()
    page.get_by_role("button", name="Add this shade").click()
    expect(page.get_by_role("status").filter(has_text=f"Added {code}")).to_be_visible()


def shade(window, code):
    return window.page.locator(".shade").filter(has=window.page.get_by_text(code, exact=True))


def take_off_the_shelf(window, code):
    shade(window, code).locator("summary").click()
    shade(window, code).get_by_role("button", name="Delete this shade").click()
    expect(shade(window, code)).to_have_count(0)


def say_it_is_out(window, code):
    shade(window, code).get_by_role("button", name="in stock").click()
    expect(shade(window, code).get_by_role("button", name="out", exact=True)).to_be_visible()


def test_what_needs_a_look_is_decided_until_nothing_does(apart):
    """Step by step: the list is empty once all before it is decided."""
    an_ordinary_field_shows_the_later_write_on_both_and_nobody_is_asked(apart)
    what_two_wrote_stands_there_with_both_and_who_and_one_tap_decides(apart)
    a_caution_of_two_is_the_greater_and_falls_only_by_a_decision(apart)
    a_delete_that_had_not_seen_an_edit_is_asked_about_and_both_answers_hold(apart)
