"""Worked examples of the two calls on painted swatches. The tubes are the invented shelf's."""

from typing import Any

from .examples import BEIGE, CLEAR


def _swatch(
    named: str, bare: list[float], parts: list[tuple[str, float]], minute: int, dried: list[float]
) -> dict[str, Any]:
    """Return a piece of swatch hair, read bare and painted."""
    return {
        "id": named,
        "hair": {"damp": 0, "reading": {"lab": bare, "state": "dry", "sd": 0.5}},
        "mix": {
            "parts": [{"product": product, "grams": grams} for product, grams in parts],
            "minutes": minute,
        },
        "after": {"minute": minute, "where": "dried", "source": "instrument", "lab": dried},
    }


_PAINTED = [
    _swatch("w1", [73.0, 3.1, 26.7], [("st9b", 12)], 20, [59.0, 2.0, 11.2]),
    _swatch("w2", [81.0, 1.1, 18.9], [("st9b", 12)], 20, [62.0, 2.7, 2.1]),
    _swatch("w3", [72.0, 3.4, 27.5], [("st9b", 12)], 8, [64.6, 3.9, 19.0]),
    # as if another tube had been squeezed
    _swatch("w4", [80.1, 1.3, 20.0], [("st9b", 6), ("st0", 6)], 12, [62.5, 9.5, 1.0]),
]
_IN_A_PHOTO = {"minute": 20, "where": "dried", "source": "photo", "sd": 1}
CALIBRATIONS: dict[str, Any] = {
    "Four swatches of one tube, the last of them odd": {
        "products": [BEIGE, CLEAR],
        "swatches": _PAINTED,
    },
    "A photo with a strand of known colour in it, and a client's result": {
        "products": [BEIGE, CLEAR],
        "swatches": [
            _PAINTED[0] | {"after": _IN_A_PHOTO | {"lab": [62.1, 4.0, 8.8]}, "group": "photo1"},
            _PAINTED[1] | {"after": _IN_A_PHOTO | {"lab": [64.7, 5.0, -0.4]}, "group": "photo1"},
            _swatch("known", [73.0, 3.1, 26.7], [("st9b", 12)], 0, [76.0, 5.2, 24.3])
            | {
                "after": _IN_A_PHOTO | {"minute": 0, "lab": [76.0, 5.2, 24.3]},
                "group": "photo1",
            },
            {
                "id": "client",
                "hair": {"level": 9.2, "porosity": 0.6},
                "mix": {"parts": [{"product": "st9b", "grams": 30}], "minutes": 12},
                "after": {
                    "minute": 12,
                    "where": "dried",
                    "source": "instrument",
                    "lab": [60.2, 2.8, 11.2],
                },
            },
        ],
    },
}
SWATCH_PLANS: dict[str, Any] = {
    "The first four swatches of a tube": {
        "products": [BEIGE, CLEAR],
        "levels": [8, 9, 10],
        "count": 4,
    },
    "One more, after two": {
        "products": [BEIGE, CLEAR],
        "levels": [9, 10],
        "count": 1,
        "swatches": _PAINTED[:2],
    },
}
