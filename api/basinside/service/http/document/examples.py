"""Worked examples for the document. Requests only: their replies are the engine's own.

Every product, line and head of hair here is invented.
"""

from typing import Any

# Takes the place of the engine's version in a reply. The true one changes with every edit of the
# engine, down to a comment, and would make the document out of date each time.
ENGINE_VERSION = "0123456789ab"

_VIOLET_BLUE = {
    "id": "st9vb",
    "name": "9 violet blue",
    "line": "Still",
    "class": "neutral_demi",
    "level": 9,
    "tone": ["violet", "blue"],
    "mix_ratio": 1,
    "developer_percent": [1.9],
    "window": {"min": 5, "max": 20},
}
BEIGE = _VIOLET_BLUE | {"id": "st9b", "name": "9 beige", "tone": ["beige"]}
CLEAR = _VIOLET_BLUE | {"id": "st0", "name": "Clear", "level": 10, "tone": ["clear"]}
_VIOLET_MASK = {
    "id": "qk9v",
    "name": "Violet mask",
    "line": "Quilt",
    "class": "direct",
    "level": 9,
    "tone": ["violet"],
    "mix_ratio": 0,
    "developer_percent": [],
    "window": {"min": 1, "max": 20},
    "price_per_100g": 6.5,
}

FORMULATIONS: dict[str, Any] = {
    "A pearl blonde from three tubes": {
        "hair": {"level": 10, "porosity": 0.6},
        "wish": {"level": 10, "tone": ["pearl"], "tolerance": 5},
        "products": [_VIOLET_BLUE, BEIGE, CLEAR],
        "limits": {"total_g": 40, "step_g": 5, "count": 2},
    },
    "A wish lighter than the hair": {
        "hair": {"level": 8},
        "wish": {"level": 10, "tone": ["silver"]},
        "products": [_VIOLET_BLUE, CLEAR],
        "limits": {"count": 1},
    },
}

PREDICTIONS: dict[str, Any] = {
    "Violet blue on palest blonde, at three minutes": {
        "hair": {"level": 10.5},
        "mix": {"parts": [{"product": "st9vb", "grams": 40}], "minutes": 20},
        "products": [_VIOLET_BLUE],
        "wish": {"level": 10, "tone": ["ash"]},
        "minutes": [0, 5, 20],
    },
    "A violet mask, which takes no developer": {
        "hair": {"level": 9.5, "porosity": 0.7},
        "mix": {"parts": [{"product": "qk9v", "grams": 30}], "minutes": 5},
        "products": [_VIOLET_MASK],
        "minutes": [5],
        "look": {"bunched": 1},
    },
}

_STILL_CARD = {
    "line": "Still",
    "product_class": "neutral_demi",
    "leaflet_version": "2026-01",
    "test": {"min_hours": 48, "site": "inside of the elbow"},
    "labelled": "yes",
    "label_caution": "yes",
    "max_minutes": 20,
}
_TONER_ON_SCALP = {
    "lines": [_STILL_CARD],
    "areas": ["scalp", "lengths"],
    "developer_percent": 1.9,
    "mix_ratio": 1,
}
_REGULAR = {
    "eighteen_or_over": "yes",
    "colour_reaction": "none",
    "black_tattoo": "never",
    "dye_allergy": "none",
    "chemo": "none",
    "hair_past": [{"what": "lightened", "on": "2026-06-15", "zone": "lengths"}],
    "new_to_client": "no",
    "hair_doubt": "no",
    "change_since_test": "no",
    "test_masking": "no",
    "scalp": "sound",
    "face_rash": "no",
    "gloves": "yes",
    "tests": [
        {
            "line": "Still",
            "applied_at": "2026-11-23T10:00:00+00:00",
            "site": "inside of the elbow",
            "applied_by": "salon",
            "used_before": "no",
            "result": "clear",
            "read_at": "2026-11-25T10:05:00+00:00",
            "read_by": "Ana",
        }
    ],
}
_WEDNESDAY = {
    "now": "2026-11-25T10:15:00+00:00",
    "starts_at": "2026-11-25T10:15:00+00:00",
    "time_zone": "Europe/London",
    "profile": "uk",
}

SAFETY_REVIEWS: dict[str, Any] = {
    "A regular, whose alert test was read this morning": {
        "facts": _REGULAR,
        "plan": _TONER_ON_SCALP,
        **_WEDNESDAY,
    },
    "A first visit without a test, nothing asked yet": {
        "facts": {},
        "plan": _TONER_ON_SCALP,
        **_WEDNESDAY,
    },
}

