"""Orders of work against every order on a grid of minutes, walked minute by minute.

The walk knows nothing of constraints: it puts a zone on, rinses one or waits a minute, whatever
is open, until no new situation turns up. One round: all zones are on before the first rinse.
"""

import copy
import random

import pytest
from asking import asked
from drawing import seeds

# Every fifth of the cases is a lot, and one lot runs each day.
LOTS, CASES, SEED = 5, 500, 8


class Walk:
    """Every situation that can be reached within windows narrowed, or widened, by a slack."""

    def __init__(self, body, slack):
        self.zones = [
            (z["apply_min"], max(0, z["window"]["earliest"] + slack), z["window"]["latest"] - slack)
            for z in body["zones"]
        ]
        self.hands, self.basin = body["hands"], body["basin_minutes"]
        self.begun = tuple(self._begun(body))
        self.shared = body["rinse"] == "shared"
        self.seen = set()

    def lands(self):
        """Return whether some way of working rinses every zone inside its window."""
        busy = [(left, zone) for zone, (age, left) in enumerate(self.begun) if age == "on"]
        return self._walk(tuple(age for age, _ in self.begun), self._busier(busy))

    @staticmethod
    def _begun(body):
        """Yield each zone's age now, and the minutes it yet takes to put it on."""
        for zone in body["zones"]:
            put_on, now = zone.get("put_on"), body.get("now_min", 0)
            left = put_on and put_on["from_min"] + zone["apply_min"] - now
            if not put_on:
                yield None, 0
            elif "to_min" in put_on:
                yield now - put_on["to_min"], 0
            else:
                yield ("on", left) if left > 0 else (0, 0)

    def _walk(self, ages, busy):
        """`ages`: None not begun, "on" being put on, "out" rinsed, else minutes since it is on.

        `busy`: what each pair of hands at work is doing, as (minutes left, zone or "rinse").
        """
        waiting = [(ages, busy)]
        while waiting:
            situation = waiting.pop()
            if situation in self.seen:
                continue
            self.seen.add(situation)
            ages, busy = situation
            if all(age == "out" for age in ages):
                return True
            if any(
                isinstance(age, int) and age > latest
                for age, (_, _, latest) in zip(ages, self.zones, strict=True)
            ):
                continue
            waiting += self._next(ages, busy)
        return False

    def _next(self, ages, busy):
        yield self._minute_on(ages, busy)
        at_basin = any(what == "rinse" for _, what in busy)
        begun = all(age not in (None, "on") for age in ages)
        if begun and self.shared and self._all_ready(ages):
            yield tuple(["out"] * len(ages)), ()
        for zone, (apply, earliest, latest) in enumerate(self.zones):
            if ages[zone] is None and len(busy) < self.hands:
                yield self._put(ages, zone, "on"), self._busier(busy, (apply, zone))
            elif (
                begun
                and not self.shared
                and not at_basin
                and isinstance(ages[zone], int)
                and earliest <= ages[zone] <= latest
            ):
                rinsed = self._put(ages, zone, "out")
                yield rinsed, self._busier(busy, (self.basin, "rinse")) if self.basin else busy

    def _all_ready(self, ages):
        return all(
            earliest <= age <= latest
            for age, (_, earliest, latest) in zip(ages, self.zones, strict=True)
        )

    def _minute_on(self, ages, busy):
        ages = [age + 1 if isinstance(age, int) else age for age in ages]
        still = []
        for left, what in busy:
            if left > 1:
                still.append((left - 1, what))
            elif what != "rinse":
                ages[what] = 0
        return tuple(ages), tuple(still)

    @staticmethod
    def _put(ages, zone, state):
        return (*ages[:zone], state, *ages[zone + 1 :])

    @staticmethod
    def _busier(busy, *more):
        return tuple(sorted((*busy, *more), key=str))


