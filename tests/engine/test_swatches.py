"""What swatches teach: the fit against linear algebra, the plan against trying all, and faults.

References: numpy's solver over every set of unknowns held at zero; every pair of swatches weighed;
tubes whose dyes are known because the test chose them.
"""

import itertools
import random

import msgspec
import numpy as np
import pytest
from asking import asked, described
from swatch_bench import TUBE, Tube, put_wrong

from basinside.contract.hair import Hair, HairReading, Sure
from basinside.contract.judgements import Reading
from basinside.contract.mixes import Mix, Part
from basinside.contract.products import Dyes, Product
from basinside.contract.swatches import CalibrationRequest, Swatch
from basinside.engine.colour.difference import delta_e_2000
from basinside.engine.door import answer
from basinside.engine.hair.head import head_of
from basinside.engine.hair.reading import bare_lab
from basinside.engine.swatches.calibrate import calibrate
from basinside.engine.swatches.matrices import bounded_minimum, inverse
from basinside.engine.swatches.teach import (
    chosen,
    expected_of,
    lessons_of,
    mean_information,
    taught,
)
from basinside.engine.swatches.unknowns import unknowns_of
from basinside.engine.timing.bowl import bowl_of
from basinside.engine.timing.development import Development


def shelf(**changed):
    tube = described(id="tube", tone=["beige"], **changed)
    return [tube, described(id="other", tone=["violet"]), described(id="clear", tone=["clear"])]


def swatch(name="w", parts=(("tube", 12.0),), minute=20, dried=(62.0, 3.0, 6.0), **changed):
    return {
        "id": name,
        "hair": {"reading": {"lab": [81, 1, 19], "state": "dry"}},
        "mix": {"parts": [{"product": p, "grams": g} for p, g in parts], "minutes": minute},
        "after": {"minute": minute, "where": "dried", "source": "instrument", "lab": list(dried)},
        **changed,
    }


def refused(question, body):
    reply = answer(question, msgspec.json.encode(body))
    assert reply.status == 422, reply.body
    return {e["pointer"]: e["message"] for e in msgspec.json.decode(reply.body)["errors"]}


def test_least_squares_with_zeros_are_the_best_of_all_sets_of_zeros():
    rng = np.random.default_rng(5)
    for _ in range(60):
        n = int(rng.integers(2, 7))
        columns = rng.standard_normal((n + 2, n))
        matrix = columns.T @ columns + 0.05 * np.eye(n)
        aim = rng.standard_normal(n) * 2
        bounded = [bool(b) for b in rng.random(n) < 0.7]
        best = min(
            (
                (0.5 * x @ matrix @ x - aim @ x)
                for held in itertools.product([False, True], repeat=n)
                if all(b or not h for h, b in zip(held, bounded, strict=True))
                for x in [_with_held(matrix, aim, held)]
                if all(v >= -1e-12 or not b for v, b in zip(x, bounded, strict=True))
            ),
        )
        x = np.array(bounded_minimum(matrix.tolist(), aim.tolist(), bounded))
        assert all(v >= 0 or not b for v, b in zip(x, bounded, strict=True))
        assert 0.5 * x @ matrix @ x - aim @ x == pytest.approx(best, abs=1e-9)


def _with_held(matrix, aim, held):
    free = [i for i, h in enumerate(held) if not h]
    x = np.zeros(len(aim))
    if free:
        x[free] = np.linalg.solve(matrix[np.ix_(free, free)], aim[free])
    return x


def test_an_inverse_is_numpys():
    rng = np.random.default_rng(6)
    columns = rng.standard_normal((9, 7))
    matrix = columns.T @ columns
    assert np.allclose(inverse(matrix.tolist()), np.linalg.inv(matrix))


def test_what_a_swatch_leaves_unsure_is_what_the_normal_equations_say():
    """Σ⁻¹ after is Σ⁻¹ before plus JᵀJ: the information of independent readings adds up."""
    tube = Tube(0)
    unknowns = unknowns_of(tube.shelf, [], [TUBE])
    before = np.diag([sd * sd for sd in unknowns.sd])
    lesson = lessons_of(tube.candidates, unknowns, unknowns.mean)[3]
    slopes = np.zeros((3, len(before)))
    slopes[:, list(lesson.places)] = lesson.in_deviations
    after = np.linalg.inv(np.linalg.inv(before) + slopes.T @ slopes)
    assert np.allclose(taught(lesson, before.tolist()), after)


