"""Which products may share a bowl by their leaflets; the pages are held to the same pairs.

That a maker allows mixing within one line of one kind, and across lines only where each leaflet
says so, is common practice, no published source.
"""

import json
from pathlib import Path

import msgspec
import pytest

from basinside.contract.products import Product
from basinside.engine.meaning import may_share_a_bowl

PAIRS = json.loads((Path(__file__).parents[1] / "vectors" / "one_bowl.json").read_text("utf-8"))
REST = {"level": 8, "tone": ["violet"], "developer_percent": [1.9], "window": {"min": 5, "max": 20}}


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair["name"])
def test_two_products_share_a_bowl_where_both_leaflets_allow_it(pair):
    one, other = (
        msgspec.convert(REST | {"id": name, "name": name} | pair[name], Product)
        for name in ("one", "other")
    )
    assert may_share_a_bowl(one, other) is pair["may"]
    assert may_share_a_bowl(other, one) is pair["may"]