def drawn(rng):
    """Return a request: mostly few zones and short windows, all kinds of hands and rinse."""
    count = rng.choice([1, 2, 2, 3, 3, 3, 3, 4, 4, 5])
    # the walk's situations grow as windows to the power of zones
    latest_start, widest = {4: (6, 3), 5: (4, 2)}.get(count, (9, 6))
    zones = []
    for place in range(count):
        earliest = rng.randint(0, latest_start)
        latest = earliest + rng.randint(0, widest)
        zones.append(
            {
                "name": f"zone {place}",
                "window": {
                    "earliest": earliest,
                    "best": rng.randint(earliest, latest),
                    "latest": latest,
                },
                "apply_min": rng.randint(1, 5),
            }
        )
    return {
        "zones": zones,
        "hands": rng.randint(1, 2),
        "basin_minutes": rng.randint(0, 4),
        "rinse": rng.choice(["separate", "separate", "shared"]),
    }


def in_lot(lot, seed, draw):
    """Return the cases of a lot."""
    rng = random.Random(seed)
    return [draw(rng) for _ in range(CASES)][lot::LOTS]


@pytest.mark.parametrize("lot", seeds(LOTS, parts=LOTS))
def test_no_order_on_any_minute_has_more_slack_or_a_smaller_miss(lot):
    possible = impossible = 0
    for body in in_lot(lot, SEED, drawn):
        reply = asked("schedules", body)
        if reply["slack_min"] is not None:
            possible += 1
            check_steps(body, reply)
            assert Walk(body, reply["slack_min"]).lands(), body
            assert not Walk(body, reply["slack_min"] + 1).lands(), body
            continue
        impossible += 1
        assert not Walk(body, 0).lands(), body
        if len(body["zones"]) <= 3:  # wide windows are a long walk
            miss = max(miss["by_min"] for miss in reply["impossible"])
            assert Walk(body, -miss).lands(), body
            assert not Walk(body, 1 - miss).lands(), body
    assert min(possible, impossible) > CASES / LOTS / 5  # or this would prove little


def under_way(rng):
    """Return drawn work of which some is done. Who did it followed a plan, or none."""
    body = drawn(rng)
    now = body["now_min"] = rng.randint(0, 8)
    hands = body["hands"]
    for zone in rng.sample(body["zones"], rng.randint(1, len(body["zones"]))):
        first = rng.randint(0, now)
        zone["put_on"] = {"from_min": first}
        if hands and rng.random() < 0.4:
            hands -= 1
        else:
            zone["put_on"]["to_min"] = rng.randint(first, now)
    return body


@pytest.mark.parametrize("lot", seeds(LOTS, parts=LOTS))
def test_work_under_way_has_as_much_slack_as_any_walk_from_there(lot):
    possible = impossible = 0
    for body in in_lot(lot, SEED + 3, under_way):
        reply = asked("schedules", body)
        on = {step["zone"]: step for step in reply["steps"] if step["do"] == "apply"}
        rinses = {step["zone"]: step for step in reply["steps"] if step["do"] == "rinse"}
        for zone in body["zones"]:
            put_on = zone.get("put_on", {})
            assert (zone["name"] in on) == ("to_min" not in put_on)
            if not put_on:
                assert on[zone["name"]]["starts_min"] >= body["now_min"]
            elif "to_min" not in put_on:
                assert on[zone["name"]]["starts_min"] == put_on["from_min"]
        assert rinses.keys() == {zone["name"] for zone in body["zones"]}
        for zone in body["zones"]:
            rinse, window = rinses[zone["name"]], zone["window"]
            developed = rinse["developed_min"]
            room = min(developed - window["earliest"], window["latest"] - developed)
            assert rinse["slack_min"] == room
            on_at = zone.get("put_on", {}).get("to_min")
            on_at = on[zone["name"]]["ends_min"] if on_at is None else on_at
            assert rinse["starts_min"] - on_at == developed
        assert min(step["starts_min"] for step in rinses.values()) >= body["now_min"]
        if reply["slack_min"] is not None:
            possible += 1
            assert Walk(body, reply["slack_min"]).lands(), body
            assert not Walk(body, reply["slack_min"] + 1).lands(), body
            continue
        impossible += 1
        assert not Walk(body, 0).lands(), body
        if len(body["zones"]) <= 3:
            miss = -min(step["slack_min"] for step in rinses.values())
            assert Walk(body, -miss).lands(), body
            assert not Walk(body, 1 - miss).lands(), body
        for miss in reply["impossible"]:
            for mend in miss["mends"]:
                rest, *_ = mended(body, mend)
                assert asked("schedules", rest)["slack_min"] is not None, (mend, body)
    assert min(possible, impossible) > CASES / LOTS / 5  # or this would prove little


