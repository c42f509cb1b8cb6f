"""Packs the engine for the phone: beside the built pages, the files its worker loads.

The pack holds the Python runtime for browsers and the part of the standard library that the engine
imports. It also holds msgspec's wheel for that runtime, the contract and the engine. All Python is
bytecode. Its folder is named by a hash of its content, and its files are cut into
pieces, so that a download that was broken off goes on where it stopped. `engine.json` names the
folder and the pieces, and holds questions with the answers CPython gave while packing: the phone
must give the same before it is trusted.
"""

import hashlib
import io
import json
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

from basinside.engine.door import answer, engine_version
from basinside.engine.version import VERSION_FILE
from quietly import CACHE, ENVIRONMENT, ROOT, VENV, run_quietly

WEB = ROOT / "web"
DIST = WEB / "dist"
RUNTIME = WEB / "node_modules" / "pyodide"
PHONE_LOCK = ROOT / "requirements-phone.lock"
PACKAGES = ("contract", "engine")
RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
# The one wheel whose hash the lock holds.
WHEEL_FOR = (
    *("--platform", "pyemscripten_2026_0_wasm32", "--implementation", "cp"),
    *("--python-version", "3.14", "--abi", "cp314"),
)
# About half a megabyte once compressed: what a broken download loses at most.
PIECE_BYTES = 1_200_000

_ENDS = {"hair": {"level": 10, "porosity": 0.8}, "share": 0.3, "name": "ends"}
_HAIR = {"level": 9.5, "porosity": 0.6, "also": [_ENDS]}
_SHELF: list[dict[str, Any]] = [
    {
        "id": tone,
        "name": tone,
        "line": "self-test",
        "class": "neutral_demi",
        "level": 9,
        "tone": [tone],
        "developer_percent": [1.9],
        "window": {"min": 5, "max": 20},
    }
    for tone in ("violet", "pearl", "gold", "clear")
]
_MIX = {"parts": [{"product": "violet", "grams": 20}], "minutes": 10}
_WISH = {"level": 9, "tone": ["pearl"]}
_MONDAY = "2026-11-23T10:00:00+01:00"
_REVIEW = {
    "facts": {"scalp": "sound", "tests": [{"line": "self-test", "applied_at": _MONDAY}]},
    "plan": {"lines": [{"line": "self-test", "product_class": "neutral_demi"}], "areas": ["scalp"]},
    "now": "2026-11-24T10:00:00+01:00",
    "starts_at": "2026-11-25T10:00:00+01:00",
    "time_zone": "Europe/Berlin",
}
_MADE_AT = "2026-11-23T10:00:00.000Z"
_ASTHMA = {"fact": "asthma", "value": "no", "at": _MONDAY}
_SERVICE = {
    "records": {
        "client": [{"id": "c1", "created_at": _MADE_AT, "answers": [_ASTHMA]}],
        "service": [{"id": "s1", "created_at": _MADE_AT, "client": "c1"}],
        "zone": [{"id": "z1", "created_at": _MADE_AT, "service": "s1", "mix": {}}],
    },
    "service": "s1",
    "now": "2026-11-24T10:00:00+01:00",
    "time_zone": "Europe/Berlin",
}
# Every call, and each way to be refused: together they import all that the engine ever does.
SELF_TEST: tuple[tuple[str, dict[str, Any] | str, int], ...] = (
    ("predictions", {"hair": _HAIR, "mix": _MIX, "products": _SHELF}, 200),
    ("formulations", {"hair": _HAIR, "wish": _WISH, "products": _SHELF}, 200),
    ("safety/reviews", _REVIEW, 200),
    ("safety/services", _SERVICE, 200),
    ("safety/services", _SERVICE | {"service": "s2"}, 422),
    ("safety/reviews", _REVIEW | {"now": "2026-02-30T10:00:00Z"}, 422),
    ("predictions", {"hair": {"level": 12}, "mix": _MIX, "products": _SHELF}, 400),
    ("predictions", {"hair": _HAIR, "mix": _MIX, "products": _SHELF[1:]}, 422),
    ("predictions", "no question", 400),
    ("predictions", "", 400),
)


def main() -> None:
    """Write the pack into web/dist, or exit 1 with a sentence."""
    if not (DIST / "index.html").exists():
        sys.exit("The engine is packed beside the built pages: run `npm run build` for both.")
    known = [known_answer(*asked) for asked in SELF_TEST]
    files = {name: (RUNTIME / name).read_bytes() for name in RUNTIME_FILES}
    write_pack(files | bytecode(zipped(engine_files()), known), known)


