"""Many salons on one loopback port, each the whole application behind a proxy that is unreliable.

`/<seed>/api/…` is the salon of that seed; `/<seed>/-/…` is what somebody does at its desk. The
proxy draws from the seed what becomes of each call between phone and desk: it is answered, lost
on its way, cut within its body, sent twice at once, sent once more later, answered to nobody, or
refused for now. Run as a program it says its address on standard output.
"""

import asyncio
import random
import shutil
import sys
import tempfile
from contextlib import suppress
from pathlib import Path
from urllib.parse import unquote

import msgspec
import uvicorn
from salon_world import made_once

from basinside.app import create_app
from basinside.service.http.open_desk import now_ms
from basinside.service.store.salon import DATABASE_FILE
from basinside.service.sync import pairing
from basinside.service.whole import erasing
from basinside.service.whole.ledger import Ledger

FATES = ("ok", "lost", "cut", "twice", "late", "answer lost", "busy", "broken")
WEIGHTS = (10, 1, 1, 1, 1, 2, 1, 1)


class FaultySalon:
    """One salon: its application, its backup, and what its proxy does next."""

    def __init__(self, seed, folder):
        self.rng = random.Random(seed)
        self.folder = folder
        self.on = True
        self.later = []
        self.has_backup = False
        # Which faults this salon has at all: else the rare hide behind the common.
        self.fates = [
            (fate, weight)
            for fate, weight in zip(FATES, WEIGHTS, strict=True)
            if fate == "ok" or self.rng.random() < 0.6
        ]

    async def open(self):
        self.app = create_app(self.folder)
        self.desk = self.app.state.desk
        self.closing, opened = asyncio.Event(), asyncio.Event()
        # What an application begins it has to end in the same task.
        self.living = asyncio.create_task(self.live(opened))
        await opened.wait()

    async def live(self, opened):
        async with self.app.lifespan():
            opened.set()
            await self.closing.wait()

    async def close(self):
        self.closing.set()
        await self.living

    async def at_desk(self, act, argument):
        salon = self.desk.salon
        match act:
            case "code":
                return await self.desk.write(pairing.new_code, salon, now_ms())
            case "heal":
                self.on, self.later = False, []
            case "backup":
                copy = self.folder / "copy"
                copy.unlink(missing_ok=True)
                await self.desk.write(salon.copy_to, copy)
                self.has_backup = True
            case "restore" if self.has_backup:
                await self.close()
                for path in self.folder.glob(f"{DATABASE_FILE}-*"):
                    path.unlink()
                shutil.copy(self.folder / "copy", self.folder / DATABASE_FILE)
                await self.open()
            case "erase":
                ledger = Ledger(self.folder)
                await self.desk.write(erasing.erase_client, salon, ledger, argument, now_ms())
            case "settled":
                return await self.desk.read(self.settled)
            case "close":
                await self.close()
                shutil.rmtree(self.folder)
        return None

    def settled(self):
        """What the desk has taken or refused for good: how often, by the operation's id."""
        with self.desk.salon.reading() as reading:
            rows = reading._rows("SELECT op_id FROM log UNION ALL SELECT op_id FROM refused")
        return [op_id for (op_id,) in rows]

    async def call(self, scope, body):
        """Return what the phone gets, and whether it gets it whole."""
        names, weights = zip(*self.fates, strict=True)
        fate = self.rng.choices(names, weights)[0] if self.on else "ok"
        if self.later and self.rng.random() < 0.5:
            await answered(self.app, *self.later.pop(0))
        match fate:
            case "lost":
                return (200, [], b""), False
            case "cut":
                cut = body[: self.rng.randrange(len(body))] if body else b""
                return await answered(self.app, scope, cut), False
            case "twice":
                both = await asyncio.gather(
                    answered(self.app, scope, body), answered(self.app, scope, body)
                )
                return both[1], True
            case "late":
                self.later.append((scope, body))
            case "answer lost":
                return await answered(self.app, scope, body), False
            case "busy":
                return refusal(503, "busy"), True
            case "broken":
                return refusal(500, "broken"), True
        return await answered(self.app, scope, body), True


