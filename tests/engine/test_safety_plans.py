"""Combinations of what stops a service, and what a changed plan opens again.

The table of what stops is written from the sources named in `safety_cases.py`, fact by fact.
"""

import itertools
import random

import pytest
from safety_asking import FRESH, REGULAR, bent, decided, found, reviewed

# Each fact with its safe value and the values that stop, each with the rule that must say so.
STOPPING = {
    "colour_reaction": {"none": None, "mild": "past-colour-reaction"},
    "black_tattoo": {"never": None, "yes_reaction": "black-tattoo-reacted"},
    "dye_allergy": {"none": None, "suspected": "dye-allergy-known"},
    "persulfate_reaction": {"none": None, "breathing": "persulfate-reaction-past"},
    "eighteen_or_over": {"yes": None, "unknown": "guardian-consent-missing"},
    "scalp": {"sound": None, "broken": "scalp-not-sound", "rash": "scalp-not-sound"},
    "face_rash": {"no": None, "yes": "face-rash"},
    "developer_percent": {6: None, 12.5: "peroxide-over-12"},
    "heat": {"no": None, "yes": "heat-not-cleared"},
    "strand_test": {"pass": None, "fail": "strand-fail"},
    "stretch_test": {"returns": None, "snaps": "stretch-fail"},
    "metal_test": {"clear": None, "heat": "metal-positive"},
    "areas": {("scalp",): None, ("brows",): "hair-colour-near-eye"},
    "lines.0.nh3_percent": {2: None, 7: "ammonia-over-6"},
    "tests": {
        "clear": None, "none": "alert-test-missing", "other": "alert-test-other-line",
        "young": "alert-test-too-soon", "unread": "alert-test-unread", "itch": "alert-test-reacted",
        "old": "alert-test-lapsed",
    },
}  # fmt: skip
TESTS = {
    "clear": [FRESH],
    "none": [],
    "other": [FRESH | {"line": "Quilt"}],
    "young": [FRESH | {"applied_at": "2026-11-24T10:00:00+00:00"}],
    "unread": [FRESH | {"result": "not_read", "read_at": None, "read_by": None}],
    "itch": [FRESH | {"result": "itch"}],
    "old": [FRESH | {"applied_at": "2026-05-01T10:00:00Z", "read_at": "2026-05-03T10:00:00Z"}],
}
POWDER = {
    "lines.0.class": "lightener_powder", "lines.0.product_class": None, "zones": ["regrowth"],
    "air": "open", "lines.0.scalp_max_percent": 12.5, "guardian_consent": "no",
    "sixteen_or_over": "yes",
}  # fmt: skip


def pairwise(table):
    """Return rows in which every pair of values of every two facts occurs; greedy, seeded."""
    rng = random.Random(84)
    names = list(table)
    left = {
        ((a, x), (b, y))
        for a, b in itertools.combinations(names, 2)
        for x in table[a]
        for y in table[b]
    }
    rows = []
    while left:
        (a, x), (b, y) = min(left, key=repr)
        best = None
        for _ in range(30):
            row = {name: rng.choice(list(table[name])) for name in names} | {a: x, b: y}
            covered = set(itertools.combinations(row.items(), 2)) & left
            if best is None or len(covered) > len(best[1]):
                best = row, covered
        rows.append(best[0])
        left -= best[1]
    return rows


ROWS = pairwise(STOPPING)


def test_every_pair_of_stop_values_is_tried():
    tried = {pair for row in ROWS for pair in itertools.combinations(row.items(), 2)}
    for (a, one), (b, other) in itertools.combinations(STOPPING.items(), 2):
        assert {((a, x), (b, y)) for x in one for y in other} <= tried


@pytest.mark.parametrize("row", [{n: next(iter(v)) for n, v in STOPPING.items()}, *ROWS], ids=repr)
def test_whatever_stops_is_said_and_nothing_else(row):
    changes = POWDER | row | {"tests": TESTS[row["tests"]], "areas": list(row["areas"])}
    reply = reviewed(bent(changes))
    stops = {f["id"] for f in reply["findings"] if f["severity"] == "stop"} - {"decision-unsigned"}
    expected = {STOPPING[name][value] for name, value in row.items()} - {None}
    # A strength that no lash product has is said where eyes are near, and only there.
    assert stops - {"peroxide-lash-over-2"} == expected
    assert not (reply["may_start"] and expected)
    assert reply["alert_test"]["needed"] == "yes"


OTHER_LINE = REGULAR["plan"]["lines"][0] | {"line": "Quilt"}


