"""A written case for every safety rule: where it fires, where it is silent, where it must ask.

The outside check of each is the text named in `source`, as read or remembered when the rule
was written: (V) read in a stored copy, (M) from memory, (T) trade pages only, no published
source, (D) own design. The cases restate those texts; they are not drawn from rules.toml.
"""

from typing import NamedTuple

from safety_asking import FRESH, GONE, REGULAR, at

NEW_TEST = {"line": "Still", "applied_at": "2026-11-23T10:00:00+00:00"}
LIGHTENER = {
    "lines.0": {
        "line": "Lark",
        "class": "lightener_powder",
        "leaflet_version": "1",
        "labelled": "yes",
        "label_caution": "yes",
        "max_minutes": 45,
        "scalp_max_percent": 6,
    },
    "developer_percent": 6,
    "heat": "no",
    "zones": ["regrowth"],
    "persulfate_reaction": "none",
    "stretch_test": "returns",
    "strand_test": "pass",
    "air": "open",
    "tests.0.line": "Lark",
    "tests.0.site": GONE,
}
LASH = {
    "lines.0.cleared_for_lashes": "yes",
    "areas": ["lashes"],
    "developer_percent": 3,
    "on_head_percent": 1.5,
}
LIVE = {"moment": "live", "started_at": "2026-11-25T10:05:00+00:00"}
AFTER = {"moment": "after"}
DAB = {"purpose": "test_dab", "grams": 4}
NO_AGE = {"eighteen_or_over": GONE}
UNSAYABLE = {"eighteen_or_over": "unknown", "sixteen_or_over": "unknown"}


class Case(NamedTuple):
    """Changes to a regular's request that make the rule fire, stay silent and ask.

    `missing` is the reason in words where none of the rule's facts can be missing.
    """

    source: str
    fires: dict
    silent: dict
    missing: dict | str
    profile: str = "uk"


