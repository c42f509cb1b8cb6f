"""A service as people go about it in any order: asked, answered, tested, changed, begun, rinsed.

A walk is drawn from its seed. Whoever walks is careless, never stronger than the rules: answers
are taken back, plans change under a decision, the phone's clock is set back, and the button that
starts the clock is tapped whenever somebody feels like it.
"""

import copy
import datetime as dt
import random

from safety_asking import FRESH, REGULAR
from safety_random import FACTS

OPENED = dt.datetime.fromisoformat("2026-11-25T10:15:00+00:00")
REACTIONS = ["itch", "redness", "swelling", "blister", "burning", "spread", "other"]
ACTS = [
    "settle", "settle", "settle", "answer", "forget", "plan", "test", "read", "paper", "decide",
    "decide", "wait", "clock_back", "begin", "begin", "begin", "rinse",
]  # fmt: skip
PLANS = {
    "line": ["Still", "Quilt"],
    "class": ["oxidative_toner", "oxidative_permanent", "direct_dye", "lightener_powder"],
    "areas": [["scalp"], ["lengths"], ["brows"], ["lashes"]],
    "developer_percent": [1.9, 6, 12, 12.5, 20],
    "heat": ["no", "yes", "unknown"],
    "zones": [[], ["regrowth"]],
}
RESTING = {"scalp": 24, "face_rash": 24}  # hours an answer is fresh


class Walk:
    """One service and what was done to it so far; `did` names the acts, for whoever replays."""

    def __init__(self, seed):
        self.rng = random.Random(seed)
        self.request = copy.deepcopy(REGULAR)
        self.request["profile"] = self.rng.choice(["eu", "uk", "us", "other"])
        card = self.request["plan"]["lines"][0]
        card.pop("product_class")
        card["class"] = "oxidative_toner"
        self.request["plan"]["opened_at"] = OPENED.isoformat()
        self.now = self.latest = OPENED
        self.did = []
        self.begun = 0
        if self.rng.random() < 0.3:
            self.request["facts"] = {"tests": []}
        self._date()

    def step(self, reply):
        """Do one act, knowing what the rules last said."""
        act = self.rng.choice(ACTS)
        self.did.append(act)
        getattr(self, f"_{act}")(reply)
        self._date()

    def _date(self):
        self.latest = max(self.latest, self.now)
        self.request["now"] = self.request["starts_at"] = self.now.isoformat()
        self.request["plan"]["seen_until"] = self.latest.isoformat()

    def _say(self, fact, value):
        facts = self.request["facts"]
        facts[fact] = value
        said = [one for one in facts.get("said_at", []) if one["fact"] != fact]
        facts["said_at"] = [*said, {"fact": fact, "at": self.now.isoformat()}]

    def _settle(self, _):
        """Somebody clears all that an honest answer can clear."""
        for fact, values in FACTS.items():
            self._say(fact, values[0])
        self.request["facts"]["hair_past"] = []
        self.request["plan"] |= {"heat": "no", "areas": ["scalp"], "developer_percent": 1.9}
        if not self.request["facts"].get("tests") and self.rng.random() < 0.7:
            self._paper(None)

    def _answer(self, _):
        fact, values = self.rng.choice(list(FACTS.items()))
        self._say(fact, self.rng.choice(values))

    def _forget(self, _):
        fact = self.rng.choice([*FACTS, "hair_past"])
        self.request["facts"].pop(fact, None)

    def _plan(self, _):
        name, values = self.rng.choice(list(PLANS.items()))
        card = self.request["plan"]["lines"][0]
        home = card if name in ("line", "class") else self.request["plan"]
        home[name] = copy.copy(self.rng.choice(values))

    def _line(self):
        return self.request["plan"]["lines"][0]["line"]

    def _put(self, test):
        tests = self.request["facts"].setdefault("tests", [])
        self.request["facts"]["tests"] = [*tests, test][-4:]

    def _test(self, _):
        on = FRESH | {"line": self._line(), "applied_at": self.now.isoformat()}
        self._put(on | {"result": "not_read", "read_at": None, "read_by": None})

    def _read(self, _):
        tests = self.request["facts"].get("tests") or []
        if tests and dt.datetime.fromisoformat(tests[-1]["applied_at"]) <= self.now:
            result = self.rng.choice(["clear"] * 9 + REACTIONS[:1])
            tests[-1] |= {"result": result, "read_at": self.now.isoformat(), "read_by": "Ana"}

    def _paper(self, _):
        hours = self.rng.choice([2, 47, 48, 60, 60, 60, 24 * 200])
        applied = self.now - dt.timedelta(hours=hours)
        test = FRESH | {"line": self._line(), "applied_at": applied.isoformat()}
        read = min(applied + dt.timedelta(hours=48), self.now)
        result = self.rng.choice(["clear"] * 9 + REACTIONS)
        self._put(test | {"read_at": read.isoformat(), "from_paper": True, "result": result})

    def _decide(self, reply):
        self.request["plan"]["decisions"] = self.request["plan"].get("decisions", []) + [
            {
                "rule": finding["id"], "by": "Ana", "role": finding["decided_by"][-1],
                "saw": "calm", "why": "fine", "at": self.now.isoformat(),
                "basis": finding["basis"],
            }
            for finding in reply["findings"] if finding["group"] == "needs_decision"
        ]  # fmt: skip
        del self.request["plan"]["decisions"][:-40]

    def _wait(self, _):
        self.now += dt.timedelta(minutes=self.rng.choice([1, 20, 60 * 25, 60 * 47, 60 * 49]))

    def _clock_back(self, _):
        self.now -= dt.timedelta(minutes=self.rng.choice([1, 10, 60, 60 * 72]))
        if self.rng.random() < 0.5:
            self.now = self.latest

    def _begin(self, reply):
        plan = self.request["plan"]
        if reply["may_start"] and plan.get("moment") != "live":
            self.begun += 1
            self.request["plan"] |= {"moment": "live", "started_at": self.now.isoformat()}

    def _rinse(self, _):
        self.request["plan"].pop("started_at", None)
        self.request["plan"]["moment"] = "start"


