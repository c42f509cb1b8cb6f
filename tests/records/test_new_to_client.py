"""Colour is new to a client until every line of today's bowls was on their head before."""

import random

import pytest
from gate_cases import Writer
from gate_question import made_of, sent

BEFORE = "2026-10-25T10:00:00Z"


def zone(writer, name, service, line, began=BEFORE):
    """Write a zone of a service with one bowl of a line; without `began` it never went on."""
    product = {"id": line, "name": line, "line": line, "class": "alkaline_demi"}
    product |= {"level": 9, "tone": ["pearl"], "window": {"min": 5, "max": 20}}
    product |= {"developer_percent": [1.9]}
    mix = {"parts": [{"product": line, "grams": 40}], "minutes": 10}
    put_on = {"first_section_at": began} if began else {}
    fields = {"service": service, "work": "toner", "mix": mix, "products": [product]}
    writer.write("zone.create", name, fields | put_on)


def new_to_client(had, today, went_on=BEFORE, before_of="c1"):
    """What is asked of a service with these lines, after one that had those."""
    writer = Writer(random.Random(1))
    for client in ("c1", "c2"):
        writer.write("client.create", client, {"name": client})
    for service, client in (("earlier", before_of), ("now", "c1")):
        writer.write("service.create", service, {"client": client, "purpose": "client"})
    for at, line in enumerate(had):
        zone(writer, f"had {at}", "earlier", line, went_on)
    for at, line in enumerate(today):
        zone(writer, f"today {at}", "now", line, None)
    request = made_of(sent(writer.operations, "now"))
    return request["facts"].get("new_to_client")


@pytest.mark.parametrize(
    ("had", "today", "said"),
    [
        (["Still"], ["Still"], "no"),
        (["Still", "Fathom"], ["Fathom", "Still"], "no"),
        (["Still"], ["Still", "Fathom"], None),
        (["Still"], ["Fathom", "Still"], None),
        (["Still"], ["Fathom"], None),
        (["Still"], [], None),
        ([], ["Still"], None),
    ],
)
def test_only_lines_that_were_all_there_before_are_known(had, today, said):
    assert new_to_client(had, today) == said


def test_what_was_mixed_and_never_went_on_makes_no_line_known():
    assert new_to_client(["Still"], ["Still"], went_on=None) is None


def test_what_another_client_had_makes_no_line_known():
    assert new_to_client(["Still"], ["Still"], before_of="c2") is None
