"""Judging at the basin: what a reading says of a head, in which direction, and how surely."""

import json
import random
from math import erfc, hypot, sqrt

import pytest
from asking import asked, seen
from simulated import services

from basinside.contract.judgements import Reading
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.door import answer
from basinside.engine.hair.head import head_of
from basinside.engine.hair.unsure import moved, spread_of
from basinside.engine.judgement.belief import described_as, updated
from basinside.engine.judgement.evidence import (
    WORD_FROM,
    WORD_SD,
    Sighting,
    look_of,
    towards,
)
from basinside.engine.timing.doubt import SOURCE_SD
from basinside.service.http.document import examples

REQUEST = next(iter(examples.JUDGEMENTS.values()))
LOOKS = {"on_head": "on_head", "wiped": "wiped", "dried": "if_rinsed"}
# what each word says of a colour: the larger, the more so
SAID_OF = {
    "pinker": lambda lab: lab[1],
    "yellower": lambda lab: lab[2],
    "greener": lambda lab: -lab[1],
    "more_violet": lambda lab: -lab[2],
    "greyer": lambda lab: -hypot(lab[1], lab[2]),
    "darker": lambda lab: -lab[0],
    "lighter": lambda lab: lab[0],
}


def judged(*readings, **changed):
    return asked("judgements", REQUEST | changed | {"readings": list(readings)})


def by_eye(word, minute=7, where="wiped"):
    return {"minute": minute, "where": where, "source": "eye", "words": word}


def measured(lab, minute=7, where="wiped", source="instrument"):
    return {"minute": minute, "where": where, "source": source, "lab": lab}


def predicted(hair=REQUEST["hair"]):
    """Return the strip and window that predictions give for a hair."""
    body = {name: REQUEST[name] for name in ("mix", "products", "wish")}
    return asked("predictions", body | {"hair": hair})


def refused(request):
    reply = answer("judgements", json.dumps(request).encode())
    assert reply.status == 422
    return {error["pointer"]: error["message"] for error in json.loads(reply.body)["errors"]}


@pytest.mark.parametrize("where", LOOKS)
@pytest.mark.parametrize("word", SAID_OF)
def test_a_word_moves_the_look_it_was_said_of_its_own_way(word, where):
    shown = seen(predicted()["strip"], LOOKS[where])[7]
    strip = judged(by_eye(word, where=where))["strip"]
    moved_by = SAID_OF[word](seen(strip, LOOKS[where])[7]) - SAID_OF[word](shown)
    # the product hides most of what a wiped strand shows
    assert moved_by > (0.2 if where == "wiped" else 0.05)


def test_as_shown_moves_nothing_and_makes_surer():
    before = predicted()["strip"]
    after = judged(by_eye("as_shown"))["strip"]
    for minute in (0, 7, 14, 20):
        was, is_now = before[minute]["if_rinsed"], after[minute]["if_rinsed"]
        assert delta_e_2000(was["lab"], is_now["lab"]) < 0.1
    assert (
        after[14]["if_rinsed"]["range"]["within_delta_e"]
        < 0.8 * before[14]["if_rinsed"]["range"]["within_delta_e"]
    )


def test_patchy_is_uneven_product_and_leaves_the_strip_alone():
    reply = judged(by_eye("patchy"))
    for mine, theirs in zip(reply["strip"], predicted()["strip"], strict=True):
        for look in LOOKS.values():
            assert mine[look]["lab"] == pytest.approx(theirs[look]["lab"], abs=1e-9)
            within = theirs[look]["range"]["within_delta_e"]
            assert mine[look]["range"]["within_delta_e"] == pytest.approx(within, abs=1e-6)
    assert reply["advice"]["do"] == "saturate_again"
    assert reply["surprise"] is None


def test_patchy_at_the_end_of_the_leaflet_is_rinsed():
    assert judged(by_eye("patchy", minute=20))["advice"]["do"] == "rinse"


def test_a_judged_hair_gives_the_same_strip_and_window_as_a_prediction():
    reply = judged(measured([41.5, 7.5, 11.0], source="photo"), by_eye("greyer", minute=9))
    again = predicted(reply["hair"])
    assert again["window"] == reply["window"]
    for mine, theirs in zip(reply["strip"], again["strip"], strict=True):
        for look in LOOKS.values():
            assert mine[look]["lab"] == pytest.approx(theirs[look]["lab"], abs=1e-9)
            within = theirs[look]["range"]["within_delta_e"]
            assert mine[look]["range"]["within_delta_e"] == pytest.approx(within, abs=1e-6)


def test_a_reading_that_is_as_predicted_leaves_the_head_as_described():
    shown = seen(predicted()["strip"], "wiped")[7]
    reply = judged(measured(shown))
    assert reply["this_head"] == "This head does as described."
    for name in ("level", "porosity", "rate", "uptake", "warmth"):
        given = REQUEST["hair"].get(name, 1.0)
        assert reply["hair"][name] == pytest.approx(given, abs=1e-4)