def holds(request):
    """Return why a permanent or a toner must not go on, by what the published texts say.

    48 h, read, no reaction, this very line (FDA-QA, UK-AAT); an earlier reaction, a black tattoo
    that reacted, a rash, a scalp that is not sound, under 16, brows and lashes (EU-LABEL); a known
    allergy (NHS-DYE); over 12 % in the EU and the UK (EU-12). The keys are those of docs/safety.md.
    What nobody has said counts as the worst that could be said.
    """
    facts, plan = request["facts"], request["plan"]
    now = dt.datetime.fromisoformat(request["now"])
    said = {one["fact"]: dt.datetime.fromisoformat(one["at"]) for one in facts.get("said_at", [])}
    found = []
    for fact, fit in {
        "colour_reaction": {"none"},
        "black_tattoo": {"never", "yes_no_reaction"},
        "dye_allergy": {"none"},
        "scalp": {"sound", "settled_condition"},
        "face_rash": {"no"},
    }.items():
        stale = now - said.get(fact, now) > dt.timedelta(hours=RESTING.get(fact, 10**5))
        if facts.get(fact) not in fit or stale:
            found.append(fact)
    if facts.get("eighteen_or_over") != "yes" and facts.get("sixteen_or_over") != "yes":
        found.append("age")
    if plan["developer_percent"] > 12 and request["profile"] != "us":
        found.append("peroxide")
    if {"brows", "lashes"} & set(plan["areas"]):
        found.append("eyes")
    if dt.datetime.fromisoformat(plan["seen_until"]) - now > dt.timedelta(minutes=5):
        found.append("clock")
    return found + _test_holds(facts.get("tests") or [], plan["lines"][0]["line"], now)


def _test_holds(tests, line, now):
    if any(test["result"] in REACTIONS for test in tests):
        return ["reacted"]
    own = [test for test in tests if test["line"] == line]
    if not own:
        return ["no test"]
    last = max(own, key=lambda test: dt.datetime.fromisoformat(test["applied_at"]))
    applied = dt.datetime.fromisoformat(last["applied_at"])
    read = last["read_at"] and dt.datetime.fromisoformat(last["read_at"])
    two_days = dt.timedelta(hours=48)
    good = last["result"] == "clear" and last["read_by"] and read and read - applied >= two_days
    return [] if good and now - applied >= two_days else ["test not good"]