CASES = {
    # The skin alert test
    "leaflet-not-loaded": Case(
        "MAKER (D: the leaflet in the box)",
        {"lines.0.leaflet_version": GONE}, {}, {"lines.0.leaflet_version": GONE},
    ),
    "alert-test-missing": Case(
        "FDA-QA (V: every time, salons too)", {"tests": []}, {},
        {"tests": [], "lines.0.product_class": "direct", "lines.0.test": GONE},
    ),
    "alert-test-too-soon": Case(
        "UK-AAT (V: at least 48 h before)",
        at(applied_at="2026-11-23T10:15:01+00:00"), {}, {"seen_until": "2026-11-25T12:00:00+00:00"},
    ),
    "alert-test-unread": Case(
        "FDA-QA (V: leave two days, a rash means do not use)",
        at(result="not_read"), {}, "a test nobody has read is just what it speaks of",
    ),
    "alert-test-reacted": Case(
        "FDA-QA (V: a rash means do not use)", at(result="itch"), {},
        "a result is always one of the list; not read is alert-test-unread",
    ),
    "alert-test-lapsed": Case(
        "UK-AAT (V: again every 6 months)",
        at(applied_at="2026-05-24T10:00:00+00:00", read_at="2026-05-26T10:00:00+00:00"), {},
        at(used_before=None),
    ),
    "alert-test-other-line": Case(
        "UK-AAT (V: again on change of product, brand or maker)", at(line="Quilt"), {},
        "a test always names its line",
    ),
    "alert-test-client-changed": Case(
        "UK-AAT-2 (V: allergy may appear after years)", {"change_since_test": "yes"}, {},
        {"change_since_test": "unknown"},
    ),
    "alert-test-masked": Case(
        "DERM-PT (V: abstract)", {"test_masking": "yes"}, {}, {"test_masking": GONE},
    ),
    "alert-test-method": Case(
        "SCCP-07 (V: self-tests differ widely)", at(site="behind the ear"), {}, at(site=None),
    ),
    "alert-test-self-done": Case(
        "SCCS-19 (V: false negatives)", at(applied_by="client"), {}, at(applied_by="unknown"),
    ),
    "alert-test-two-lines": Case(
        "UK-AAT (V: one site per product, numbered)",
        {"tests": [FRESH, NEW_TEST | {"line": "Quilt"}, NEW_TEST | {"line": "Lark"}]}, {},
        "tests on file are counted, none of them can be missing",
    ),
    "alert-test-clear-limits": Case(
        "SCCS-19 (V: moderate sensitivity)", {}, {"tests": []},
        "it is silent unless every test was read as clear",
    ),
    "alert-test-under-16": Case(
        "UK-AAT (V: no test under 16)", DAB | {"age_years": 15}, DAB, DAB | NO_AGE,
    ),
    "lightener-not-under-cover": Case(
        "BURN-SYD (V for the harm, T for the practice)", LIGHTENER | DAB, DAB,
        "the class is always given",
    ),
    # Allergy and earlier reactions
    "past-colour-reaction": Case(
        "NHS-DYE (V: after even a mild reaction)", {"colour_reaction": "mild"}, {},
        {"colour_reaction": "unknown"},
    ),
    "black-tattoo-reacted": Case(
        "PPD-TATTOO (V)", {"black_tattoo": "yes_reaction"}, {}, {"black_tattoo": GONE},
    ),
    "black-tattoo-no-reaction": Case(
        "UK-TATTOO (V: may still become allergic)", {"black_tattoo": "yes_no_reaction"}, {},
        {"black_tattoo": GONE},
    ),
    "dye-allergy-known": Case(
        "PPD-REV (V: cross-sensitising)", {"dye_allergy": "suspected"}, {}, {"dye_allergy": GONE},
    ),
    "persulfate-reaction-past": Case(
        "PERS-76 (V)", LIGHTENER | {"persulfate_reaction": "skin"}, LIGHTENER,
        LIGHTENER | {"persulfate_reaction": GONE},
    ),
    "client-asthma-near-powder": Case(
        "HSE-COSHH (V: dusty persulphates can cause asthma)", LIGHTENER | {"asthma": "yes"},
        {"asthma": "yes"}, LIGHTENER,
    ),
    "history-not-asked": Case(
        "EU-LABEL (V: the label's questions)", {"face_rash": GONE}, {}, {"face_rash": GONE},
    ),
    # Age and consent
    "under-16-sensitiser": Case(
        "EU-LABEL (V: not meant for under-16s)", {"age_years": 15}, {"age_years": 16}, NO_AGE,
    ),
    "under-16-lightener": Case(
        "BURN-FR (V: a 15-year-old's burn)", LIGHTENER | {"age_years": 15}, LIGHTENER,
        LIGHTENER | NO_AGE,
    ),
    "guardian-consent-missing": Case(
        "LAW-CONSENT (M)", {"age_years": 17}, {"age_years": 17, "guardian_consent": "yes"}, NO_AGE,
    ),
    "age-unknown": Case(
        "EU-LABEL (V: the age on the label)", UNSAYABLE | {"could_be_under_18": "yes"},
        UNSAYABLE | {"could_be_under_18": "no"}, UNSAYABLE,
    ),
    # Scalp and skin
    "scalp-not-sound": Case(
        "EU-LABEL (V: sensitive, irritated or damaged scalp)", {"scalp": "irritated"}, {},
        {"scalp": "unknown"},
    ),
    "face-rash": Case("EU-LABEL (V: rash on the face)", {"face_rash": "yes"}, {},
                      {"face_rash": "unknown"}),
    "scalp-condition-settled": Case(
        "EU-LABEL (by extension, no direct source)", {"scalp": "settled_condition"}, {},
        {"scalp": "unknown"},
    ),
    "scalp-not-checked": Case("EU-LABEL (V)", {"scalp": GONE}, {"scalp": "unknown"},
                              {"scalp": GONE}),
    # Oxidant, mix and time
    "mix-not-chosen": Case("HOUSE (D)", {"mix_chosen": False}, {},
                           "whether a mix is chosen is always known"),
    "peroxide-over-12": Case(
        "EU-12 (V: 12 % or 40 volumes)", {"developer_percent": 20}, {"developer_percent": 12},
        {"developer_percent": GONE},
    ),
    "peroxide-on-skin-work": Case(
        "BURN-SYD (V for the harm, T for the 6 %)", LIGHTENER | {"developer_percent": 9}, LIGHTENER,
        LIGHTENER | {"developer_percent": GONE},
    ),
    "peroxide-lash-over-2": Case(
        "EU-12-lash (M)", LASH | {"on_head_percent": 2.1}, LASH | {"on_head_percent": 2},
        LASH | {"on_head_percent": GONE, "developer_percent": GONE},
    ),
    "ammonia-over-6": Case(
        "EU-NH3 (M)", {"lines.0.nh3_percent": 6.1}, {"lines.0.nh3_percent": 6},
        {"lines.0.labelled": GONE},
    ),
    "dye-limit-unknown": Case("EU-DYE (M)", {"lines.0.labelled": "no"}, {},
                              {"lines.0.labelled": GONE}),
    "mixed-makers": Case(
        "FDA-QA (V: never mix different products)",
        {"lines": [REGULAR["plan"]["lines"][0], REGULAR["plan"]["lines"][0] | {"line": "Quilt"}]},
        {}, "a line that names no other has not been cleared",
    ),
    "over-max-minutes": Case(
        "FDA-QA (V: not longer than directed)",
        LIVE | {"started_at": "2026-11-25T09:55:00+00:00"}, LIVE, {"moment": "live"},
    ),
    "heat-not-cleared": Case(
        "BURN-FR (V: a heat source in every published case)",
        LIGHTENER | {"heat": "yes", "lines.0.heat_allowed": "no"}, LIGHTENER,
        LIGHTENER | {"heat": GONE},
    ),
    "heat-with-lightener": Case(
        "BURN-SYD (V)", LIGHTENER | {"heat": "yes", "lines.0.heat_allowed": "yes"}, LIGHTENER,
        LIGHTENER | {"heat": "unknown", "lines.0.heat_allowed": "yes"},
    ),
    "closed-mix": Case(
        "PEROXIDE-GAS (M)", {},
        {"lines.0.product_class": "direct", "lines.0.sensitiser": "yes", "developer_percent": GONE},
        {"lines.0.product_class": "direct", "lines.0.releases_peroxide": "unknown",
         "developer_percent": GONE},
    ),
    "metal-contact": Case(
        "METAL-BOWL (T)", {}, {"lines.0.product_class": "direct", "developer_percent": GONE},
        {"lines.0.product_class": "direct", "lines.0.releases_peroxide": "unknown",
         "developer_percent": GONE},
    ),
    "rinse-fully": Case(
        "NHS-PREG (V: rinse the scalp)", LIVE | {"planned_minutes": 10}, LIVE, {"moment": "live"},
    ),
    # Hair history and tests on hair
    "metal-untested": Case(
        "METAL-T (T)", {"hair_past": [{"what": "metallic"}]}, {},
        {"hair_past": [{"what": "unknown"}]},
    ),
    "metal-positive": Case(
        "METAL-T (T)", {"hair_past": [{"what": "metallic"}], "metal_test": "fizz"},
        {"hair_past": [{"what": "metallic"}], "metal_test": "clear"},
        {"hair_past": [{"what": "metallic"}], "metal_test": "unknown"},
    ),
    "plant-henna-strand": Case(
        "METAL-T (T)", {"hair_past": [{"what": "plant_henna"}]},
        {"hair_past": [{"what": "plant_henna"}], "strand_test": "pass"},
        {"hair_past": GONE},
    ),
    "stretch-fail": Case("STRETCH-T (T)", {"stretch_test": "gummy"}, {},
                         {"stretch_test": "unknown"}),
    "stretch-not-done": Case(
        "STRETCH-T (T)", LIGHTENER | {"stretch_test": "not_done"}, LIGHTENER,
        LIGHTENER | {"stretch_test": "not_done", "hair_past": [{"what": "unknown"}]},
    ),
    "strand-fail": Case("METAL-T (T)", {"strand_test": "fail"}, {}, {"strand_test": "unknown"}),
    "strand-not-done": Case(
        "NHS-PREG (V for pregnancy, M for the rest)", {"new_to_client": "yes"},
        {"new_to_client": "yes", "strand_test": "pass"}, {"hair_doubt": GONE},
    ),
    "lightener-overlap": Case(
        "TRADE-OVERLAP (T)", LIGHTENER | {"zones": ["lengths"]}, LIGHTENER,
        LIGHTENER | {"zones": []},
    ),
    "hydroxide-then-lightener": Case(
        "TRADE-RELAXER (T)",
        LIGHTENER | {"hair_past": [{"what": "hydroxide_relaxer"}], "strand_test": "not_done"},
        LIGHTENER | {"hair_past": [{"what": "hydroxide_relaxer"}]},
        LIGHTENER | {"hair_past": GONE, "strand_test": "not_done"},
    ),
    "chemical-under-14-days": Case(
        "FDA-14D (M)", {"hair_past": [{"what": "perm", "on": "2026-11-12"}]},
        {"hair_past": [{"what": "perm", "on": "2026-11-11"}]}, {"hair_past": [{"what": "perm"}]},
    ),
    "live-breakage": Case("TRADE-BREAKAGE (T)", LIVE | {"signs": ["breakage"]}, LIVE,
                          LIVE | {"signs": ["unknown"]}),
    # Brows and lashes
    "hair-colour-near-eye": Case(
        "EU-LABEL (V: not for lashes or brows)", {"areas": ["brows"]}, {"areas": ["scalp"]},
        {"areas": ["lashes"]},
    ),
    "lash-product-eu": Case("EU-LASH (V: professional use only)", LASH, {},
                            LASH | {"lines.0.cleared_for_lashes": "unknown"}),
    "lash-product-us": Case(
        "FDA-QA (V: silver nitrate gel the sole listed)", LASH,
        LASH | {"lines.0.listed_lash_gel": "yes"}, LASH | {"lines.0.listed_lash_gel": "unknown"},
        "us",
    ),
    # Health
    "pregnancy-advice": Case("NHS-PREG (V)", {"pregnant": "yes"}, {"pregnant": "no"}, {}),
    "breastfeeding-advice": Case("NHS-PREG (V)", {"breastfeeding": "yes"},
                                 {"breastfeeding": "no"}, {}),
    "chemo-in-treatment": Case("CHEMO-IN (V)", {"chemo": "in_treatment"}, {}, {"chemo": GONE}),
    "chemo-recent": Case(
        "CHEMO-6 (V: about 6 months)", {"chemo": "ended", "chemo_ended_months": 5},
        {"chemo": "ended", "chemo_ended_months": 6}, {"chemo": "ended"},
    ),
    # Live signs
    "signs-anaphylaxis": Case("NHS-ANA (V)", LIVE | {"signs": ["dizzy", "hives"]},
                              LIVE | {"signs": ["hives"]}, LIVE | {"signs": ["unknown"]}),
    "signs-fast-itch": Case("PERS-76 (V)", LIVE | {"signs": ["itch"]}, LIVE,
                            "a sign nobody can name counts as this one"),
    "signs-mild-tingle": Case(
        "BURN-DK (V for the harm; the 2 minutes are our own)", LIVE | {"signs": ["mild_tingle"]},
        LIVE | {"signs": ["burning"]}, LIVE | {"signs": ["mild_tingle"]},
    ),
    "signs-scalp-pain": Case(
        "BURN-DK (V: both cut short by pain)", LIVE | {"signs": ["burning"]}, LIVE,
        LIVE | {"signs": ["mild_tingle"]},
    ),
    "signs-hot-foil": Case("BURN-SYD (V)", LIVE | {"signs": ["hot_foil"]}, LIVE,
                           LIVE | {"signs": ["unknown"]}),
    "signs-eye": Case("EYE-20 (V: at least 20 min)", LIVE | {"signs": ["eye_splash"]}, LIVE,
                      LIVE | {"signs": ["unknown"]}),
    "signs-later": Case("NHS-DYE (V)", AFTER | {"signs_later": ["itch"]}, AFTER,
                        "nothing was told until something is"),
    # The worker
    "gloves-not-on": Case("HSE-SKIN (V)", {"gloves": "no"}, {}, {"gloves": GONE}),
    "hands-care": Case("HSE-SKIN (V)", AFTER, {}, "it is shown after every service"),
    "worker-skin-signs": Case("HSE-SKIN (V)", {"worker_skin": "signs"}, {},
                              {"worker_skin": "unknown"}),
    "worker-wheeze": Case("PERS-OCC (V)", {"worker_breathing": "signs"}, {},
                          {"worker_breathing": "unknown"}),
    "worker-dye-allergy": Case("PPD-REV (V: hairdressers at high risk)",
                               {"worker_dye_allergy": "yes"}, {},
                               {"worker_dye_allergy": "unknown"}),
    "air-poor": Case("HSE-COSHH (V: keep the place airy)", LIGHTENER | {"air": "poor"}, LIGHTENER,
                     LIGHTENER | {"air": GONE}),
    # Record, report, privacy
    "reaction-record-open": Case("EU-SUE (V)", {"reaction_record": "open"},
                                 {"reaction_record": "complete"}, {"reaction_record": "unknown"}),
    "report-eu": Case("EU-SUE (V: Article 23)", AFTER | {"outcome": ["hospital"]}, AFTER,
                      AFTER | {"outcome": ["unknown"]}, "eu"),
    "report-uk": Case("UK-RIDDOR (V: councils' pages)", AFTER | {"outcome": ["hospital"]}, AFTER,
                      AFTER | {"outcome": ["unknown"]}),
    "report-us": Case("MOCRA (V: lasting rash and hair loss too)",
                      AFTER | {"outcome": ["hair_loss"]}, AFTER,
                      AFTER | {"outcome": ["unknown"]}, "us"),
    "health-note-minimal": Case("GDPR (M)", {"health_note": "yes"}, {"health_note": "no"}, {}),
    "health-basis-missing": Case("GDPR (M)", AFTER | {"health_kept": "yes"},
                                 AFTER | {"health_kept": "yes", "health_basis": "consent"}, AFTER),
    "retention-due": Case("UK-AAT (V: 6 years, one insurer's)", AFTER | {"record_age_months": 72},
                          AFTER | {"record_age_months": 71}, AFTER),
    "decision-unsigned": Case("HOUSE (D)", {"test_masking": "yes"}, {},
                              "whether a decision is open is always known"),
    # United States differences
    "us-test-each-time": Case("FDA-QA (V: every time)", at(used_before="yes"), {},
                              at(used_before="unknown"), "us"),
    "us-caution-missing": Case("FDA-LAW (V as summary)", {"lines.0.label_caution": "no"}, {},
                               {"lines.0.label_caution": GONE}, "us"),
    "us-licence-scope": Case("OR-BOARD (V)", {}, {"state_board_set": "yes"},
                             {"state_board_set": "unknown"}, "us"),
}  # fmt: skip
