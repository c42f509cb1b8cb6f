"""Packs the engine for the phone: beside the built pages, the files its worker loads.

The pack is the Python runtime for browsers, the part of the standard library that the engine
imports, msgspec's wheel for that runtime, and the contract's and the engine's own files. Its
folder is named by a hash of its content. `engine.json` names the folder, and holds questions
with the answers CPython gave while packing: the phone must give the same before it is trusted.
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
ANY_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can say: equal content, equal bytes

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
# Every call, and each way to be refused: together they import all that the engine ever does.
SELF_TEST: tuple[tuple[str, dict[str, Any] | str, int], ...] = (
    ("predictions", {"hair": _HAIR, "mix": _MIX, "products": _SHELF}, 200),
    ("formulations", {"hair": _HAIR, "wish": _WISH, "products": _SHELF}, 200),
    ("safety/reviews", _REVIEW, 200),
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
    engine = zipped(engine_files())
    known = [known_answer(*asked) for asked in SELF_TEST]
    files = {name: (RUNTIME / name).read_bytes() for name in RUNTIME_FILES}
    files["pyodide-lock.json"] = lock_without_packages()
    files["python_stdlib.zip"] = zipped(imported_library(engine, known))
    files["engine.zip"] = engine
    write_pack(files, known)


def engine_files() -> dict[str, bytes]:
    """Return the files of msgspec's wheel and of the engine, by their path in site-packages."""
    with zipfile.ZipFile(msgspec_wheel()) as wheel:
        found = {
            name: wheel.read(name)
            for name in wheel.namelist()
            if name.startswith("msgspec/") and not name.endswith(".pyi")
        }
    package = ROOT / "api" / "basinside"
    found["basinside/__init__.py"] = (package / "__init__.py").read_bytes()
    for floor in PACKAGES:
        for path in sorted((package / floor).rglob("*")):
            if path.is_file() and path.suffix in {".py", ".toml"}:
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


def imported_library(engine: bytes, known: list[dict[str, Any]]) -> dict[str, bytes]:
    """Return the standard library's files that the self-test imports in the runtime itself."""
    packed = CACHE / "engine.zip"
    CACHE.mkdir(exist_ok=True)
    packed.write_bytes(engine)
    said = subprocess.run(
        ["node", WEB / "scripts" / "imported.mjs", packed],
        input=json.dumps(known),
        capture_output=True,
        text=True,
        env=ENVIRONMENT,
        check=False,
    )
    if said.returncode != 0:
        sys.exit(f"{said.stderr}\nThe runtime did not answer the self-test; its words are above.")
    with zipfile.ZipFile(RUNTIME / "python_stdlib.zip") as library:
        return {name: library.read(name) for name in json.loads(said.stdout)}


def lock_without_packages() -> bytes:
    """Return the runtime's list of packages, emptied: the phone fetches none."""
    lock = json.loads((RUNTIME / "pyodide-lock.json").read_text())
    return json.dumps({**lock, "packages": {}}).encode()


def zipped(files: dict[str, bytes]) -> bytes:
    """Return an archive that is not compressed: brotli does that better, over all of it."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            archive.writestr(zipfile.ZipInfo(name, ANY_DAY), files[name])
    return target.getvalue()


def write_pack(files: dict[str, bytes], known: list[dict[str, Any]]) -> None:
    """Write the files into a folder named by their hash, and engine.json beside the pages."""
    total = hashlib.sha256()
    for name in sorted(files):
        total.update(f"{name} {hashlib.sha256(files[name]).hexdigest()}\n".encode())
    folder = DIST / "assets" / f"engine-{total.hexdigest()[:12]}"
    for old in DIST.glob("assets/engine-*"):
        shutil.rmtree(old)
    folder.mkdir(parents=True)
    for name, content in files.items():
        (folder / name).write_bytes(content)
    pack = {
        "folder": f"/{folder.relative_to(DIST).as_posix()}/",
        "engine_version": engine_version(),
        "files": [{"name": name, "bytes": len(files[name])} for name in sorted(files)],
        "self_test": known,
    }
    (DIST / "engine.json").write_text(json.dumps(pack))


if __name__ == "__main__":
    main()