def test_a_zone_that_is_on_keeps_its_minutes_and_the_rest_is_put_in_order_around_it():
    body = two_zones(basin_minutes=4, now_min=6)
    roots, ends = body["zones"]
    ends["apply_min"] = 3
    roots["put_on"] = {"from_min": 0, "to_min": 5}
    steps = [(s["do"], s["zone"], s["starts_min"]) for s in asked("schedules", body)["steps"]]
    # each at its best minute, 10: roots, on at 5, first; ends, on at 9, as the basin is free
    assert steps == [("apply", "ends", 6), ("rinse", "roots", 15), ("rinse", "ends", 19)]


def test_a_zone_past_its_window_is_rinsed_first_and_said_to_be_late():
    body = two_zones(basin_minutes=4, now_min=30)
    roots, ends = body["zones"]
    roots["put_on"], ends["put_on"] = ({"from_min": 0, "to_min": at} for at in (10, 20))
    reply = asked("schedules", body)
    assert [step["zone"] for step in reply["steps"]] == ["roots", "ends"]
    assert (reply["slack_min"], reply["steps"][0]["starts_min"]) == (None, 30)
    (miss,) = reply["impossible"]
    assert (miss["zone"], miss["by_min"], miss["direction"]) == ("roots", 8, "too_late")
    assert miss["mends"] == []


def check_steps(body, reply):
    """What is claimed of every step holds by counting minutes."""
    zones = {zone["name"]: zone for zone in body["zones"]}
    on = {step["zone"]: step for step in reply["steps"] if step["do"] == "apply"}
    rinses = {step["zone"]: step for step in reply["steps"] if step["do"] == "rinse"}
    assert on.keys() == rinses.keys() == zones.keys()
    slacks = []
    for name, zone in zones.items():
        assert on[name]["ends_min"] - on[name]["starts_min"] == zone["apply_min"]
        developed = rinses[name]["starts_min"] - on[name]["ends_min"]
        assert rinses[name]["developed_min"] == developed
        window = zone["window"]
        slacks.append(min(developed - window["earliest"], window["latest"] - developed))
        assert rinses[name]["slack_min"] == slacks[-1]
    assert reply["slack_min"] == min(slacks) >= 0
    starts = [(step["starts_min"], step["do"]) for step in reply["steps"]]
    assert [at for at, _ in starts] == sorted(at for at, _ in starts)
    assert max(step["ends_min"] for step in on.values()) <= min(
        step["starts_min"] for step in rinses.values()
    )
    for step in on.values():
        assert step["hands"] <= body["hands"]
        for other in on.values():
            assert other is step or other["hands"] != step["hands"] or apart(step, other)
    for step in rinses.values():
        assert step["ends_min"] - step["starts_min"] == body["basin_minutes"]
        for other in rinses.values():
            if body["rinse"] == "shared":
                assert other["starts_min"] == step["starts_min"]
            else:
                assert other is step or apart(step, other)
    assert reply["total_min"] == max(step["ends_min"] for step in reply["steps"])


def apart(step, other):
    return step["ends_min"] <= other["starts_min"] or other["ends_min"] <= step["starts_min"]


def mended(body, mend):
    """Return the requests that a mend leads to: one, or a round more for each zone taken out."""
    body = copy.deepcopy(body)
    match mend["do"]:
        case "second_hands":
            body["hands"] = 2
        case "rinse_shared" | "rinse_separate":
            body["rinse"] = mend["do"].removeprefix("rinse_")
        case "rinse_faster":
            assert mend["minutes"] < body["basin_minutes"]
            body["basin_minutes"] = mend["minutes"]
        case "apply_faster":
            (zone,) = (z for z in body["zones"] if [z["name"]] == mend["zones"])
            assert mend["minutes"] < zone["apply_min"]
            zone["apply_min"] = mend["minutes"]
        case "own_round":
            own = [z for z in body["zones"] if z["name"] in mend["zones"]]
            rest = [z for z in body["zones"] if z not in own]
            return [body | {"zones": zones} for zones in (rest, *([zone] for zone in own))]
    return [body]


