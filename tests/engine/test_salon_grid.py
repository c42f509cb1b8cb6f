"""What a salon's four hundred cases are answered: no drift goes unseen, and trade rules hold.

The rules are common practice, no published source. `python tests/engine/salon_grid.py` writes the
table again.
"""

from functools import cache

import pytest
from drawing import LONG
from salon_grid import ANSWERS, BY_ID, SHELF, TITLES, Case, cases

from basinside.engine.formulation.first import is_cool
from basinside.engine.products.tones import wish_lab

# Of the cases, answered again here. The same ones each day, so that a change which moves an answer
# fails at once.
EVERY = 1 if LONG else 20
BRUNETTE, BLONDE = 6, 8


@cache
def table() -> list[dict[str, str]]:
    lines = ANSWERS.read_text(encoding="utf-8").splitlines()
    return [dict(zip(TITLES, line.split("\t"), strict=True)) for line in lines[1:]]


@cache
def asked() -> list[Case]:
    return cases()


def answered() -> list[tuple[Case, dict[str, str]]]:
    return list(zip(asked(), table(), strict=True))


def label_of(part: str) -> int:
    """Return the level on a tube's label: "40 g Tern 6 natural" is 6, clear 0."""
    words = part.split()
    return int(words[3]) if words[3].isdigit() else 0


def test_the_shelf_has_sixty_tubes_of_four_lines_and_the_table_four_hundred_cases() -> None:
    assert (len(SHELF), len({product.line for product in SHELF})) == (60, 4)
    assert len(BY_ID) == 60
    assert len(table()) == len(asked()) == 400


@pytest.mark.parametrize("first", range(4))
def test_the_table_says_what_is_answered_today(first: int) -> None:
    for case, row in answered()[first * EVERY :: 4 * EVERY]:
        assert dict(zip(TITLES, case.row, strict=True)) == row


def test_nobody_is_told_to_lift_hair_that_is_light_enough() -> None:
    for case, row in answered():
        if "ift first" in row["otherwise"]:
            wish = case.wish
            assert wish.level > case.hair.level + 0.3 or is_cool(wish_lab(wish.level, wish.tone))
            assert not case.hair.already_on, row


def test_no_permanent_leads_on_lifted_hair_where_a_demi_comes_within_half() -> None:
    led = [row for case, row in answered() if case.hair.lifted and row["class"] == "permanent"]
    assert all(not row["nearest demi"] or float(row["nearest demi"]) > 0.5 for row in led)


def test_no_brunette_is_given_a_blondes_toner() -> None:
    for case, row in answered():
        brunette = not case.hair.lifted and case.hair.level <= BRUNETTE
        if brunette and case.wish.level < BLONDE and row["mix"]:
            assert all(label_of(part) < BLONDE for part in row["mix"].split(" + ")), row


def test_every_permanent_that_leads_on_white_hair_covers_in_strength_and_time() -> None:
    for case, row in answered():
        if case.hair.white_share >= 0.4 and row["class"] == "permanent":
            assert float(row["developer %"]) >= 6
            assert int(row["minutes"]) >= 30
            assert row["white hair"] in ("covered", "blended")
            # lifted brown beside white keeps some of its warmth: a lighter wish may only blend
            if case.wish.tone == ["natural"] and case.step <= 0:
                assert row["white hair"] == "covered", row


def test_no_mix_leads_that_leaves_much_white_hair_seen_where_nothing_is_to_be_lifted() -> None:
    """Violet is a toner: no permanent has it, and nobody covers white hair with it."""
    for case, row in answered():
        if case.hair.white_share >= 0.4 and case.step <= 0 and case.wish.tone != ["violet"]:
            assert row["white hair"] != "seen", row