def test_a_better_reading_makes_surer():
    shown = seen(predicted()["strip"], "wiped")[7]
    ranges = [
        judged(measured(shown, source=source))["strip"][14]["if_rinsed"]["range"]["within_delta_e"]
        for source in ("instrument", "photo", "eye")
    ]
    without = predicted()["strip"][14]["if_rinsed"]["range"]["within_delta_e"]
    assert ranges == sorted(ranges)
    assert ranges[-1] < without


def test_a_head_known_exactly_is_not_moved():
    known = dict.fromkeys(
        ("level_sd", "log_warmth_sd", "porosity_sd", "log_rate_sd", "log_uptake_sd"), 0
    )
    # known in everything, and its tube too: what is left to doubt is the model alone
    hair = REQUEST["hair"] | {"sure": known | {"seen": True}}
    strip = judged(measured([45, 5, 5]), by_eye("darker"), hair=hair)["strip"]
    assert seen(strip, "if_rinsed") == seen(predicted(hair)["strip"], "if_rinsed")


def test_a_level_stays_within_what_hair_can_be():
    hair = {"level": 10.4, "porosity": 0.6}
    bright = seen(predicted(hair)["strip"], "wiped")[7]
    reply = judged(measured([bright[0] + 8, bright[1], bright[2]]), hair=hair)
    assert reply["hair"]["level"] == 10.5
    again = predicted(reply["hair"])["strip"]
    for mine, theirs in zip(
        seen(reply["strip"], "if_rinsed"), seen(again, "if_rinsed"), strict=True
    ):
        assert mine == pytest.approx(theirs, abs=1e-9)


def test_what_is_already_on_the_hair_is_reckoned_with():
    first = {"parts": [{"product": "st9vb", "grams": 40}], "minutes": 4}
    hair = REQUEST["hair"] | {"already_on": [first]}
    shown = seen(predicted(hair)["strip"], "wiped")[7]
    reply = judged(measured(shown), hair=hair)
    assert reply["this_head"] == "This head does as described."
    assert reply["hair"]["already_on"] == [
        {"parts": first["parts"], "minutes": 4, "developer": None}
    ]


DRAWN = 2500


@pytest.mark.parametrize("said", ["photo", "pinker", "darker"])
def test_the_judged_colour_is_that_of_weighted_draws(said):
    """The other way to the same answer: draw heads, weigh each by its likelihood, take the mean.

    Importance sampling (Kloek & van Dijk, Econometrica 46 (1978) 1–19). Of 2,500 draws a few
    hundred count, so their mean is known to about 0.2; the rest is for the mode not being it.
    """
    service = services()[1]
    development, rng = service.development, random.Random(4)
    probe = Reading(7, "wiped", "photo")
    before = described_as(service.hair, head_of(service.hair), lambda head: head)
    shown = look_of(development, head_of(service.hair), probe)
    if said == "photo":
        lab = (shown[0] - 3, shown[1] + 1, shown[2] - 4)
        reading = Reading(7, "wiped", "photo", lab=lab)
    else:
        reading = Reading(7, "wiped", "eye", words=said)

    def likelihood(seen_lab):
        if reading.lab is not None:
            far = sum((p - q) ** 2 for p, q in zip(seen_lab, reading.lab, strict=True))
            return 2.718281828459045 ** (-far / (2 * SOURCE_SD["photo"] ** 2))
        over = (towards(said, shown)(seen_lab) - WORD_FROM) / WORD_SD
        return erfc(-over / sqrt(2)) / 2

    clue = Sighting(reading, shown).evidence(development, before)
    after = updated(before, [clue])
    root, total, mean = spread_of(service.hair.sure), 0.0, [0.0] * 3
    for _ in range(DRAWN):
        normal = [rng.gauss(0, 1) for _ in range(5)]
        steps = [sum(a * z for a, z in zip(row, normal, strict=True)) for row in root]
        head = moved(head_of(service.hair), steps)
        weight = likelihood(look_of(development, head, reading))
        total += weight
        dry = development.if_rinsed(head, service.best_min)
        mean = [m + weight * d for m, d in zip(mean, dry, strict=True)]
    mean = [m / total for m in mean]
    heads = after.heads()
    dry = development.if_rinsed(heads.centre, service.best_min)
    first = development.if_rinsed(head_of(service.hair), service.best_min)
    assert delta_e_2000(dry, tuple(mean)) < 0.4
    assert delta_e_2000(first, tuple(mean)) > 1  # so that it is no small thing to have found


def test_a_reading_says_one_thing():
    both = by_eye("pinker") | {"lab": [50, 5, 5]}
    neither = {"minute": 5, "where": "wiped", "source": "eye"}
    spoken = by_eye("pinker") | {"source": "instrument"}
    places = refused(REQUEST | {"readings": [both, neither, spoken]})
    assert places.keys() == {"/readings/0", "/readings/1", "/readings/2/source"}


def test_correlations_that_contradict_one_another_are_refused():
    # level goes with warmth and with porosity, and these two against each other: no such three
    sure = {"correlations": [0.9, 0.9, -0.9, 0, 0, 0, 0, 0, 0, 0]}
    places = refused(REQUEST | {"hair": REQUEST["hair"] | {"sure": sure}})
    assert places.keys() == {"/hair/sure/correlations"}
