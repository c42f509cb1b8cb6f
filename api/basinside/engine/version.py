"""Which engine answered: a hash of the files that decide its answers."""

import hashlib
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

_PACKED = ("contract", "engine")
# A pack for the phone holds bytecode and no sources, and beside it the version of its sources.
VERSION_FILE = "engine_version.txt"


def _packed_files(folder: Traversable, prefix: str) -> list[tuple[str, bytes]]:
    found: list[tuple[str, bytes]] = []
    for entry in folder.iterdir():
        name = f"{prefix}/{entry.name}"
        if entry.is_dir():
            if entry.name != "__pycache__":
                found += _packed_files(entry, name)
        elif entry.name.endswith((".py", ".toml")):
            found.append((name, entry.read_bytes()))
    return found


@cache
def engine_version() -> str:
    """Return twelve hex digits of the SHA-256 over the contract's and the engine's files.

    Server and phone carry the same files and so the same version; records keep it,
    since an answer of another version may differ.
    """
    package = files("basinside")
    said = package / VERSION_FILE
    if said.is_file():
        return said.read_text()
    digest = hashlib.sha256()
    packed = [pair for name in _PACKED for pair in _packed_files(package / name, name)]
    for name, content in sorted(packed):
        digest.update(f"{name}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()[:12]