def engine_files() -> dict[str, bytes]:
    """Return the files of msgspec's wheel and of the engine, by their path in site-packages."""
    with zipfile.ZipFile(msgspec_wheel()) as wheel:
        found = {
            name: wheel.read(name)
            for name in wheel.namelist()
            if name.startswith("msgspec/") and not name.endswith(".pyi")
        }
    package = ROOT / "api" / "basinside"
    found[f"basinside/{VERSION_FILE}"] = engine_version().encode()
    found["basinside/__init__.py"] = (package / "__init__.py").read_bytes()
    # the door imports all that the engine needs; the rest of the contract is the server's
    needed = {module.__file__ for name, module in sys.modules.items() if name.startswith("basin")}
    for floor in PACKAGES:
        for path in sorted((package / floor).rglob("*")):
            if path.suffix == ".toml" or str(path) in needed:
                found[f"basinside/{path.relative_to(package).as_posix()}"] = path.read_bytes()
    return found


def msgspec_wheel() -> Path:
    """Return the locked wheel, fetched once."""
    locked = hashlib.sha256(PHONE_LOCK.read_bytes()).hexdigest()[:12]
    folder = CACHE / f"phone-{locked}"
    if not list(folder.glob("*.whl")):
        run_quietly(
            [
                *(VENV / "bin" / "python", "-m", "pip", "download", "--no-deps"),
                *("--only-binary=:all:", *WHEEL_FOR),
                *("--require-hashes", "-r", PHONE_LOCK, "--dest", folder),
            ],
            "phone",
            "The engine's package for the phone could not be fetched: see to the network.",
        )
    (wheel,) = folder.glob("*.whl")
    return wheel


def known_answer(question: str, asked: dict[str, Any] | str, status: int) -> dict[str, Any]:
    """Return a question with what CPython answers, or exit 1 when it is another status."""
    body = asked if isinstance(asked, str) else json.dumps(asked)
    reply = answer(question, body.encode())
    if reply.status != status:
        sys.exit(f"The self-test expects {status} and got {reply.status}: {reply.body.decode()}")
    return {"question": question, "body": body, "status": status, "reply": json.loads(reply.body)}


def bytecode(sources: bytes, known: list[dict[str, Any]]) -> dict[str, bytes]:
    """Return the engine and the library it imports in the runtime itself, compiled there."""
    CACHE.mkdir(exist_ok=True)
    written = [CACHE / name for name in ("engine-sources.zip", "engine.zip", "python_stdlib.zip")]
    written[0].write_bytes(sources)
    ran = ask_node("bytecode.mjs", *written, asked=json.dumps(known))
    if ran.returncode != 0:
        sys.exit(f"{ran.stderr}\nThe runtime did not answer the self-test; its words are above.")
    return {path.name: path.read_bytes() for path in written[1:]}


def ask_node(script: str, *arguments: Path, asked: str = "") -> subprocess.CompletedProcess[str]:
    """Return what a script of the pages' tools said."""
    return subprocess.run(
        ["node", WEB / "scripts" / script, *arguments],
        input=asked,
        capture_output=True,
        text=True,
        env=ENVIRONMENT,
        check=False,
    )


def zipped(files: dict[str, bytes]) -> bytes:
    """Return an archive of files by their name."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            archive.writestr(name, files[name])
    return target.getvalue()


def write_pack(files: dict[str, bytes], known: list[dict[str, Any]]) -> None:
    """Write the pieces into a folder named by their hash, and engine.json beside the pages."""
    total = hashlib.sha256()
    for name in sorted(files):
        total.update(f"{name} {hashlib.sha256(files[name]).hexdigest()}\n".encode())
    folder = DIST / "assets" / f"engine-{total.hexdigest()[:12]}"
    for old in DIST.glob("assets/engine-*"):
        shutil.rmtree(old)
    folder.mkdir(parents=True)
    pieces = {name: pieces_of(name, files[name]) for name in sorted(files)}
    for cut in pieces.values():
        for name, content in cut.items():
            (folder / name).write_bytes(content)
    ran = ask_node("compress_engine.mjs", folder)
    if ran.returncode != 0:
        sys.exit(ran.stderr)
    sent_bytes = json.loads(ran.stdout)
    pack = {
        "folder": f"/{folder.relative_to(DIST).as_posix()}/",
        "engine_version": engine_version(),
        "files": [
            {
                "name": name,
                "pieces": [
                    {
                        "name": piece,
                        "bytes": len(content),
                        "sent_bytes": sent_bytes[piece],
                        # The phone checks by it what it has kept: a kill may leave half a write.
                        "sha256": hashlib.sha256(content).hexdigest(),
                    }
                    for piece, content in cut.items()
                ],
            }
            for name, cut in pieces.items()
        ],
        "lock": json.loads((RUNTIME / "pyodide-lock.json").read_text()) | {"packages": {}},
        "self_test": known,
    }
    (DIST / "engine.json").write_text(json.dumps(pack))


def pieces_of(name: str, content: bytes) -> dict[str, bytes]:
    """Return a file in pieces, by name; a script stays whole, since the browser loads it itself."""
    if name.endswith(".mjs") or len(content) <= PIECE_BYTES:
        return {name: content}
    starts = range(0, len(content), PIECE_BYTES)
    return {
        f"{name}.{place}": content[start : start + PIECE_BYTES]
        for place, start in enumerate(starts)
    }


if __name__ == "__main__":
    main()
