"""The page of the API: a viewer from this server alone, in which a call can be tried."""

import re
from urllib.parse import urlsplit

from playwright.sync_api import expect


def test_a_call_is_tried_on_the_page_and_nobody_else_is_asked(browser, served):
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(f"{served}/docs")
    call = page.locator("#operations-Server-health")
    call.get_by_role("button").first.click()
    call.get_by_role("button", name="Execute").click()
    expect(call.locator(".live-responses-table")).to_contain_text('"status": "ok"')
    tried = page.locator("#operations-Calculations-weigh")
    tried.get_by_role("button").first.click()
    tried.get_by_role("button", name="Execute").click()
    expect(tried.locator(".live-responses-table .response-col_status").last).to_contain_text("200")
    here = urlsplit(served).netloc
    assert {urlsplit(url).netloc for url in asked if not url.startswith("data:")} == {here}
    # A policy that stops something says so on the console.
    assert not said
    context.close()


def test_the_type_of_a_refusal_leads_to_its_words(browser, served):
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.goto(f"{served}/docs#problem-meaning")
    expect(page.locator("#operations-Server-health")).to_be_visible()
    expect(page.get_by_role("heading", name=re.compile("^422"))).to_be_in_viewport()
    context.close()
