"""Random safety requests, and one step of more caution in any of their facts.

The orders of caution are written here from what the sources say of each fact, not read from
the rule book: from the value that asks for least to the one that asks for most.
"""

import copy

from hypothesis import strategies as st
from safety_asking import FRESH, REGULAR

YES_IS_WORSE = ["no", "unknown", "yes"]
NO_IS_WORSE = ["yes", "unknown", "no"]
FACTS = {
    "colour_reaction": ["none", "unknown", "mild", "severe"],
    "black_tattoo": ["never", "unknown", "yes_no_reaction", "yes_reaction"],
    "dye_allergy": ["none", "unknown", "suspected", "diagnosed"],
    "persulfate_reaction": ["none", "unknown", "skin", "breathing", "faint"],
    "chemo": ["none", "unknown", "in_treatment"],
    "scalp": ["sound", "settled_condition", "unknown", "healing", "irritated", "broken"],
    "face_rash": YES_IS_WORSE,
    "change_since_test": YES_IS_WORSE,
    "test_masking": YES_IS_WORSE,
    "asthma": YES_IS_WORSE,
    "pregnant": YES_IS_WORSE,
    "new_to_client": YES_IS_WORSE,
    "hair_doubt": YES_IS_WORSE,
    "eighteen_or_over": NO_IS_WORSE,
    "sixteen_or_over": NO_IS_WORSE,
    "guardian_consent": NO_IS_WORSE,
    "could_be_under_18": YES_IS_WORSE,
    "metal_test": ["clear", "not_done", "unknown", "fizz", "heat"],
    "stretch_test": ["returns", "not_done", "unknown", "gummy", "snaps"],
    "strand_test": ["pass", "not_done", "unknown", "fail"],
    "gloves": NO_IS_WORSE,
    "air": ["open", "unknown", "poor"],
    "worker_skin": ["clear", "unknown", "signs"],
    "worker_breathing": ["clear", "unknown", "signs"],
    "worker_dye_allergy": YES_IS_WORSE,
    "reaction_record": ["complete", "unknown", "open"],
}
TEST = {
    "used_before": YES_IS_WORSE,
    "applied_by": ["salon", "unknown", "client"],
    "result": ["clear", "not_read", "itch"],
}
PLAN = {
    "heat": YES_IS_WORSE,
    "touches_skin": YES_IS_WORSE,
    "developer_percent": [1.5, 6, 9, 12, 13],
}
CARD = {
    "sensitiser": YES_IS_WORSE,
    "persulfate": YES_IS_WORSE,
    "heat_allowed": NO_IS_WORSE,
    "labelled": NO_IS_WORSE,
    "label_caution": NO_IS_WORSE,
    "cleared_for_lashes": NO_IS_WORSE,
    "for_fresh_lightened": NO_IS_WORSE,
    "nh3_percent": [0, 2, 6, 7],
}
CLASSES = [
    "oxidative_permanent", "oxidative_toner", "direct_dye", "plant_dye", "lightener_powder",
    "lightener_cream", "colour_remover", "no_chemical",
]  # fmt: skip
PASTS = [
    None,
    [],
    [{"what": "lightened", "on": "2026-06-15", "zone": "lengths"}],
    [{"what": "lightened", "on": "2026-11-20"}, {"what": "unknown"}],
    [{"what": "metallic"}],
    [{"what": "plant_henna", "zone": "ends"}],
    [{"what": "hydroxide_relaxer", "on": "2026-01-10", "zone": "regrowth"}],
]
SIGNS = [[], ["mild_tingle"], ["itch"], ["eye_splash"], ["unknown"], ["dizzy", "hives"]]
# One fact by its place: which part of the request, its name, its values in order of caution.
ORDERED = [
    (part, name, values)
    for part, table in (("facts", FACTS), ("test", TEST), ("plan", PLAN), ("card", CARD))
    for name, values in table.items()
]


def parts(request):
    """Return the objects of a request that hold facts, by the names used above."""
    return {
        "facts": request["facts"],
        "test": request["facts"]["tests"][0],
        "plan": request["plan"],
        "card": request["plan"]["lines"][0],
    }


@st.composite
def requests(draw):
    """Draw a request. Most answers are safe, or hardly any service would ever open."""
    request = copy.deepcopy(REGULAR)
    request["profile"] = draw(st.sampled_from(["eu", "uk", "us", "other"]))
    for part, name, values in ORDERED:
        at = draw(st.sampled_from([0] * 20 + [*range(len(values)), None]))
        home = parts(request)[part]
        home.pop(name, None)
        if at is not None:
            home[name] = values[at]
    card = request["plan"]["lines"][0]
    card.pop("product_class")
    card["class"] = draw(st.sampled_from(CLASSES))
    card["leaflet_version"] = draw(st.sampled_from(["2026-01", "2026-01", None]))
    request["plan"]["areas"] = draw(st.sampled_from([["scalp"], ["lengths"], ["lashes"]]))
    request["plan"]["zones"] = draw(st.sampled_from([[], ["regrowth"], ["lengths"]]))
    request["facts"]["hair_past"] = draw(st.sampled_from(PASTS))
    if draw(st.integers(0, 9)) == 0:
        request["facts"]["tests"] = [FRESH | {"line": "Quilt"}]
    moment = draw(st.sampled_from(["start", "start", "start", "live", "booking", "after"]))
    request["plan"]["moment"] = moment
    if moment == "live":
        request["plan"]["started_at"] = "2026-11-25T10:00:00+00:00"
        request["facts"]["signs"] = draw(st.sampled_from(SIGNS))
    return request


def more_cautious(request, part, name, values):
    """Return the request with one fact a step further on; None when it is at its end or absent."""
    value = parts(request)[part].get(name)
    if value is None or value == values[-1]:
        return None
    request = copy.deepcopy(request)
    parts(request)[part][name] = values[values.index(value) + 1]
    return request
