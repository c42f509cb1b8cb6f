"""Random histories of one record, as several devices write it: every seed is one history."""

import random

import msgspec

from basinside.service.records.fold import State, fold
from basinside.service.records.operation import Operation
from basinside.service.sync.clock import Clock, seen, stamp_text, tick

NOON_MS = 1795608000000  # 2026-11-25T12:00:00Z
_DEVICE = "01890a5d-ac96-774b-bcce-{:012x}"
_REACTIONS = ("none", "not_asked", "unknown", "mild", "severe", "a newer word")
_PLAIN = {
    "phone": ("1", "2", None),
    "history": ("henna", "box black", "perm"),
    "name": ("Ona", "Una"),
    "answers.chemo": ("none", "in_treatment"),
}


def operations_of(written):
    """The operations of a vector, which leave out what their place among them says."""
    places: dict[str, int] = {}
    operations = []
    for shortened in written:
        # The same operation a second time is the same in every part.
        place = places.setdefault(shortened["op_id"], len(places))
        filled = {
            "device_seq": place + 1,
            "hlc": stamp_text(Clock(NOON_MS, place), _DEVICE.format(1)),
            "schema": 1,
            "entity_id": "e1",
            "by": "ana",
        }
        operations.append(msgspec.convert(filled | shortened, Operation))
    return operations


class Device:
    """A phone with its own wall clock; what it knows is causally closed."""

    def __init__(self, number, rng):
        self.id = _DEVICE.format(number)
        self.wall_ms = NOON_MS + rng.choice((0, 0, 5, -3 * 86_400_000, 3_600_000))
        self.clock = Clock()
        self.state: State | None = None
        self.seq = 0
        self.read = 0

    def take(self, server):
        """Receive what is new in the server's list; its own writing is there already."""
        new = [op for op in server[self.read :] if op.by != self.id[-2:]]
        self.read = len(server)
        for op in new:
            self.state = fold(self.state, op)
        if new:
            self.clock = seen(self.clock, max(op.hlc for op in new))

    def write(self, rng):
        """Write one thing, now and then in a way that must count for nothing."""
        self.wall_ms += rng.choice((0, 0, 1, 60_000))
        self.clock = tick(self.clock, self.wall_ms)
        self.seq += 1
        op = Operation(
            op_id=f"{self.id[-2:]}-{self.seq:03}",
            device_seq=self.seq,
            hlc=stamp_text(self.clock, self.id),
            schema=1,
            entity_id="e1",
            by=self.id[-2:],
            **self._act(rng),
        )
        self.state = fold(self.state, op)
        return op

    def _heads(self, name):
        of_field = self.state.fields.get(name) if self.state else None
        return [head.op for head in of_field.heads] if of_field else []

    def _act(self, rng):
        match rng.choices(("plain", "safety", "gone", "restore", "create"), (4, 6, 1, 1, 1))[0]:
            case "plain":
                name = rng.choice(tuple(_PLAIN))
                return {
                    "kind": "client.set",
                    "fields": {name: rng.choice(_PLAIN[name])},
                    "base": {name: self._heads(name)},
                }
            case "safety":
                return self._safety(rng)
            case "gone":
                fields = self.state.fields if self.state else {}
                seen_ops = {h.op for name, f in fields.items() if name != "gone" for h in f.heads}
                return {
                    "kind": "client.gone",
                    "seen": sorted(seen_ops),
                    "base": {"gone": self._heads("gone")},
                }
            case "restore":
                return {"kind": "client.restore", "base": {"gone": self._heads("gone")}}
        return {"kind": "client.create", "fields": {"name": rng.choice(_PLAIN["name"])}}

    def _safety(self, rng):
        name = "colour_reaction"
        heads = self.state.fields[name].heads if self._heads(name) else ()
        saw = max((head.v for head in heads), key=_REACTIONS.index, default="not_asked")
        act = {
            "kind": rng.choice(("client.set", "client.set", "safety.clear", "safety.answer")),
            "fields": {name: rng.choice(_REACTIONS)},
            # A part of the heads: a clear of one reaction leaves the other.
            "base": {name: [h.op for h in heads if rng.random() < 0.85]},
            "from_": {name: saw},
        }
        if act["kind"] == "safety.clear":
            act |= {"saw": "a letter", "why": rng.choice(("tested", "tested", ""))}
        if rng.random() < 0.15:  # an app that lies about what it saw
            act["from_"] = rng.choice(({}, {name: "none"}))
        return act


def history(seed):
    """The operations of one history, in an order in which each comes after all it names."""
    rng = random.Random(seed)
    devices = [Device(number, rng) for number in range(1, rng.randint(2, 4) + 1)]
    server: list[Operation] = []
    waiting = {device.id: [] for device in devices}
    for turn in range(rng.randint(4, 14)):
        device = rng.choice(devices)
        if turn == 0 or rng.random() < 0.6:
            waiting[device.id].append(device.write(rng))
        else:
            server += waiting[device.id]
            waiting[device.id] = []
            device.take(server)
    for device in devices:
        server += waiting[device.id]
    return server