def test_two_swatches_chosen_one_by_one_teach_nearly_what_the_best_pair_does():
    for number in (0, 3, 5):
        tube = Tube(number)
        unknowns = unknowns_of(tube.shelf, [], [TUBE])
        before = [
            [sd * sd if i == j else 0.0 for j in range(len(unknowns.sd))]
            for i, sd in enumerate(unknowns.sd)
        ]
        lessons = lessons_of(tube.candidates, unknowns, unknowns.mean)
        information = mean_information(lessons, len(before))
        best = min(
            expected_of(taught(second, taught(first, before)), information)
            for first, second in itertools.combinations_with_replacement(lessons, 2)
        )
        greedy = chosen(lessons, before, 2)[-1].expected
        assert best <= greedy <= 1.2 * best


def exact(name, products, parts, minute, level):
    """Paint hair of exactly this level and read it exactly, with the products as given."""
    hair = Hair(level=level, damp=0.0, sure=Sure(0, 0, 0, 0, 0))
    head, mix = head_of(hair), Mix([Part(p, g) for p, g in parts], minute)
    bowl = bowl_of(mix, {p.id: p for p in products})
    lab = Development(bowl).if_rinsed(head, minute)
    read = HairReading(bare_lab(head, "dry"), "dry", 0.05)
    return Swatch(
        id=name,
        hair=msgspec.structs.replace(hair, level=None, sure=Sure(), reading=read),
        mix=mix,
        after=Reading(minute, "dried", "instrument", lab=lab, sd=0.05),
    )


def true_and_told():
    """Return two tubes as their labels say, and as they truly are, with another speed."""
    told = msgspec.convert(shelf(), list[Product])
    dyes = (
        Dyes(yellow=0.1, red=0.2, violet=0.6, blue=0.9),
        Dyes(orange=0.1, violet=1.1, blue=0.25),
    )
    true = [
        msgspec.structs.replace(product, dyes=dye, rate=0.8)
        for product, dye in zip(told, dyes, strict=False)
    ]
    return told, [*true, told[2]]


def missed(told, true, parts):
    shelves = [{p.id: p for p in products} for products in (told, true)]
    found = []
    for level, minute in ((8.5, 7), (9.5, 12), (10.2, 20)):
        head = head_of(Hair(level=level, damp=0.0))
        mix = Mix([Part(p, g) for p, g in parts], minute)
        labs = [Development(bowl_of(mix, s)).if_rinsed(head, minute) for s in shelves]
        found.append(delta_e_2000(*labs))
    return max(found)


def test_exact_swatches_bring_back_the_tube_and_its_speed():
    told, true = true_and_told()
    swatches = [
        exact(f"w{i}", true, [("tube", 12.0)], minute, level)
        for i, (level, minute) in enumerate(itertools.product((8, 9, 10), (5, 10, 20)))
    ]
    reply = calibrate(CalibrationRequest(told, swatches))
    learnt = reply.products[0]
    assert missed(told, true, [("tube", 1.0)]) > 3
    assert missed(reply.products, true, [("tube", 1.0)]) < 0.3
    assert learnt.rate == pytest.approx(0.8, abs=0.05)
    assert learnt.known.swatches == 9
    # the other tube of the line was never painted: it shares the speed alone
    assert reply.products[1].rate == learnt.rate
    assert reply.products[1].dyes is None
    assert not reply.products[1].known


def test_a_mix_of_two_products_teaches_both():
    told, true = true_and_told()
    shares = ((6, 6), (9, 3), (3, 9))
    swatches = [
        exact(f"w{i}", true, [("tube", a), ("other", b)], minute, level)
        for i, ((a, b), (level, minute)) in enumerate(
            itertools.product(shares, ((8, 20), (9, 8), (10, 14), (10, 20)))
        )
    ]
    learnt = calibrate(CalibrationRequest(told, swatches)).products
    for alone in ("tube", "other"):
        before, after = (missed(shelf, true, [(alone, 1.0)]) for shelf in (told, learnt))
        assert after < before / 3


def test_the_same_swatches_sent_again_with_what_they_taught_teach_the_same():
    tube = Tube(1)
    swatches = tube.bench(tube.planned(4), 0.5)
    once = tube.learnt(swatches)
    again = calibrate(CalibrationRequest(once.products, swatches))
    assert again.products == once.products
    assert again.fits == once.fits


