"""A live service by touch: weighed, judged and mended, at a phone's size."""

import pytest
from playwright.sync_api import expect
from test_service import Service

LARGE_PX = 64  # what is read at arm's length
TARGET_PX = 56


@pytest.fixture
def service(visit):
    return Service(visit()).open().of_a_new_client()


def pixels(locator, what):
    return locator.evaluate(f"seen => parseFloat(getComputedStyle(seen).{what})")


def test_what_was_taken_is_weighed_on_one_ladder(service):
    service.to_the_mix()
    figures = service.page.locator(".ladder-figure")
    expect(figures.first).to_have_text("0")
    before = [float(figure) for figure in figures.all_text_contents()]
    assert before == sorted(before)
    assert pixels(figures.first, "fontSize") >= LARGE_PX
    service.tap(service.page.locator("summary", has_text="How much hair"))
    service.radio("very long").radio("thick")
    expect(service.page.locator(".ladder")).to_be_visible()
    service.page.wait_for_function(
        "most => [...document.querySelectorAll('.ladder-figure')].at(-1).textContent - most > 0",
        arg=before[-1],
    )
    for _ in range(figures.count()):
        service.tap(service.page.locator(".ladder-next"))
    expect(service.page.locator(".ladder-next")).to_contain_text("All is in")
    weighed = [op["fields"]["mix"] for op in service.records("outbox") if "mix" in op["fields"]]
    poured = sum(part["grams"] for part in weighed[-1]["parts"])
    assert poured + weighed[-1]["developer"]["grams"] == pytest.approx(
        float(figures.last.text_content())
    )


def test_a_look_moves_what_to_do_and_a_miss_opens_a_second_mix(service):
    service.to_the_clock().button("Last section on")
    service.tap(service.page.locator("summary", has_text="Looks different"))
    service.button("I know this").button("yellower")
    advice = service.page.get_by_role("region", name="What to do")
    expect(advice.locator(".judge-order")).not_to_be_empty()
    kept = [op for op in service.records("outbox") if op["kind"].startswith("reading")]
    assert [op["fields"]["words"] for op in kept] == ["yellower"]
    assert pixels(service.page.get_by_role("button", name="pinker", exact=True), "height") >= (
        TARGET_PX
    )

    service.button("Rinsed").button("yellower").button("It missed: what now?")
    ways = service.page.get_by_role("region", name="Ways on")
    expect(ways.locator(".mend-name").filter(has_text="Leave it")).to_have_count(1)
    expect(ways.locator(".mend-name").filter(has_text="Wash once")).to_have_count(1)
    service.tap(ways.get_by_role("button", name="Mix this second").first)
    expect(service.page.locator(".ladder")).to_be_visible()
    second = [op["fields"] for op in service.records("outbox") if "hair" in op["fields"]][-1]
    taken = (op["fields"] for op in service.records("outbox"))
    first = next(fields["mix"] for fields in taken if "mix" in fields)
    assert [mix["parts"] for mix in second["hair"]["already_on"]] == [first["parts"]]


def test_two_zones_are_put_in_order_once_both_have_a_mix(service):
    service.to_the_mix()
    service.tap(service.page.locator("summary", has_text="Another zone")).radio("roots")
    service.button("What to mix")
    expect(service.visit.cards.first).to_be_attached()
    service.button("Mix this")
    order = service.page.get_by_role("region", name="Order of work")
    expect(order.locator(".order-words")).to_have_count(4)
    expect(order).to_contain_text("Every zone lands inside its window")
    service.button("First section on")
    expect(order.locator(".order-due strong")).to_be_visible()
    assert pixels(order.locator(".order-due strong"), "fontSize") >= LARGE_PX
