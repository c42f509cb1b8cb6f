"""The engine is a function of its input: no clock, no chance, no files, no network.

The phone and the server run the same files and must agree to the last answer, so an
engine file may import only what is listed here.
"""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "api" / "basinside"
FILES = sorted([*(PACKAGE / "engine").rglob("*.py"), *(PACKAGE / "contract").rglob("*.py")])

PURE_MODULES = {
    "__future__", "bisect", "collections", "dataclasses", "enum", "fractions",
    "functools", "heapq", "itertools", "json", "math", "msgspec", "operator", "re",
    "string", "tomllib", "typing",
}  # fmt: skip
# Who may read package files, the engine's only input that is not in the question.
ALSO = {
    "contract/fact_rows.py": {"importlib.resources"},
    "engine/version.py": {"hashlib", "importlib.resources"},
    "engine/safety/rulebook.py": {"importlib.resources"},
}
# `hash` of text differs from process to process, and so would an order that rests on it.
IMPURE_NAMES = {"open", "print", "input", "eval", "exec", "compile", "__import__", "hash"}


def _is_read(node: ast.AST) -> bool:
    """Whether a name is used; a field that bears it is no use of it."""
    return isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)


def impurities(source: str, also: frozenset[str] | set[str] = frozenset()) -> list[str]:
    """Every import that is not allowed and every impure name used, each with its line."""
    found = []
    for node in ast.walk(ast.parse(source)):
        modules = []
        if isinstance(node, ast.Import):
            modules = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            modules = [node.module or ""]
        elif _is_read(node) and node.id in IMPURE_NAMES:
            found.append(f"line {node.lineno}: {node.id}")
        found += [
            f"line {node.lineno}: {module}"
            for module in modules
            if module.partition(".")[0] not in PURE_MODULES
            and not any(module == open_ or module.startswith(f"{open_}.") for open_ in also)
        ]
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_an_engine_file_imports_only_what_is_pure(path):
    assert impurities(path.read_text(), ALSO.get(path.relative_to(PACKAGE).as_posix(), set())) == []


def test_the_engine_files_are_really_read():
    read = {path.relative_to(PACKAGE).as_posix() for path in FILES}
    assert {"engine/door.py", "engine/colour/lab.py", "contract/hair.py"} <= read


@pytest.mark.parametrize(
    "fault",
    [
        "import time",
        "from datetime import datetime",
        "import random as chance",
        "def f():\n    from os import environ",
        "from importlib.resources import files",
        "import hashlib",
        "import numpy",
        "from litestar import get",
        "rules = open('rules.toml')",
        "order = sorted(words, key=hash)",
    ],
)
def test_a_clock_chance_file_or_framework_in_the_engine_is_seen(fault):
    assert impurities(fault)


def test_pure_imports_and_imports_within_the_package_pass():
    assert not impurities("from math import sin\nfrom ..contract.hair import Hair\nimport msgspec")
