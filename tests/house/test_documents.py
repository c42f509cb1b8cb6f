"""What the documents point at is there."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(ROOT.glob("docs/**/*.md"))]
MAKE_TARGETS = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(), re.MULTILINE))

LINK = re.compile(r"\[[^\]]*\]\((?![a-z]+:)([^)\s#]*)(#[^)\s]+)?\)")
CODE = re.compile(r"```.*?```|`[^`\n]+`", re.DOTALL)
PATH = re.compile(r"(?:api|web|docs|scripts|tests|benchmarks|openapi|seed_demo)/[\w./-]*")
DECISION_PARTS = ("The question", "What we knew", "The choice", "Its cost", "What would change")


def anchors(document: Path) -> set[str]:
    """The headings of a document, as the fragments that links use."""
    headings = re.findall(r"^#+ (.+)$", document.read_text(), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def code_in(document: Path) -> str:
    """The parts of a document that are set as code."""
    return "\n".join(CODE.findall(document.read_text()))


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_relative_link_leads_somewhere(document):
    astray = []
    for target, fragment in LINK.findall(document.read_text()):
        linked = (document.parent / target).resolve() if target else document
        if not linked.exists() or (fragment and fragment[1:] not in anchors(linked)):
            astray.append(target + fragment)
    assert astray == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_make_target_that_is_named_exists(document):
    named = set(re.findall(r"\bmake ([a-z]+)", code_in(document)))
    assert named <= MAKE_TARGETS


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_path_that_is_named_exists(document):
    named = {found.rstrip(".") for found in PATH.findall(code_in(document))}
    assert [path for path in sorted(named) if not (ROOT / path).exists()] == []


def test_the_developers_guide_names_every_make_target():
    told = set(re.findall(r"\bmake ([a-z]+)", code_in(ROOT / "DEVELOPERS.md")))
    assert MAKE_TARGETS - {"prepare"} <= told


def test_decisions_are_numbered_without_a_gap_and_keep_to_one_form():
    decisions = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert [int(path.name[:4]) for path in decisions] == list(range(1, len(decisions) + 1))
    unlike = [
        f"{path.name}: {part}"
        for path in decisions
        for part in DECISION_PARTS
        if f"## {part}" not in path.read_text()
    ]
    assert unlike == []