def refusal(status, code):
    body = msgspec.json.encode({"status": status, "code": code, "detail": "Not now."})
    return status, [(b"content-type", b"application/problem+json")], body


async def answered(app, scope, body):
    """Ask an application; return status, headers and body of its answer."""
    waiting = [{"type": "http.request", "body": body, "more_body": False}]
    gone = asyncio.Event()
    status, headers, parts = 500, [], []

    async def receive():
        if waiting:
            return waiting.pop()
        await gone.wait()
        return {"type": "http.disconnect"}

    async def send(message):
        nonlocal status, headers
        if message["type"] == "http.response.start":
            status, headers = message["status"], message["headers"]
        elif message["type"] == "http.response.body":
            parts.append(message.get("body", b""))

    # The length a cut body was announced with is no longer its own.
    kept = [(name, value) for name, value in scope["headers"] if name != b"content-length"]
    headed = {**scope, "headers": [*kept, (b"content-length", str(len(body)).encode())]}
    await app(headed, receive, send)
    return status, headers, b"".join(parts)


class Salons:
    """The application that stands before all of them."""

    def __init__(self, folder):
        self.folder = folder
        self.template = made_once(folder / "template")
        self.open = {}

    async def __call__(self, scope, receive, send):
        if scope["type"] == "lifespan":
            await lifespan(receive, send)
            return
        body = b""
        while True:
            message = await receive()
            body += message.get("body", b"")
            if not message.get("more_body"):
                break
        _, seed, rest = scope["path"].split("/", 2)
        salon = await self.salon(seed)
        if rest.startswith("-/"):
            act, _, argument = rest[2:].partition("/")
            said = await salon.at_desk(act, unquote(argument))
            answer, whole = (200, [], msgspec.json.encode(said)), True
            if act == "close":
                del self.open[seed]
        else:
            path = {**scope, "path": f"/{rest}", "raw_path": f"/{rest}".encode()}
            if rest.startswith("api/sync/"):
                answer, whole = await salon.call(path, body)
            else:
                answer, whole = await answered(salon.app, path, body), True
        await pass_on(answer, whole, send)

    async def salon(self, seed):
        if seed not in self.open:
            folder = Path(shutil.copytree(self.template, self.folder / seed))
            self.open[seed] = FaultySalon(seed, folder)
            await self.open[seed].open()
        return self.open[seed]


async def pass_on(answer, whole, send):
    """Send an answer; one that is not whole ends within its body, and the connection with it."""
    status, headers, body = answer
    kept = [(name, value) for name, value in headers if name != b"content-length"]
    length = len(body) if whole else len(body) + 1
    length_header = (b"content-length", str(length).encode())
    start = {"type": "http.response.start", "status": status, "headers": [*kept, length_header]}
    await send(start)
    # What uvicorn says of a body that is too short is what was wanted.
    with suppress(RuntimeError):
        await send({"type": "http.response.body", "body": body})


async def lifespan(receive, send):
    while True:
        message = await receive()
        await send({"type": f"{message['type']}.complete"})
        if message["type"] == "lifespan.shutdown":
            return


def main():
    with tempfile.TemporaryDirectory() as folder:
        settings = uvicorn.Config(Salons(Path(folder)), "127.0.0.1", 0, log_level="critical")
        server = uvicorn.Server(settings)

        async def serve():
            serving = asyncio.create_task(server.serve())
            while not server.started:  # noqa: ASYNC110 (it has no event to wait for)
                await asyncio.sleep(0.01)
            port = server.servers[0].sockets[0].getsockname()[1]
            print(f"http://127.0.0.1:{port}", flush=True)
            await serving

        asyncio.run(serve())


if __name__ == "__main__":
    sys.exit(main())