def test_every_mend_that_is_named_makes_the_work_possible_and_no_smaller_one_would():
    rng = random.Random(SEED + 1)
    named = set()
    for _ in range(150):
        body = drawn(rng)
        for miss in asked("schedules", body)["impossible"]:
            assert miss["mends"], body
            for mend in miss["mends"]:
                named.add(mend["do"])
                for request in mended(body, mend):
                    assert asked("schedules", request)["slack_min"] is not None, (mend, body)
                if "minutes" in mend:
                    (barely,) = mended(body, mend | {"minutes": mend["minutes"]})
                    key = "basin_minutes" if mend["do"] == "rinse_faster" else None
                    changed = (
                        barely
                        if key
                        else next(z for z in barely["zones"] if z["name"] in mend["zones"])
                    )
                    changed[key or "apply_min"] += 1
                    assert asked("schedules", barely)["slack_min"] is None
    assert named == {
        "second_hands",
        "rinse_shared",
        "rinse_separate",
        "rinse_faster",
        "apply_faster",
        "own_round",
    }


def two_zones(**changed):
    window = {"earliest": 7, "best": 10, "latest": 12}
    zones = [{"name": name, "window": window, "apply_min": 20} for name in ("roots", "ends")]
    return {"zones": zones, **changed}


def test_what_cannot_be_done_says_which_zone_by_how_much_and_what_would_mend_it():
    reply = asked("schedules", two_zones(rinse="shared"))
    # 20 minutes apart at the rinse, windows 5 long: 15 to share, 8 and 7
    assert (reply["steps"], reply["slack_min"]) == ([], None)
    assert sorted(miss["by_min"] for miss in reply["impossible"]) == [7, 8]
    late = next(miss for miss in reply["impossible"] if miss["direction"] == "too_late")
    assert f"{late['by_min']} min past its minute 12" in late["words"]
    assert {mend["do"] for mend in late["mends"]} == {"second_hands", "apply_faster", "own_round"}


def test_one_zone_is_rinsed_in_the_middle_of_its_window_on_the_side_of_its_best():
    window = {"earliest": 5, "best": 20, "latest": 20}
    reply = asked("schedules", {"zones": [{"name": "all", "window": window, "apply_min": 10}]})
    apply, rinse = reply["steps"]
    assert (apply["starts_min"], apply["ends_min"]) == (0, 10)
    assert (rinse["developed_min"], reply["slack_min"]) == (13, 7)


def test_a_clock_from_the_first_section_counts_the_minutes_of_putting_on():
    zone = {"name": "all", "window": {"earliest": 30, "best": 30, "latest": 30}, "apply_min": 12}
    for clock_from, starts in (("last_section", 42), ("first_section", 30)):
        reply = asked("schedules", {"zones": [zone | {"clock_from": clock_from}]})
        assert reply["steps"][-1]["starts_min"] == starts
        assert reply["steps"][-1]["developed_min"] == 30


def test_a_zone_that_takes_longer_than_its_clock_allows_is_named_alone():
    slow = {"name": "slow", "window": {"earliest": 1, "best": 5, "latest": 10}, "apply_min": 25}
    easy = slow | {"name": "easy", "apply_min": 1}
    body = {"zones": [slow | {"clock_from": "first_section"}, easy]}
    (miss,) = asked("schedules", body)["impossible"]
    assert (miss["zone"], miss["by_min"], miss["direction"]) == ("slow", 15, "too_late")
    (mend,) = miss["mends"]
    assert (mend["do"], mend["minutes"]) == ("apply_faster", 10)


def test_the_order_of_the_zones_in_the_question_changes_no_slack():
    rng = random.Random(SEED + 2)
    for _ in range(20):
        body = drawn(rng)
        turned = body | {"zones": body["zones"][::-1]}
        assert asked("schedules", body)["slack_min"] == asked("schedules", turned)["slack_min"]


@pytest.mark.parametrize("hands", [1, 2])
def test_six_zones_are_put_in_order(hands):
    zones = [
        {
            "name": f"zone {place}",
            "window": {"earliest": 10 + place, "best": 20 + place, "latest": 35 + 2 * place},
            "apply_min": 4 + place % 3,
        }
        for place in range(6)
    ]
    body = {"zones": zones, "hands": hands, "basin_minutes": 3, "rinse": "separate"}
    check_steps(body, asked("schedules", body))