def test_a_strand_of_known_colour_takes_the_error_out_of_its_picture():
    tube = Tube(2)
    offset, sd = (3.0, -2.0, 2.5), 0.7
    swatches = tube.bench(tube.planned(6), sd)
    in_picture = [in_a_picture(each, offset) for each in swatches]
    bare = swatches[0].hair.reading.lab
    strand = msgspec.structs.replace(
        swatches[0], id="strand", after=Reading(0, "dried", "photo", lab=bare, sd=sd)
    )
    known = in_a_picture(strand, offset)
    plain, grouped = (
        np.median(tube.misses(tube.learnt(these).products))
        for these in (
            [msgspec.structs.replace(s, group=msgspec.UNSET) for s in in_picture],
            [*in_picture, known],
        )
    )
    assert grouped < 0.6 * plain


def in_a_picture(one, offset, group="photo1"):
    lab = tuple(v + o for v, o in zip(one.after.lab, offset, strict=True))
    after = msgspec.structs.replace(one.after, lab=lab, source="photo")
    return msgspec.structs.replace(one, after=after, group=group)


def test_a_swatch_read_wrong_is_named_and_hardly_counts():
    tube, rng = Tube(4), random.Random(4)
    swatches = tube.bench(tube.planned(8), 0.5)
    swatches[3] = put_wrong(swatches[3], 15, rng)
    fits = tube.learnt(swatches).fits
    assert [fit.odd for fit in fits] == [i == 3 for i in range(8)]
    assert fits[3].weight < 0.1
    assert fits[3].words.startswith("It hardly fits the others: ")
    assert all(fit.weight > 0.3 and fit.words.startswith("It fits") for fit in fits[:3])


def test_a_client_s_result_moves_the_head_a_lot_and_the_product_a_little():
    tube = Tube(0)
    hair = Hair(level=9.0)
    mix = Mix([Part(TUBE, 30.0)], 15)
    shown = Development(bowl_of(mix, {p.id: p for p in tube.shelf})).if_rinsed(head_of(hair), 15)
    after = Reading(15, "dried", "instrument", lab=(shown[0] - 4, shown[1], shown[2] - 2))
    known = tube.bench(tube.planned(8), 0.5)
    reply = tube.learnt([*known, Swatch(id="client", hair=hair, mix=mix, after=after)])
    split = reply.fits[-1].split
    assert split.head_delta_e > 4 * split.product_delta_e
    assert split.hair.level < 9.0
    assert split.hair.sure.level_sd < hair.sure.level_sd
    assert all(not fit.split for fit in reply.fits[:-1])
    # and as swatch hair, the same reading would move the product
    lab = bare_lab(head_of(hair), "dry")
    loose = msgspec.structs.replace(hair, reading=HairReading(lab, "dry"))
    moved = calibrate(
        CalibrationRequest(tube.shelf, [Swatch(id="a", hair=loose, mix=mix, after=after)])
    )
    assert not moved.fits[0].split


def test_what_is_known_is_used_and_what_is_not_is_answered_as_before():
    tube = Tube(3)
    learnt = tube.learnt(tube.bench(tube.planned(8), 0.5)).products
    question = {"hair": {"level": 9}, "mix": {"parts": [{"product": TUBE, "grams": 9}]}}
    question["mix"]["minutes"] = 14

    def strip(products):
        return asked("predictions", question | {"products": msgspec.to_builtins(products)})

    before, after = strip(tube.shelf), strip(learnt)
    assert before["strip"][14] != after["strip"][14]
    narrower = [s["strip"][14]["if_rinsed"]["range"]["within_delta_e"] for s in (after, before)]
    assert narrower[0] < narrower[1]
    one = [msgspec.structs.replace(p, rate=1.0) for p in tube.shelf]
    assert strip(one) == before
    # faster by a half is as if the hair were faster by a half
    fast = [msgspec.structs.replace(p, rate=1.5) for p in tube.shelf]
    quick = asked(
        "predictions",
        question | {"hair": {"level": 9, "rate": 1.5}, "products": msgspec.to_builtins(tube.shelf)},
    )
    if tube.shelf[0].class_ != "permanent":  # whose lift goes by the head alone
        assert strip(fast)["strip"][14]["if_rinsed"]["lab"] == pytest.approx(
            quick["strip"][14]["if_rinsed"]["lab"]
        )


def test_a_plan_names_what_to_paint_and_expects_less_after_each():
    products = shelf()[::2]
    reply = asked("swatch_plans", {"products": products, "levels": [8, 9, 10], "count": 6})
    expected = [reply["expected_delta_e"], *(s["expected_delta_e"] for s in reply["swatches"])]
    assert expected == sorted(expected, reverse=True)
    assert len(reply["swatches"]) == 6
    for planned in reply["swatches"]:
        assert planned["level"] in (8, 9, 10)
        assert 1 <= planned["minutes"] <= 20
        colour = sum(p["grams"] for p in planned["mix"]["parts"] if p["product"] == "tube")
        assert colour == pytest.approx(12 * planned["strength"])
        # what it is to show is what the strip of the same hair and mix shows
        strip = asked(
            "predictions",
            {"hair": planned["hair"], "mix": planned["mix"], "products": products},
        )["strip"]
        shown = strip[planned["minutes"]]["if_rinsed"]
        assert shown["lab"] == pytest.approx(planned["predicted"]["lab"])
        assert shown["words"] == planned["predicted"]["words"]


