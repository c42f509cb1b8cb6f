"""How far off the model says it may be: by the ladder, by how much dye, and by a dye's flank.

All sizes are assumptions, set on simulated heads (tests/engine/judgement/test_other_physics.py).
"""

from itertools import pairwise

import pytest
from salon_grid import BY_ID as TUBES

from basinside.contract.hair import Hair
from basinside.contract.mixes import Developer, Mix, Part
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development
from basinside.engine.timing.predict import heads_of

MINUTE = 40


def doubt(hair: Hair, *parts: tuple[str, float]) -> float:
    """Return the doubt about the dry look, CIEDE2000 on each axis, of a mix rinsed late."""
    mix = Mix([Part(tube, grams) for tube, grams in parts], MINUTE, Developer(6.0, 60.0))
    return Development(bowl_of(mix, TUBES)).dry_doubt(heads_of(hair, TUBES), MINUTE)


def natural(level: float, white_share: float = 0.0) -> Hair:
    return Hair(level=level, lifted=False, white_share=white_share)


CLEAR = ("tern-10-clear", 60.0)


@pytest.mark.parametrize("level", [8.0, 9.0, 10.0])
def test_no_measured_hair_fixes_the_ladder_from_7_up_so_the_doubt_is_wider_there(
    level: float,
) -> None:
    """Searches for CIELAB of blonde hair by level found none: docs/levels.md."""
    deep, pale = doubt(Hair(level=5), CLEAR), doubt(Hair(level=level), CLEAR)
    assert pale**2 - deep**2 == pytest.approx(0.3**2)
    assert deep == pytest.approx(doubt(Hair(level=4), CLEAR))


def test_white_hair_has_no_level_to_be_unsure_of() -> None:
    assert doubt(natural(9, 1.0), CLEAR) < doubt(natural(9), CLEAR)


def of_red(grams: float, hair: Hair) -> float:
    return doubt(hair, ("tern-4-red", grams), ("tern-10-clear", 60.0 - grams))


@pytest.mark.parametrize("hair", [natural(4), natural(5, 1.0)])
def test_so_much_of_one_dye_that_it_is_black_in_its_band_is_known_least(hair: Hair) -> None:
    """Natural shades hold as much dye, but of every kind: they have no flank to be off."""
    red, gold = of_red(60.0, hair), doubt(hair, ("tern-5-gold", 60.0))
    own = doubt(hair, ("tern-4-natural", 60.0))
    assert red > own + 1.0
    assert gold > own + 0.3
    assert doubt(hair, ("tern-6-red", 60.0)) < red - 1.0


def test_a_little_more_dye_is_never_a_jump_of_doubt() -> None:
    told = [of_red(float(grams), natural(5, 1.0)) for grams in range(1, 60)]
    steps = [abs(more - less) for less, more in pairwise(told)]
    assert max(steps) < 0.3
    assert told[-1] > told[5]


def test_hardly_any_dye_is_known_on_white_hair_nearly_as_well_as_on_lifted_hair() -> None:
    """Of white heads with a pale toner 93 in 100 lay in the range that says 80."""

    white, lifted = (
        doubt(hair, ("wade-10-pearl", 60.0)) for hair in (natural(9, 1.0), Hair(level=10))
    )
    assert lifted < white < 1.2 * lifted
