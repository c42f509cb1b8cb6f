"""Peroxide strength against stoichiometry and the law.

2 H2O2 → 2 H2O + O2. Atomic weights: IUPAC standard, abridged (H 1.008, O 15.999). Molar volume of
an ideal gas at 0 °C and 1 atm: 22.414 l (CODATA). "Volumes" are litres of oxygen from a litre.
"""

import json

import pytest

from basinside.engine.door import answer

HYDROGEN_G, OXYGEN_G = 1.008, 15.999
MOLAR_VOLUME_L = 22.414
PEROXIDE_G = 2 * HYDROGEN_G + 2 * OXYGEN_G


def percent_of(volumes: float) -> float:
    """Return % w/v of a solution that gives off so many volumes of oxygen."""
    moles_of_peroxide = 2 * volumes / MOLAR_VOLUME_L
    return moles_of_peroxide * PEROXIDE_G / 10


def question(percent: float) -> bytes:
    product = {
        "id": "p",
        "name": "p",
        "line": "Cobble",
        "class": "permanent",
        "level": 9,
        "tone": ["violet"],
        "window": {"min": 5, "max": 30},
        "developer_percent": [percent],
    }
    return json.dumps(
        {
            "hair": {"level": 10},
            "mix": {
                "parts": [{"product": "p", "grams": 40}],
                "developer": {"percent": percent, "grams": 40},
                "minutes": 10,
            },
            "products": [product],
            "minutes": [10],
        }
    ).encode()


@pytest.mark.parametrize(("volumes", "percent"), [(10, 3.04), (40, 12.14)])
def test_volumes_by_stoichiometry_are_a_little_more_than_the_trades_percent(
    volumes: float, percent: float
) -> None:
    assert percent_of(volumes) == pytest.approx(percent, abs=0.005)
    # so a check by volumes would refuse, or let by, the wrong bottle: the trade's 40 vol is 12 %
    assert percent_of(volumes) > volumes * 3 / 10


@pytest.mark.parametrize("volumes", [10, 20, 30, 40])
def test_the_trades_volumes_are_within_two_percent_of_stoichiometry(volumes: float) -> None:
    assert volumes * 3 / 10 == pytest.approx(percent_of(volumes), rel=0.02)


def test_twelve_percent_is_the_most_the_law_allows_and_the_door_lets_in() -> None:
    # Regulation (EC) No 1223/2009, Annex III, entry 12: hair products, at most 12 % H2O2
    assert answer("predictions", question(12)).status == 200
    over = answer("predictions", question(12.1))
    assert over.status == 400
    (fault,) = json.loads(over.body)["errors"]
    assert "12" in fault["message"]
    assert "percent" in fault["pointer"]


@pytest.mark.parametrize("volumes", [20, 30, 40])
def test_volumes_typed_as_percent_are_caught_and_turned_into_percent(volumes: int) -> None:
    refused = answer("predictions", question(volumes))
    assert refused.status == 400
    (fault,) = json.loads(refused.body)["errors"]
    assert f"{volumes} vol is {volumes * 3 // 10} %" in fault["message"]


@pytest.mark.parametrize("volumes", [10, 20, 30, 40])
def test_the_volumes_of_a_made_developer_are_near_those_of_stoichiometry(volumes: int) -> None:
    body = json.loads(question(volumes * 3 / 10))
    asked = {key: body[key] for key in ("mix", "products")} | {"developers_in_stock": [12, 0]}
    made = json.loads(answer("mixes", json.dumps(asked).encode()).body)["developer"]
    assert made["volumes"] == pytest.approx(volumes, abs=0.01)
    assert percent_of(made["volumes"]) == pytest.approx(made["percent"], rel=0.02)


@pytest.mark.parametrize(
    ("place", "over"),
    [
        ("/developers_in_stock/0", {"developers_in_stock": [20]}),
        ("/developers_in_stock/0/percent", {"developers_in_stock": [{"percent": 20}]}),
        ("/developer/percent", {"developer": {"percent": 20, "grams": 40}}),
    ],
)
def test_more_than_twelve_percent_is_refused_on_input_and_in_stock(place: str, over: dict) -> None:
    body = json.loads(question(6))
    refused = answer("mixes", json.dumps({"products": body["products"], **over}).encode())
    assert refused.status == 400
    (fault,) = json.loads(refused.body)["errors"]
    assert fault["pointer"] == place
    assert "at most 12 % peroxide; got 20" in fault["message"]
    assert "20 vol is 6 %" in fault["message"]


def test_more_than_twelve_percent_is_refused_in_a_mix_and_on_a_product() -> None:
    body = json.loads(question(12))
    asked = {key: body[key] for key in ("mix", "products")}
    made = json.loads(answer("mixes", json.dumps(asked).encode()).body)["developer"]
    assert (made["percent"], made["volumes"]) == (12, 40)
    for entry in (asked["mix"]["developer"], asked["products"][0]):
        name = "percent" if "percent" in entry else "developer_percent"
        kept = entry[name]
        entry[name] = 12.1 if name == "percent" else [12.1]
        refused = answer("mixes", json.dumps(asked).encode())
        assert refused.status == 400
        assert b"at most 12 % peroxide; got 12.1" in refused.body
        entry[name] = kept
