"""The server as a process of its own, killed with SIGKILL while several phones push to it.

Each phone sends batches one after the other and writes down what was answered. After a kill it
sends the batch again that nobody answered, as the page does.
"""

import http.client
import json
import random
import threading
import time

from running import Server

from basinside.service.records.instants import instant_text
from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync.clock import Clock, stamp_text, tick
from basinside.service.sync.pairing import new_code

PHONES = 4
MOST_IN_A_BATCH = 40
LONGEST_LIFE_S = 0.6  # under load, before it is killed; how long changes no outcome
ANSWER_S = 300


def now_ms():
    return time.time_ns() // 1_000_000


class Phone:
    """One phone with an outbox that never ends."""

    def __init__(self, number, chance):
        self.number, self.chance = number, chance
        self.device_id = f"0199c0de-0000-7000-8000-d{number:011x}"
        self.seq, self.made, self.clock = 0, 0, Clock()
        self.unanswered, self.acknowledged = [], {}
        self.token = self.epoch = self.connection = None

    def ask(self, method, path, body=None):
        """Return the answer to one call; raise `OSError` or `HTTPException` where none comes."""
        headers = {"content-type": "application/json", "authorization": f"Bearer {self.token}"}
        sent = None if body is None else json.dumps(body)
        self.connection.request(method, path, sent, headers)
        with self.connection.getresponse() as reply:
            read = json.loads(reply.read())
        assert reply.status == 200, read
        return read

    def connect(self, port):
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=ANSWER_S)

    def pair(self, code):
        asked = {"v": 1, "code": code, "device_id": self.device_id, "name": f"phone {self.number}"}
        told = self.ask("POST", "/api/devices/pair", asked)
        self.token, self.epoch = told["token"], told["epoch"]

    def new_id(self):
        self.made += 1
        return f"0199c0de-{self.number:04x}-7000-8000-{self.made:012x}"

    def note(self):
        self.seq += 1
        self.clock = tick(self.clock, now_ms())
        return {
            "op_id": self.new_id(),
            "device_seq": self.seq,
            "hlc": stamp_text(self.clock, self.device_id),
            "schema": 2,
            "kind": "note.create",
            "entity_id": self.new_id(),
            "by": self.device_id,
            "fields": {"text": f"note {self.seq} of phone {self.number}"},
        }

    def push_one_batch(self):
        """Send the batch that was not answered, or a new one; keep what is acknowledged."""
        if not self.unanswered:
            size = self.chance.randint(1, MOST_IN_A_BATCH)
            self.unanswered = [self.note() for _ in range(size)]
        body = {
            "v": 1,
            "device_id": self.device_id,
            "epoch": self.epoch,
            "sent_at": instant_text(now_ms()),
            "queued": len(self.unanswered),
            "ops": self.unanswered,
        }
        told = self.ask("POST", "/api/sync/push", body)
        assert told["refused"] == []
        landed = {each["op_id"]: each["seq"] for each in told["accepted"] + told["duplicate"]}
        assert landed.keys() == {op["op_id"] for op in self.unanswered}
        assert told["acked_through"] == self.unanswered[-1]["device_seq"]
        self.acknowledged |= landed
        self.unanswered = []

    def push_until_killed(self, stop):
        try:
            while not stop.is_set():
                self.push_one_batch()
        except (OSError, http.client.HTTPException):
            return  # killed: whether this batch landed is asked by sending it again


def kill_often(folder, kills, seed=7):
    """Kill the server many times under load; return how many operations were acknowledged.

    Raises `AssertionError` where one that was acknowledged is missing, moved or double.
    """
    chance = random.Random(seed)
    phones = [Phone(number, random.Random(number)) for number in range(PHONES)]
    for kill in range(kills + 1):
        server = Server(folder).start()
        try:
            for phone in phones:
                phone.connect(server.port)
                if not phone.token:
                    salon = Salon(folder / DATABASE_FILE)
                    phone.pair(new_code(salon, now_ms()))
                    salon.close()
            if kill == kills:
                for phone in phones:
                    phone.push_one_batch()
            else:
                under_load(server, phones, chance.uniform(0, LONGEST_LIFE_S))
        finally:
            server.kill()
            for phone in phones:
                phone.connection.close()
        stored_as_told(folder, phones)
    return sum(len(phone.acknowledged) for phone in phones)


def under_load(server, phones, life_s):
    """Let every phone push at once, and kill the server after a while."""
    stop, failed = threading.Event(), []

    def push(phone):
        try:
            phone.push_until_killed(stop)
        except AssertionError as error:
            failed.append(error)

    threads = [threading.Thread(target=push, args=(phone,)) for phone in phones]
    for thread in threads:
        thread.start()
    time.sleep(life_s)
    server.kill()
    stop.set()
    for thread in threads:
        thread.join()
    if failed:
        raise failed[0]


def stored_as_told(folder, phones):
    """Hold the log, as the next process finds it, to what was acknowledged."""
    salon = Salon(folder / DATABASE_FILE)
    with salon.reading() as reading:
        log = reading._rows("SELECT op_id, seq, device_id, device_seq FROM log ORDER BY seq")
        kept = reading.count("1", [])
    salon.close()
    seqs = {op_id: seq for op_id, seq, _, _ in log}
    for phone in phones:
        missing = [i for i, seq in phone.acknowledged.items() if seqs.get(i) != seq]
        assert not missing, f"{len(missing)} acknowledged operations are not where they were"
        numbers = [device_seq for _, _, device, device_seq in log if device == phone.device_id]
        assert numbers == list(range(1, len(numbers) + 1)), "a number is missing or double"
    assert [seq for _, seq, _, _ in log] == list(range(1, len(log) + 1))
    assert kept >= len(log), "an operation is logged, and its record is not there"
