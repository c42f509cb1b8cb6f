"""What the API refuses is said beside the field it names, in the API's own words."""

import json

import pytest
from playwright.sync_api import expect


def test_a_wish_that_is_no_colour_is_refused_beside_its_number(visit):
    shown = visit().to_the_wish()
    page = shown.page
    shown.radio("a reading", "Wish by").click()
    for name, text in (("L*", "150"), ("a*", "1"), ("b*", "2")):
        number(page, name).fill(text)
    refused(page, "L*")
    number(page, "L*").fill("70")
    expect(number(page, "L*")).to_have_attribute("aria-invalid", "false")
    expect(page.locator(".fault")).to_have_count(0)


def test_a_hair_reading_that_is_no_colour_is_refused_beside_its_number(visit):
    shown = visit().open()
    page = shown.page
    shown.unfold("More about this hair")
    shown.radio("by a reading").click()
    for name, text in (("L*", "70"), ("a*", "1"), ("b*", "400")):
        number(page, name).fill(text)
    refused(page, "b*")


def number(page, name):
    return page.get_by_role("textbox", name=name)


def refused(page, name):
    """The field says that it is wrong and is described by what to do, which is in sight of it."""
    field = number(page, name)
    expect(field).to_have_attribute("aria-invalid", "true")
    said = page.locator(f"[id='{field.get_attribute('aria-describedby')}']")
    expect(said).to_be_visible()
    expect(said).to_contain_text("must be")


# A field that the page itself keeps within bounds is bent on its way to the real API.
BENT = {
    "porosity": ("hair", ["hair", "porosity"], "Porosity"),
    "how damp": ("hair", ["hair", "damp"], "When the mix goes on"),
    "close enough": ("wish", ["wish", "tolerance"], "Close enough is"),
    "products": ("mix", ["limits", "max_products"], "Products in one bowl, without clear"),
}


@pytest.mark.parametrize(("section", "path", "group"), BENT.values(), ids=BENT)
def test_a_refused_choice_says_so_in_its_own_group(visit, section, path, group):
    shown = visit()
    page = shown.page

    def bend(route):
        body = route.request.post_data_json
        field = body
        for step in path[:-1]:
            field = field[step]
        field[path[-1]] = 77
        route.continue_(post_data=json.dumps(body))

    page.route("**/api/formulations", bend)
    with page.expect_response("**/api/formulations") as answered:
        shown.to_the_mix()
    assert answered.value.status in (400, 422)
    (fault,) = answered.value.json()["errors"]
    assert fault["pointer"] == "/" + "/".join(path)
    expect(page.locator("#mix .notice")).to_be_visible()
    if section != "mix":
        page.locator("#mix").get_by_role("button", name=f"Go to the {section}").click()
    for summary in page.locator(f"#{section} summary").all():
        shown.unfold(summary.inner_text())
    field = page.get_by_role("group", name=group, exact=True)
    expect(field.locator(".fault")).to_have_text(fault["message"])
    expect(field).to_have_accessible_description(fault["message"])
