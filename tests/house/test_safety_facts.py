"""The rows of safety facts agree with the shapes their answers have, and with the fold."""

from typing import get_args

import pytest
from msgspec import inspect, structs

from basinside.contract.fact_rows import cautions, fact_rows, merged_facts
from basinside.contract.safety import LineCard, SafetyPlan
from basinside.contract.safety_facts import AlertTest, SafetyFacts, TestResult
from basinside.service.records.fields import CAUTION, KINDS
from basinside.service.records.put_forward import wanted_fields

# Lists with entries of their own, and what says when the others were said.
NO_FACTS = {"tests", "said_at"}
SHAPES = {"/facts/": SafetyFacts, "/facts/tests/*/": AlertTest, "/plan/": SafetyPlan}
SHAPES["/plan/lines/*/"] = LineCard
ROWS = fact_rows()


def where(name):
    """The shape and the field that a fact's answer goes to."""
    place = ROWS[name].place or f"/facts/{name}"
    folder, _, field = place.rpartition("/")
    return SHAPES[f"{folder}/"], field


def words_of(shape, field):
    """The words a field may hold; none where it holds no words."""
    of = next(each.type for each in inspect.type_info(shape).fields if each.encode_name == field)
    return set(_words(of))


def _words(node):
    match node:
        case inspect.Metadata():
            yield from _words(node.type)
        case inspect.UnionType():
            for one in node.types:
                yield from _words(one)
        case inspect.LiteralType():
            yield from node.values


def test_every_fact_of_the_contract_has_its_row():
    of_facts = {field.name for field in structs.fields(SafetyFacts)} - NO_FACTS
    assert of_facts == {name for name, row in ROWS.items() if not row.place}


@pytest.mark.parametrize("name", ROWS)
def test_a_row_agrees_with_the_shape_of_its_answer(name):
    row, (shape, field) = ROWS[name], where(name)
    assert field in {each.name for each in inspect.type_info(shape).fields}
    words = words_of(shape, field)
    if row.input == "choice":
        assert set(row.caution) == words
        assert not row.answers or set(row.answers) == words
    else:
        assert not row.answers
    assert (row.kept_with == "line") == (shape is LineCard)
    assert (row.kept_with == "test") == (shape is AlertTest)
    assert row.kept_with != "zone" or field in KINDS["zone"].fields
    if row.merges:
        assert row.kept_with == "client"
        assert row.caution[1] == "unknown"


def test_the_fold_and_the_rules_have_one_order_of_caution():
    assert cautions() == CAUTION
    for name, caution in CAUTION.items():
        words = [word for word in caution.order if word != "not_asked"]
        assert set(words) <= set(ROWS[name].caution if name in ROWS else get_args(TestResult)) | {
            "unknown"
        }
    assert CAUTION["black_tattoo"].order == (
        *("never", "not_asked", "unknown", "yes_no_reaction", "yes_reaction"),
    )


def test_what_merges_is_a_safety_field_of_the_client_and_nothing_else_is():
    fields = KINDS["client"].fields
    merged = [name for name, rule in fields.items() if rule == "safety"]
    assert merged == [name for name, row in ROWS.items() if row.merges]


def test_the_review_reads_each_fact_that_merges_where_it_is_kept():
    # Otherwise its question would come back however often it is answered.
    assert set(merged_facts()) <= set(wanted_fields()["client"])
