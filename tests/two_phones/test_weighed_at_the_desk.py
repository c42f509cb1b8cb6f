"""What was weighed at the basin is what the desk reads of it: in the record and in the formula."""

import re

from browsers import assert_both_hold_the_same
from playwright.sync_api import expect
from test_service import Service
from test_visit_record import grams_in, weigh_for_fine_hair_to_the_chin
from visit import Visit

CLIENT = "Wren Aldous"


def test_the_desk_reads_the_grams_that_the_phone_weighed(windows):
    phone, desk = windows
    phone.go("today")
    service = Service(Visit(phone.page, phone.address)).of_a_new_client(CLIENT)
    weighed = weigh_for_fine_hair_to_the_chin(service.to_the_mix().cleared())
    service.button("First section on").button("Last section on")
    expect(phone.page.get_by_role("button", name=re.compile("^Rinse"))).to_be_visible()
    service_id = phone.page.url.split("/")[-1]
    assert_both_hold_the_same(*windows)
    desk.go(f"record/{service_id}")
    rows = desk.page.locator(".record-bowl tbody tr")
    expect(rows.first).to_be_visible()
    on_paper = grams_in("\n".join(rows.all_inner_texts()))
    assert on_paper == [*weighed, sum(weighed)]