def test_a_swatch_of_clear_alone_is_read_and_teaches_nothing():
    alone = [swatch(parts=[("clear", 12)], dried=(80.5, 1, 19))]
    reply = asked("calibrations", {"products": shelf(), "swatches": alone})
    assert not any("known" in p or "rate" in p for p in reply["products"])
    assert not reply["fits"][0]["odd"]
    assert reply["next_swatches"] == []


@pytest.mark.parametrize(
    ("spoilt", "place", "says"),
    [
        ({"parts": [("gone", 12)]}, "/swatches/0/mix/parts/0/product", "“gone”"),
        ({"minute": 45}, "/swatches/0/mix/minutes", "20 minutes at most"),
        ({"minute": 45}, "/swatches/0/after/minute", "20 minutes at most"),
        (
            {"after": {"minute": 9, "where": "wiped", "source": "eye", "lab": [60, 1, 1]}},
            "/swatches/0/after/where",
            "rinsed and dried",
        ),
        (
            {"after": {"minute": 9, "where": "dried", "source": "eye", "words": "pinker"}},
            "/swatches/0/after/lab",
            "no measured colour",
        ),
        ({"hair": {}}, "/swatches/0/hair/level", "level"),
        ({"hair": {"level": 9}, "of": "swatch_hair"}, "/swatches/0/hair/reading", "bare end"),
        (
            {"hair": {"level": 9, "also": [{"hair": {"level": 9}, "share": 0.3, "name": "ends"}]}},
            "/swatches/0/hair/also",
            "one piece of hair",
        ),
    ],
)
def test_a_swatch_that_cannot_be_is_refused_with_its_place(spoilt, place, says):
    one = swatch(**spoilt)
    for question, more in (("calibrations", {}), ("swatch_plans", {"levels": [9], "count": 2})):
        faults = refused(question, {"products": shelf(), "swatches": [one], **more})
        assert says in faults[place]


def test_two_swatches_of_one_name_and_a_plan_of_clear_alone_are_refused():
    faults = refused("calibrations", {"products": shelf(), "swatches": [swatch(), swatch()]})
    assert list(faults) == ["/swatches/1/id"]
    clear = {"products": shelf()[2:], "levels": [9], "count": 1}
    assert "nothing to learn" in refused("swatch_plans", clear)["/products"]


def test_more_products_than_one_fit_takes_are_refused():
    many = [described(id=f"t{i}", tone=["beige"]) for i in range(41)]
    plan = {"products": many, "levels": [9], "count": 1}
    assert "one line at a time" in refused("swatch_plans", plan)["/products"]
    swatches = [swatch(f"w{i}", parts=[(f"t{i}", 12)]) for i in range(41)]
    assert list(refused("calibrations", {"products": many, "swatches": swatches})) == ["/swatches"]


def test_a_known_product_whose_correlations_cannot_be_is_refused():
    sds = {"violet": 0.1, "blue": 0.1}
    for wrong in ([0.5], [1, 1, -1], [0.1] * 6):
        known = {"dyes_sd": sds, "rate_sd": 0.1, "swatches": 3, "correlations": wrong}
        body = {"products": shelf(known=known, dyes={"violet": 0.3}), "levels": [9], "count": 1}
        assert list(refused("swatch_plans", body)) == ["/products/0/known/correlations"]


def test_how_well_a_reading_is_known_counts_in_a_judgement_too():
    question = {
        "hair": {"level": 9},
        "mix": {"parts": [{"product": "tube", "grams": 30}], "minutes": 15},
        "products": shelf(),
        "wish": {"level": 9, "tone": ["beige"]},
    }
    reading = {"minute": 6, "where": "wiped", "source": "photo", "lab": [45, 9, 20]}

    def level_sd(**more):
        judged = asked("judgements", question | {"readings": [reading | more]})
        return judged["hair"]["sure"]["level_sd"]

    assert level_sd(sd=0.5) < level_sd() == level_sd(sd=4)
    word = {"minute": 6, "where": "wiped", "source": "eye", "words": "pinker", "sd": 1}
    assert list(refused("judgements", question | {"readings": [word]})) == ["/readings/0/sd"]
