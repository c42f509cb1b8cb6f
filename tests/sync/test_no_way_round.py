"""However a paired device sends a started service that the rules held, the desk says so.

Each seed draws what holds the visit, the way it is started, and the order in which its parts come.
That a salon's own people do such things is common practice, no published source.
"""

import random

import pytest
from drawing import seeds
from phone import Phone
from started_services import Visit
from test_import import lines_of, packed

SEEDS = seeds(60)
FILES = seeds(60)
HOLDS = ("no test", "broken scalp", "reaction", "never asked", "no mix")
# A block is written on the phone: it may claim what nobody ever said.
LIE = {"answers": [{"fact": "scalp", "value": "sound"}], "tests": [{"line": "Still"}]}


def held_visit(visit, what):
    """The parts of a visit that one thing holds, without its start."""
    facts = {"scalp": "broken"} if what == "broken scalp" else {}
    parts = [visit.client_and_salon(), visit.planned(**facts)]
    if what != "no test":
        parts.append(visit.alert_test())
    if what == "reaction":
        visit.at(30)
        parts.append([visit.phone.op("client.set", visit.client, {"colour_reaction": "mild"})])
    if what == "never asked":
        parts[1][0]["fields"] = {"client": visit.client, "purpose": "client"}
    if what == "no mix":
        del parts[1][1]["fields"]["mix"]
    return parts


def start(visit, how, rng):
    """One of the ways to say that the mix went on."""
    ops = visit.started(profile=rng.choice(["uk", "eu", "other", "nowhere"]))
    if how == "in the making":
        fields = {"service": visit.service, "name": "all over", "first_section_at": visit.at(0)}
        ops = [visit.phone.op("zone.create", visit.before, fields)]
    if how == "clock alone":
        ops = ops[:1]
    if rng.random() < 0.5:
        block = {"service": visit.service, "client": visit.client, "zone": visit.zone}
        ops.append(visit.phone.op("start.create", visit.earlier, block | {"at": visit.at(0)} | LIE))
    return ops


def afterwards(visit, rng):
    """What somebody may do so that nobody looks."""
    visit.at(-20)
    deeds = {
        "ended": ("service.set", visit.service, {"state": "ended"}),
        "rinsed": ("zone.set", visit.zone, {"rinsed_at": visit.at(-15)}),
        "service deleted": ("service.gone", visit.service, None),
        "zone deleted": ("zone.gone", visit.zone, None),
        "test written later": None,
    }
    done = rng.sample(sorted(deeds), rng.randrange(3))
    ops = []
    for name in done:
        if deeds[name] is None:
            ops += visit.alert_test(written_min=-19)
        else:
            kind, record, fields = deeds[name]
            more = {"seen": []} if kind.endswith(".gone") else {}
            ops.append(visit.phone.op(kind, record, fields, **more))
    return ops


@pytest.mark.parametrize("seed", SEEDS)
def test_a_held_start_is_named_at_the_desk_whatever_is_sent(seed, visit, matters):
    rng = random.Random(seed)
    what = rng.choice(HOLDS)
    parts = held_visit(visit, what)
    parts.append(start(visit, rng.choice(["a tap", "clock alone", "in the making"]), rng))
    parts.append(afterwards(visit, rng))
    rng.shuffle(parts)
    for part in parts:
        if part:
            visit.push(part)
    named = [each for each in matters() if each["why"] == "held"]
    assert [each["service"] for each in named] == [visit.service], (what, named)


def bring_in(phone, file):
    headers = phone.headers | {"content-type": "application/gzip"}
    reply = phone.client.post("/api/sync/import", content=file, headers=headers)
    assert reply.status_code == 200, reply.text
    return reply.json()


@pytest.mark.parametrize("seed", FILES)
def test_a_held_start_is_named_at_the_desk_whoever_imports_it_in_files(
    seed, phone, client, salon, matters
):
    rng = random.Random(seed)
    # The phone that wrote it is not paired, so only its files reach the desk.
    lost = Phone(client, salon, 77, phone.now_ms)
    visit = Visit(lost)
    what = rng.choice(HOLDS)
    parts = held_visit(visit, what)
    parts.append(start(visit, rng.choice(["a tap", "clock alone", "in the making"]), rng))
    parts.append(afterwards(visit, rng))
    ops = [op for part in parts for op in part]
    for number, op in enumerate(ops, 1):
        op["device_seq"] = number
    # One file or two, in either order; the later one may hold all of the earlier.
    cut = rng.randrange(len(ops) + 1)
    files = [ops[:cut], ops if rng.random() < 0.5 else ops[cut:]]
    rng.shuffle(files)
    for held in files:
        told = bring_in(phone, packed(lines_of(held)))
        assert told["refused"] == []
    named = [each for each in matters() if each["why"] == "held"]
    assert [each["service"] for each in named] == [visit.service], (what, named)
    # Once more changes nothing.
    assert bring_in(phone, packed(lines_of(ops)))["accepted"] == 0
    assert [each["service"] for each in matters() if each["why"] == "held"] == [visit.service]


def test_the_desk_gives_the_visit_as_it_stood_and_keeps_it_whatever_comes_later(visit, matters):
    visit.push(visit.client_and_salon(), visit.planned(scalp="broken"), visit.started())
    visit.at(0)
    block = {"service": visit.service, "client": visit.client, "zone": visit.zone}
    block |= {"at": visit.at(0), "answers": [{"fact": "scalp", "value": "broken"}]}
    visit.push([visit.phone.op("start.create", visit.earlier, block)])
    kept = [{"id": visit.earlier} | block]

    def services():
        call = visit.phone.client.get("/api/services", headers=visit.phone.headers)
        return call.json()["records"]

    assert [each["starts"] for each in services()] == [kept]
    sound = {"value": "sound", "at": visit.at(-60), "by": ""}
    later = visit.phone.op("client.set", visit.client, {"colour_reaction": "severe"})
    visit.push([later, visit.phone.op("service.set", visit.service, {"facts.scalp": sound})])
    (service,) = services()
    assert service["starts"] == kept
    (matter,) = [each for each in matters() if each["why"] == "held"]
    assert matter["starts"] == kept
    call = visit.phone.client.get("/api/starts", headers=visit.phone.headers)
    assert [each["id"] for each in call.json()["records"]] == [visit.earlier]