_ANSWERED = "2026-11-25T10:05:00+00:00"
_ANSWERED_TODAY = [
    {"fact": fact, "value": value, "at": _ANSWERED}
    for fact, value in (("scalp", "sound"), ("gloves", "yes"), ("change_since_test", "no"))
]
SERVICE_REVIEWS: dict[str, Any] = {
    "A toner on the scalp, with the records of the visit": {
        "service": "0199c0de-0000-7000-8000-000000000002",
        "records": {
            "client": [
                {
                    "id": "0199c0de-0000-7000-8000-000000000001",
                    "created_at": "2026-11-22T09:00:00.000Z",
                    "name": "Ona Petrel",
                    "colour_reaction": "none",
                    "answers": [{"fact": "age_years", "value": 34, "at": _ANSWERED}],
                }
            ],
            "service": [
                {
                    "id": "0199c0de-0000-7000-8000-000000000002",
                    "created_at": "2026-11-25T10:00:00.000Z",
                    "client": "0199c0de-0000-7000-8000-000000000001",
                    "facts": _ANSWERED_TODAY,
                }
            ],
            "zone": [
                {
                    "id": "0199c0de-0000-7000-8000-000000000003",
                    "created_at": "2026-11-25T10:00:01.000Z",
                    "service": "0199c0de-0000-7000-8000-000000000002",
                    "name": "all over",
                    "work": "toner",
                    "area": "scalp",
                    "mix": {
                        "parts": [{"product": "st9vb"}],
                        "developer": {"percent": 1.9},
                    },
                    "products": [
                        {
                            "id": "st9vb",
                            "line": "Still",
                            "class": "neutral_demi",
                            "developer_percent": [1.9],
                            "window": {"max": 20},
                        }
                    ],
                }
            ],
            "alert_test": [
                {
                    "id": "0199c0de-0000-7000-8000-000000000004",
                    "created_at": "2026-11-22T09:10:00.000Z",
                    "client": "0199c0de-0000-7000-8000-000000000001",
                    "line": "Still",
                    "applied_at": "2026-11-22T09:10:00+00:00",
                    "applied_by": "salon",
                    "result": "clear",
                    "read_at": "2026-11-25T09:40:00+00:00",
                    "read_by": "Ana",
                }
            ],
        },
        "now": "2026-11-25T10:15:00+00:00",
        "time_zone": "Europe/London",
        "profile": "uk",
    },
}

SAFETY_RULES: dict[str, Any] = {
    "One rule of many": {
        "edition": "2026-11-25",
        "rules": [
            {
                "id": "face-rash",
                "part": "Scalp and skin",
                "severity": {"eu": "stop", "uk": "stop", "us": "stop", "other": "stop"},
                "phases": ["start", "live"],
                "purposes": ["client"],
                "when": "chemical is yes and face rash is yes",
                "message": "Rash on the face. Do not colour.",
                "next": "Rebook when it has gone; doctor if it spreads or lasts.",
                "status": "published",
                "sources": ["EU-LABEL"],
                "decided_by": [],
                "may_loosen": False,
            }
        ],
        "facts": [],
        "worked_out": {"chemical": "anything but cut and dry work"},
        "sources": [],
        "never_blocked": ["rinse", "first_aid", "call_for_help", "end_service", "export"],
        "engine_version": ENGINE_VERSION,
    },
}

MENDS: dict[str, Any] = {
    "Too violet after ten minutes": {
        "hair": {
            "level": 10,
            "porosity": 0.7,
            "uptake": 1.2,
            "sure": {
                "level_sd": 0.1,
                "log_warmth_sd": 0.1,
                "porosity_sd": 0.05,
                "log_rate_sd": 0.1,
                "log_uptake_sd": 0.05,
            },
            "already_on": [{"parts": [{"product": "st9vb", "grams": 40}], "minutes": 10}],
        },
        "wish": {"level": 9.5, "tone": ["beige"]},
        "products": [_VIOLET_BLUE, BEIGE, CLEAR],
        "limits": {"total_g": 40, "count": 1},
    },
}

_LIGHTENER = {
    "id": "mo1",
    "name": "Lightening powder",
    "line": "Moth",
    "developer_percent": [6, 9],
    "check_every_min": 10,
    "max_min": 45,
}
LIGHTENINGS: dict[str, Any] = {
    "Not light enough at twenty minutes": {
        "hair": {"level": 9},
        "wish": {"level": 10, "tone": ["silver"]},
        "lightener": _LIGHTENER,
        "elapsed_min": 20,
    },
    "The leaflet's time is up": {
        "hair": {"level": 9},
        "wish": {"level": 10, "tone": ["silver"]},
        "lightener": _LIGHTENER,
        "elapsed_min": 45,
    },
}

