"""What a tube is told to make alone, on the hair it is meant for, beside its own name."""

import json

import pytest
from asking import asked, clear, described, strip_of

from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.door import answer
from basinside.engine.products.tones import wish_lab


def told(*products) -> list[dict]:
    return asked("labels", {"products": list(products)})["labels"]


def permanent(level: float, tone: str, **changed) -> dict:
    shade = {"level": level, "tone": [tone], "developer_percent": [3, 6], **changed}
    return described("permanent", **shade) | {"window": {"min": 1, "max": 45}}


def test_a_tube_that_meets_its_name_says_so_and_shows_both_colours() -> None:
    (label,) = told(described(level=9, tone=["beige"], promised_on="lifted"))
    assert label["promises"]["lab"] == pytest.approx(wish_lab(9, ["beige"]))
    assert label["promises"]["words"] == "level 9, beige"
    assert label["hair"] == "lightened hair of level 9"
    assert label["delta_e"] < 0.1
    assert label["words"] == (
        "Alone on lightened hair of level 9 it makes level 9, beige: its own name, within 3 ΔE."
    )


def test_a_tube_whose_name_is_out_of_reach_says_what_it_makes_instead() -> None:
    # violet on lifted 7: no dyes come within 4 of it
    (label,) = told(described(level=7, tone=["violet"], promised_on="lifted"))
    assert label["delta_e"] > 4
    assert f"{label['delta_e']:.1f} ΔE from its name" in label["words"]
    assert label["makes"]["words"] in label["words"]
    assert "too " in label["words"]
    assert "its own name, within" not in label["words"]


@pytest.mark.parametrize(
    ("product", "hair"),
    [
        (described(level=9, tone=["ash"]), {"level": 9}),
        (described(level=9, tone=["ash"], promised_on="white"), {"level": 9, "white_share": 1}),
        (permanent(6, "natural"), {"level": 6, "lifted": False, "white_share": 0.5}),
    ],
)
def test_what_it_makes_is_what_a_strip_of_it_on_that_hair_shows(product, hair) -> None:
    (label,) = told(product)
    one = product | {"developer_percent": product["developer_percent"][-1:]}
    dry = strip_of({"damp": 0} | hair, one)[-1]["if_rinsed"]["lab"]
    assert label["makes"]["lab"] == pytest.approx(dry, abs=1e-9)
    assert label["delta_e"] == pytest.approx(delta_e_2000(tuple(label["promises"]["lab"]), dry))


def test_the_hair_is_named() -> None:
    named = [
        label["hair"]
        for label in told(
            described(id="a", level=8.5, tone=["ash"]),
            described(id="b", level=6, tone=["ash"]),
            described(id="c", level=6, tone=["ash"], promised_on="lifted"),
            described(id="d", level=10, tone=["ash"], promised_on="white"),
        )
    ]
    assert named == [
        "lightened hair of level 8½",
        "half-white natural hair of level 6",
        "lightened hair of level 6",
        "white hair",
    ]


def test_a_corrector_is_told_to_name_a_pigment_and_a_clear_to_hold_no_dye() -> None:
    corrector, nothing = told(described(level=9, tone=["blue violet"]), clear())
    assert corrector["words"].startswith("Its name is a pigment that corrects")
    assert nothing["words"].startswith("It holds no dye.")
    assert "promises" not in nothing
    assert "delta_e" not in nothing


def test_measured_dyes_decide_what_is_made_and_the_words_what_is_promised() -> None:
    (by_words,) = told(described(level=9, tone=["beige"]))
    (measured,) = told(described(level=9, tone=["beige"], dyes={"violet": 0.6}))
    assert measured["promises"] == by_words["promises"]
    assert measured["delta_e"] > by_words["delta_e"] + 3


def test_a_product_that_cannot_be_is_refused_with_its_place() -> None:
    body = {"products": [described(level=9, tone=["sparkling"])]}
    reply = answer("labels", json.dumps(body).encode())
    assert reply.status == 422
    assert json.loads(reply.body)["errors"][0]["pointer"] == "/products/0/tone"
