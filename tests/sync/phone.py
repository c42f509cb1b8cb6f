"""A phone as the server sees it: it numbers, stamps and sends operations over real HTTP."""

import gzip
import json
import uuid

from basinside.service.records.instants import instant_text
from basinside.service.sync.clock import Clock, stamp_text, tick
from basinside.service.sync.pairing import new_code

NOON_MS = 1795608000000  # 2026-11-25T12:00:00Z
BY = "0199c0de-0000-7000-8000-0000000000aa"


def ids(first=0):
    """Ids in order, as phones make them, but the same in every run."""
    while True:
        first += 1
        yield f"0199c0de-{first >> 48:04x}-7000-8000-{first:012x}"


class Phone:
    """One paired phone. `now_ms` is its own clock; what it sends is decided by the test."""

    def __init__(self, client, salon, number, now_ms):
        self.client, self.salon, self.number = client, salon, number
        self.device_id = str(uuid.UUID(int=(0x0199C0DE << 96) | (7 << 76) | (8 << 60) | number))
        self.now_ms, self.clock, self.seq = now_ms, Clock(), 0
        self.ids = ids(number << 32)
        self.epoch, self.token = "e1", None

    def pair(self, server_now_ms):
        """Pair with a code made now; return the answer."""
        return self.pair_with(new_code(self.salon, server_now_ms))

    def pair_with(self, code):
        """Pair with a code that the desk shows; return the answer."""
        asked = {
            "v": 1,
            "code": code,
            "device_id": self.device_id,
            "name": f"Phone {self.number}",
        }
        reply = self.client.post("/api/devices/pair", json=asked)
        assert reply.status_code == 200, reply.text
        self.token, self.epoch = reply.json()["token"], reply.json()["epoch"]
        return reply.json()

    def op(self, kind, entity_id, fields=None, **more):
        """Return the next operation of this phone, under its next number."""
        self.seq += 1
        self.clock = tick(self.clock, self.now_ms)
        return {
            "op_id": next(self.ids),
            "device_seq": self.seq,
            "hlc": stamp_text(self.clock, self.device_id),
            "schema": 2,
            "kind": kind,
            "entity_id": entity_id,
            "by": BY,
            "fields": fields or {},
        } | more

    def note(self, text="beige at eight minutes", **more):
        """Return a new note as an operation."""
        return self.op("note.create", next(self.ids), {"text": text}, **more)

    def push_body(self, *ops, **more):
        """Return the body of a push."""
        return {
            "v": 1,
            "device_id": self.device_id,
            "epoch": self.epoch,
            "sent_at": instant_text(self.now_ms),
            "queued": len(ops),
            "ops": list(ops),
        } | more

    def push(self, *ops, packed=False, **more):
        """Send operations; return the reply."""
        body = json.dumps(self.push_body(*ops, **more)).encode()
        headers = self.headers | {"content-type": "application/json"}
        if packed:
            body, headers = gzip.compress(body), headers | {"content-encoding": "gzip"}
        return self.client.post("/api/sync/push", content=body, headers=headers)

    def pull(self, **query):
        """Ask for changes; return the reply."""
        return self.client.get("/api/sync/pull", params=query, headers=self.headers)

    def snapshot(self, **query):
        """Ask for a page of everything; return the reply."""
        return self.client.get("/api/sync/snapshot", params=query, headers=self.headers)

    @property
    def headers(self):
        return {"authorization": f"Bearer {self.token}"} if self.token else {}

    def all_changes(self, **query):
        """Pull to the end; return the records by their id, and the last cursor."""
        records, cursor = {}, None
        while True:
            pulled = self.pull(**query, **({"cursor": cursor} if cursor else {})).json()
            records |= {change["entity_id"]: change for change in pulled["changes"]}
            cursor = pulled["next"]
            if not pulled["more"]:
                return records, cursor