_VIOLET = _VIOLET_BLUE | {"id": "st8v", "name": "8 violet", "level": 8, "tone": ["violet"]}
_DEVELOPING: dict[str, Any] = {
    "hair": {"level": 10, "porosity": 0.6},
    "mix": {
        "parts": [
            {"product": "st9b", "grams": 15},
            {"product": "st9vb", "grams": 5},
            {"product": "st0", "grams": 20},
        ],
        "minutes": 10,
    },
    "products": [BEIGE, _VIOLET_BLUE, CLEAR, _VIOLET],
    "wish": {"level": 9.5, "tone": ["natural"]},
}
_WIPED_AT_7: dict[str, Any] = {"minute": 7, "where": "wiped"}

JUDGEMENTS: dict[str, Any] = {
    "Yellower than shown, by eye": _DEVELOPING
    | {"readings": [_WIPED_AT_7 | {"source": "eye", "words": "yellower"}]},
    "As if the wrong tube had been squeezed": _DEVELOPING
    | {"readings": [_WIPED_AT_7 | {"source": "instrument", "lab": [38.7, 10.4, -3.2]}]},
}

REACHES: dict[str, Any] = {
    "Three tones at two levels": {
        "hair": {"level": 9.5, "lifted": True},
        "products": [BEIGE, _VIOLET_BLUE, CLEAR],
        "levels": [9, 10],
        "tones": ["beige", "pearl", "copper"],
    }
}

LABELS: dict[str, Any] = {
    "A toner, a corrector and a clear": {"products": [BEIGE, _VIOLET_BLUE, CLEAR]},
}

MIXES: dict[str, Any] = {
    "Twenty volumes thinned, on a scale that shows tenths": {
        "mix": {
            "parts": [{"product": "st9vb", "grams": 24}, {"product": "st0", "grams": 12}],
            "developer": {"percent": 1.9, "grams": 36},
            "minutes": 10,
        },
        "products": [_VIOLET_BLUE | {"price_per_100g": 9, "use_within_min": 30}, CLEAR],
        "developers_in_stock": [0, 6],
        "hair": {"level": 10},
    },
    "One part to two, as much as hair to the chin needs": {
        "parts": [{"product": "st9vb", "grams": 1}, {"product": "st9b", "grams": 2}],
        "products": [_VIOLET_BLUE, BEIGE],
        "hair_amount": {
            "length": "chin",
            "density": "fine",
            "before": {"left_over": "a_little", "total_g": 40},
        },
        "step_g": 1,
        "unit": "parts",
    },
}

_TO_RINSE = {"earliest": 7, "best": 10, "latest": 12}
SCHEDULES: dict[str, Any] = {
    "Three zones and one pair of hands": {
        "zones": [
            {"name": "roots", "window": _TO_RINSE, "apply_min": 12},
            {
                "name": "lengths",
                "window": {"earliest": 20, "best": 30, "latest": 35},
                "apply_min": 15,
            },
            {"name": "fringe", "window": {"earliest": 5, "best": 8, "latest": 20}, "apply_min": 4},
        ],
        "basin_minutes": 4,
    },
    "Two zones that cannot be rinsed together": {
        "zones": [
            {"name": "roots", "window": _TO_RINSE, "apply_min": 20},
            {"name": "ends", "window": _TO_RINSE, "apply_min": 20},
        ],
        "rinse": "shared",
    },
}

# Not in the document: facts about any engine, with which a machine can check its own.
CLEAR_ON_BLONDE: dict[str, Any] = {
    "hair": {"level": 10},
    "mix": {"parts": [{"product": "st0", "grams": 40}], "minutes": 20},
    "products": [CLEAR],
    "minutes": [0, 20],
}

PRODUCTS: dict[str, Any] = {
    "An invented shelf": {"products": [_VIOLET_BLUE, _VIOLET_MASK], "demo": True},
}

HEALTH: dict[str, Any] = {
    "Ready": {
        "status": "ok",
        "version": "0.1.0",
        "engine_version": ENGINE_VERSION,
        "backup_proven_at": "2026-11-25T10:15:03.120Z",
        "backup_failed": "",
    },
}

# Two refusals, worked like the rest: a volume typed as percent, and steps that do not fit.
MISSHAPEN = FORMULATIONS["A pearl blonde from three tubes"] | {
    "products": [_VIOLET_BLUE | {"developer_percent": [40]}]
}
MEANINGLESS = FORMULATIONS["A pearl blonde from three tubes"] | {
    "wish": {"level": 10, "tone": ["sparkling"]},
    "limits": {"total_g": 40, "step_g": 7},
}
