"""One phone of a simulated salon: its outbox, what it sent, what it was given.

It folds with the server's own fold; what it keeps and when is written here anew.
"""

import msgspec

from basinside.contract.devices import Pairing
from basinside.contract.rescue import Had, Offer, Rescue
from basinside.contract.sync import Change, Push
from basinside.service.records.fold import fold
from basinside.service.records.instants import instant_text
from basinside.service.records.operation import Operation
from basinside.service.records.wire import change_of, state_of
from basinside.service.sync import cursor as cursors
from basinside.service.sync import offer, pairing, pull
from basinside.service.sync.clock import Clock, seen, stamp_text, tick
from basinside.service.sync.refused import Refused
from basinside.service.whole import erasing
from basinside.service.whole.refold import SET_ASIDE

FACT = "colour_reaction"
WORDS = ("none", "mild", "severe")
_change = msgspec.json.Decoder(Change)


class Phone:
    """One phone: its outbox, what it sent, and what it was given."""

    def __init__(self, world):
        self.world, self.rng = world, world.rng
        self.device_id = world.new_id()
        skew = world.rng.choice((0, -3 * 86_400_000, 400_000, 63_072_000_000))
        self.skew_ms = skew if "skew" in world.on else 0
        self.clock, self.seq, self.acked = Clock(), 0, 0
        self.outbox, self.sent, self.refused, self.written = [], [], {}, {}
        self.base, self.stale, self.cursor, self.erase_seq = {}, {}, None, 0
        code = pairing.new_code(world.salon, world.now_ms)
        asked = Pairing(1, code, self.device_id, "a phone")
        paired = pairing.Gate().pair(world.salon, asked, world.now_ms)
        self.epoch = paired.epoch

    def pair_again(self):
        """A copy from before this phone was paired does not know it: a new code, the same name."""
        code = pairing.new_code(self.world.salon, self.world.now_ms)
        asked = Pairing(1, code, self.device_id, "a phone")
        pairing.Gate().pair(self.world.salon, asked, self.world.now_ms)

    def view(self, entity_id):
        state = self.base.get(entity_id) or self.stale.get(entity_id)
        waiting = [] if self.world.bugs.get("view_without_outbox") else self.outbox
        for op, _ in (*self.sent, *((op, None) for op in waiting)):
            if op.entity_id == entity_id and op.op_id not in self.refused:
                state = fold(state, op)
        return state

    def shows_its_own(self):
        for op in self.outbox:
            if op.kind.endswith(".create"):
                assert self.view(op.entity_id), "its own writing vanished"

    def write(self):
        clients = sorted({e for e, s in self.base.items() if s.kind == "client"})
        client = self.rng.choice(clients) if clients else None
        act = self.rng.choice(
            ("note", "note", "client", "name", "fact", "clear", "gone", "back", "nonsense")
        )
        if act == "client" or client is None:
            new = self.world.new_id()
            return self.op("client.create", new, {"name": f"canary {new}"})
        if act == "note":
            fields = {"client": client, "text": f"canary {client}"}
            return self.op("note.create", self.world.new_id(), fields)
        if act == "nonsense":
            return self.op("client.explode", self.world.new_id())
        state = self.view(client)

        def heads(name):
            return state.fields[name].heads if state and name in state.fields else ()

        base = {FACT: [head.op for head in heads(FACT)]}
        saw = max((head.v for head in heads(FACT)), key=WORDS.index, default="not_asked")
        match act:
            case "name":
                named = {"name": [head.op for head in heads("name")]}
                value = f"canary {client} {self.rng.random()}"
                return self.op("client.set", client, {"name": value}, base=named)
            case "fact":
                value = {FACT: self.rng.choice(WORDS)}
                return self.op("client.set", client, value, base=base, from_={FACT: saw})
            case "clear" if base[FACT]:
                said = {"saw": "a letter", "why": "tested"}
                return self.op(
                    "safety.clear", client, {FACT: "none"}, base=base, from_={FACT: saw}, **said
                )
            case "gone":
                ops = {h.op for n, f in state.fields.items() if n != "gone" for h in f.heads}
                gone = {"gone": [head.op for head in heads("gone")]}
                return self.op("client.gone", client, seen=sorted(ops), base=gone)
        gone = {"gone": [head.op for head in heads("gone")]}
        return self.op("client.restore", client, base=gone)

    def op(self, kind, entity_id, fields=None, **more):
        self.seq += 1
        self.clock = tick(self.clock, self.world.now_ms + self.skew_ms)
        op = Operation(
            op_id=self.world.new_id(),
            device_seq=self.seq,
            hlc=stamp_text(self.clock, self.device_id),
            schema=2,
            kind=kind,
            entity_id=entity_id,
            by=self.device_id,
            fields=fields or {},
            **more,
        )
        self.outbox.append(op)
        self.written[op.op_id] = op

    def push(self):
        world, on = self.world, self.world.on
        batch = self.outbox[: self.rng.randint(1, 500 if not on else 4)]
        body = Push(
            v=1,
            device_id=self.device_id,
            epoch=self.epoch,
            sent_at=instant_text(world.now_ms + self.skew_ms),
            ops=[msgspec.Raw(msgspec.json.encode(op)) for op in batch],
        )
        fates = ("ok", "ok", "lost", "answer lost", "twice", "late", "held up")
        fate = self.rng.choice(fates) if on else "ok"
        if fate == "lost" and fate in on:
            return
        if fate == "late" and fate in on:
            world.late.append(body)
        if fate == "held up" and "late" in on:
            world.hold_up(body)
            return
        answer = world.answer(body)
        if fate == "twice" and fate in on:
            world.answer(body)
        if answer is None or (fate == "answer lost" and "lost" in on):
            return
        if isinstance(answer, Refused):
            self.refused_whole(answer)
        else:
            self.settled(answer)

    def refused_whole(self, refusal):
        if refusal.code == "epoch_changed":
            self.another_history(refusal.needs["epoch"], refusal.needs["acked_through"])
        elif refusal.code == "pairing_expired":
            self.pair_again()
        elif refusal.code == "seq_gap":
            self.send_again_after(refusal.needs["expected"] - 1)
        else:
            raise AssertionError(refusal.code)

    def send_again_after(self, acked):
        """Send what the desk has not settled again; the numbers of what it refused go out empty."""
        back = [op for op, _ in self.sent if op.device_seq > acked and op.op_id not in self.refused]
        self.sent = [(op, seq) for op, seq in self.sent if op.device_seq <= acked]
        waiting, self.acked = back + self.outbox, acked
        numbers = {op.device_seq for op in waiting}
        for number in range(acked + 1, max(numbers, default=0)):
            if number not in numbers:
                waiting.append(self.filler(number, waiting[0]))
        self.outbox = sorted(waiting, key=lambda op: op.device_seq)

    def filler(self, number, after):
        new = self.world.new_id()
        return Operation(
            op_id=new,
            device_seq=number,
            hlc=after.hlc,
            schema=2,
            kind=SET_ASIDE,
            entity_id=new,
            by=self.device_id,
        )

    def settled(self, answer):
        seqs = {each.op_id: each.seq for each in (*answer.accepted, *answer.duplicate)}
        self.refused |= {each.op_id: each for each in answer.refused}
        done = [op for op in self.outbox if op.op_id in seqs or op.op_id in self.refused]
        self.sent += [(op, seqs.get(op.op_id, 0)) for op in done]
        self.outbox = [op for op in self.outbox if op not in done]
        if answer.acked_through < self.acked:
            self.send_again_after(answer.acked_through)
        self.acked = answer.acked_through

    def pull(self):
        world = self.world
        cursor = cursors.read_cursor(self.cursor) if self.cursor else None
        limit = 1 if "tiny_pages" in world.on else 500
        while True:
            with world.salon.reading() as reading:
                device = reading.device(self.device_id)
            if device is None:
                self.pair_again()
                return
            try:
                pulled = pull.pull(world.salon, device, cursor, limit, self.erase_seq, world.now_ms)
            except Refused as refusal:
                self.refused_whole(refusal)
                return
            # The first pull has no cursor that could be refused, so the answer's epoch tells.
            self.another_history(pulled.epoch, pulled.acked_through)
            self.take(pulled)
            cursor = cursors.read_cursor(self.cursor)
            if not pulled.more or "tiny_pages" in world.on:
                break
        if not pulled.more and self.stale:
            self.hand_back()

    def take(self, pulled):
        hashes = {entry.id_sha256 for entry in pulled.erased}
        self.forget(hashes)
        self.erase_seq = max([self.erase_seq, *(entry.n for entry in pulled.erased)])
        at = int(pulled.next.split(".")[1])
        lose = self.world.bugs.get("cursor_before_rows") and self.rng.random() < 0.1
        for raw in [] if lose else pulled.changes:
            state = state_of(_change.decode(raw))
            self.base[state.id] = state
            for of_field in state.fields.values():
                for head in of_field.heads:
                    self.clock = seen(self.clock, head.eff)
        before = int(self.cursor.split(".")[1]) if self.cursor else 0
        assert at >= before, "the cursor went back"
        self.cursor = pulled.next
        self.sent = [(op, seq) for op, seq in self.sent if seq > at]

    def forget(self, hashes):
        for held in (self.base, self.stale):
            for entity_id in [e for e in held if erasing.id_sha256(e) in hashes]:
                del held[entity_id]

    def another_history(self, epoch, acked):
        """The desk was put back: what it lacks waits again, what was given is offered back."""
        if epoch == self.epoch:
            return
        sent = [op for op in self.written.values() if acked < op.device_seq]
        self.outbox = sorted(sent, key=lambda op: op.device_seq)
        self.sent = []
        self.refused = {i: r for i, r in self.refused.items() if r.device_seq <= acked}
        self.stale |= self.base
        self.base, self.cursor, self.epoch = {}, None, epoch

    def hand_back(self):
        world = self.world
        have = [
            Had(e, sorted({h.op for f in s.fields.values() for h in f.heads}))
            for e, s in self.stale.items()
        ]
        asked = Offer(1, self.device_id, self.epoch, have, [])
        missing = set(offer.offer(world.salon, world.ledger, asked).missing)
        lacked = [
            change_of(state, 0)
            for state, had in zip(self.stale.values(), have, strict=True)
            if missing & set(had.ops)
        ]
        offer.rescue(world.salon, Rescue(1, self.device_id, self.epoch, lacked), world.now_ms)
        self.stale = {}
