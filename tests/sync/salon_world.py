"""A salon and its phones in one process: real server code and store, faults drawn from a seed.

One seed is one history. Each draws which faults are on, or rare ones would hide behind common
ones. Each step draws from its own number, so that a history goes on alike without some of them.
"""

import random
import shutil
from contextlib import contextmanager

from simulated_phone import Phone

from basinside.service.store.salon import DATABASE_FILE, Salon
from basinside.service.sync import push
from basinside.service.sync.refused import Refused
from basinside.service.whole import erasing, tide
from basinside.service.whole.ledger import Ledger

NOON_MS = 1795608000000  # 2026-11-25T12:00:00Z
FAULTS = ("lost", "twice", "late", "skew", "restore", "erase", "wipe", "tiny_pages", "killed")
STEPS = 60


class Killed(Exception):
    """The server was killed; whoever waits for its answer gets none."""


class MortalSalon(Salon):
    """A salon whose process is killed at the next commit, just before it or just after."""

    dies = ""

    @contextmanager
    def writing(self):
        with super().writing() as writing:
            yield writing
            if self.dies == "before":
                raise Killed
        if self.dies == "after":
            raise Killed


class World:
    """One salon on a file, its phones, and what happens to them."""

    def __init__(self, seed, folder, **bugs):
        self.seed, self.rng, self.folder, self.bugs = seed, random.Random(seed), folder, bugs
        self.on = {fault for fault in FAULTS if self.rng.random() < 0.6}
        self.now_ms, self.made = NOON_MS, 0
        self.open()
        self.backup = None
        self.late, self.erased = [], set()
        self.phones = [Phone(self) for _ in range(self.rng.randint(2, 4))]

    def open(self):
        self.salon = MortalSalon(self.folder / DATABASE_FILE)
        self.salon.run_alone("PRAGMA synchronous = OFF")  # no power is cut here
        self.ledger = Ledger(self.folder)
        tide.begin(self.salon, self.now_ms)
        if not self.bugs.get("ledger_not_replayed"):
            erasing.replay(self.salon, self.ledger)

    def new_id(self):
        self.made += 1
        return f"0199c0de-0000-7000-8000-{self.made:012x}"

    def run(self, steps=range(STEPS)):
        for number in steps:
            self.rng.seed(self.seed * 1_000_003 + number)
            self.now_ms += self.rng.choice((1, 1000, 60_000))
            self.step(self.rng.choice(self.phones))
        self.rng.seed(self.seed)
        self.heal()

    def step(self, phone):
        match self.rng.choices(
            ("write", "push", "pull", "late", "backup", "restore", "erase", "wipe"),
            (8, 5, 5, 2, 1, 0.8, 0.8, 0.3),
        )[0]:
            case "write":
                phone.write()
            case "push":
                phone.push()
            case "pull":
                phone.pull()
            case "late" if self.late:
                self.answer(self.late.pop(self.rng.randrange(len(self.late))))
            case "backup":
                self.salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
                self.backup = (self.folder / DATABASE_FILE).read_bytes()
            case "restore" if "restore" in self.on and self.backup:
                self.restore()
            case "erase" if "erase" in self.on:
                self.erase()
            case "wipe" if "wipe" in self.on and len(self.phones) > 1:
                self.phones[self.phones.index(phone)] = Phone(self)
        for each in self.phones:
            each.shows_its_own()

    def restore(self):
        tide.keep_tide(self.salon)
        self.salon.close()
        for suffix in ("-wal", "-shm"):
            (self.folder / (DATABASE_FILE + suffix)).unlink(missing_ok=True)
        (self.folder / DATABASE_FILE).write_bytes(self.backup)
        self.open()

    def erase(self):
        with self.salon.reading() as reading:
            clients = reading.where("kind = 'client'", [], "entity_id", 100)
        if clients:
            client = self.rng.choice(clients).entity_id
            erasing.erase_client(self.salon, self.ledger, client, self.now_ms)
            self.erased.add(client)

    def answer(self, body):
        """Take in a push as the server does; return its answer, its refusal, or None if killed."""
        if "killed" in self.on and self.rng.random() < 0.2:
            self.salon.dies = self.rng.choice(("before", "after"))
        try:
            return self.land(body)
        except Refused as refusal:
            return refusal
        except Killed:
            return None
        finally:
            if self.salon.dies:
                self.salon.close()
                self.open()

    def land(self, body):
        return push.push(self.salon, body, push.read_operations(body.ops), self.now_ms)

    def hold_up(self, body):
        """Keep a push that has reached the desk, to land some steps later, unanswered."""
        self.late.append(body)

    def heal(self):
        """Let everything through, and everyone catch up: five rounds have to do."""
        self.on = set()
        self.late.clear()
        for _ in range(5):
            for phone in self.phones:
                phone.push()
                phone.pull()


def copied(template, folder):
    """Put a salon that was made once into a folder: making its tables takes longer than a seed."""
    shutil.copytree(template, folder, dirs_exist_ok=True)


def made_once(folder):
    """Make a new salon in a folder, to be copied; return the folder."""
    folder.mkdir(exist_ok=True)
    salon = Salon(folder / DATABASE_FILE)
    tide.begin(salon, NOON_MS)
    salon.run_alone("PRAGMA wal_checkpoint(TRUNCATE)")
    salon.close()
    return folder