@pytest.mark.parametrize(
    ("change", "opened"),
    [
        ({"lines": [OTHER_LINE]}, "alert-test-other-line"),
        (
            {"lines.0.generation": "2", "tests": [FRESH | {"generation": "1"}]},
            "alert-test-other-line",
        ),
        ({"lines.0.class": "lightener_powder", "lines.0.product_class": None}, "heat-not-cleared"),
        ({"areas": ["lashes"]}, "hair-colour-near-eye"),
        ({"developer_percent": 20}, "peroxide-over-12"),
        ({"lines": [REGULAR["plan"]["lines"][0], OTHER_LINE]}, "mixed-makers"),
    ],
)
def test_a_changed_plan_holds_what_was_open(change, opened):
    assert reviewed(bent({}))["may_start"]
    reply = reviewed(bent(change))
    assert opened in {f["id"] for f in reply["findings"] if f["group"] == "holds"}
    assert not reply["may_start"]


HEATED = POWDER | {"developer_percent": 9, "heat": "yes", "lines.0.heat_allowed": "yes",
                   "lines.0.scalp_max_percent": 6, "stretch_test": "returns",
                   "persulfate_reaction": "none"}  # fmt: skip


@pytest.mark.parametrize(
    ("decided_on", "rule", "changes"),
    [
        (HEATED, "heat-with-lightener",
         [{"developer_percent": 12}, {"areas": ["lengths"]}, {"lines.0.line": "Quilt"}]),
        (HEATED, "peroxide-on-skin-work", [{"developer_percent": 12}, {"lines.0.line": "Quilt"}]),
        (POWDER | {"stretch_test": "not_done"}, "stretch-not-done",
         [{"heat": "yes"}, {"developer_percent": 9}, {"areas": ["lengths"]}]),
        ({"new_to_client": "yes"}, "strand-not-done",
         [{"lines.0.product_class": "permanent"}, {"developer_percent": 6}, {"heat": "yes"}]),
        ({"scalp": "settled_condition"}, "scalp-condition-settled",
         [{"areas": ["beard"]}, {"developer_percent": 6}, {"lines.0.line": "Quilt"}]),
        ({"black_tattoo": "yes_no_reaction"}, "black-tattoo-no-reaction",
         [{"tests": [FRESH | {"applied_at": "2026-11-22T10:00:00+00:00"}]}]),
        ({"lines.0.leaflet_version": None}, "leaflet-not-loaded", [{"lines.0.line": "Quilt"}]),
    ],
)  # fmt: skip
def test_a_decision_counts_for_what_it_was_taken_on_and_for_nothing_else(decided_on, rule, changes):
    request = decided(bent(decided_on), rule)
    assert found(request)[rule]["group"] == "good_to_know"
    assert found(request)[rule]["decision"]["by"] == "Ana"
    for change in changes:
        changed = bent(decided_on | change) | {}
        changed["plan"]["decisions"] = request["plan"]["decisions"]
        assert found(changed)[rule]["group"] == "needs_decision", change


def test_an_open_decision_is_said_and_a_signed_one_opens_the_service():
    request = bent({"test_masking": "yes", "opened_at": "2026-11-25T09:00:00+00:00"})
    assert "decision-unsigned" in found(request)
    signed = reviewed(decided(request, "alert-test-masked"))
    assert signed["may_start"]
    assert "decision-unsigned" not in {finding["id"] for finding in signed["findings"]}


def test_a_line_is_decided_on_once_and_not_at_each_visit():
    request = bent({"lines.0.leaflet_version": None, "opened_at": "2026-11-25T09:00:00+00:00"})
    request = decided(request, "leaflet-not-loaded", at="2026-06-01T09:00:00+00:00")
    assert reviewed(request)["may_start"]


def test_a_test_dab_may_be_put_on_while_its_service_is_held():
    held = {"tests": [], "scalp": "irritated", "gloves": "yes"}
    assert not reviewed(bent(held))["may_start"]
    assert reviewed(bent(held | {"purpose": "test_dab", "grams": 4}))["may_start"]
    assert reviewed(bent(held | {"purpose": "swatch", "grams": 10}))["may_start"]


def test_a_hold_that_comes_while_the_mix_is_on_says_rinse():
    on = {"moment": "live", "started_at": "2026-11-25T10:05:00+00:00"}
    assert not reviewed(bent(on))["rinse_now"]
    reply = reviewed(bent(on | {"colour_reaction": "mild"}))
    assert reply["rinse_now"]
    (reaction,) = (f for f in reply["findings"] if f["id"] == "past-colour-reaction")
    assert reaction["next"].startswith("The mix is on: rinse it off now.")


def test_gloves_and_air_hold_the_clock_and_not_the_recipe():
    reply = reviewed(bent({"gloves": "no"}))
    assert (reply["may_mix"], reply["may_start"]) == (True, False)
    assert reviewed(bent({"gloves": "yes"}))["may_mix"]


def test_what_closes_most_is_asked_first():
    questions = reviewed(REGULAR | {"facts": {}})["questions"]
    skippable = [question["may_skip"] for question in questions]
    assert skippable == sorted(skippable), "what a stop waits for comes before the rest"
    closing = [len(question["closes"]) for question in questions if not question["may_skip"]]
    assert closing[0] >= 2
    assert all(question["words"] for question in questions)
