"""Cuts a Markdown document, or what Python files say, into sentences whose words tests count.

Prose is every paragraph and list item. Code blocks, headings and a bold heading that opens a list
item are left out. A table's cells are sentences too, but short by nature, so they are given apart.
"""

import ast
import io
import re
import tokenize
from typing import NamedTuple

FENCED = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
TAG = re.compile(r"<[^>]+>")
LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
CODE = re.compile(r"`[^`]+`")
ITEM = re.compile(r"^\s*(?:[-*]|\d+\.)\s+", re.MULTILINE)
HEADING_OF_ITEM = re.compile(r"^\*\*[^*]+\.\*\*\s*")
# A full stop, a question or an exclamation ends a sentence; the next begins with a capital, a
# figure or an opening mark. A colon or a semicolon ends none.
ENDED = re.compile(r"(?<=[.!?])[\"”*)_]*\s+(?=[\"“*(_]*[A-Z0-9])")
WORD = re.compile(r"\w+(?:[.,’'–-]\w+)*")


class Sentences(NamedTuple):
    """The sentences of a document: those in its prose, and those in the cells of its tables."""

    prose: list[str]
    cells: list[str]


def sentences(markdown: str) -> Sentences:
    """Return the sentences of a document; a piece of code or an address counts as one word."""
    text = FENCED.sub("\n", markdown)
    text = CODE.sub("Code", LINK.sub(r"\1", TAG.sub("", text)))
    prose: list[str] = []
    cells: list[str] = []
    block: list[str] = []

    def close() -> None:
        prose.extend(ENDED.split(" ".join(block)))
        block.clear()

    for line in text.splitlines():
        if line.startswith("|"):
            close()
            cells += [part for cell in line.strip("|").split("|") for part in ENDED.split(cell)]
        elif not line.strip() or line.startswith("#"):
            close()
        else:
            if ITEM.match(line):
                close()
            block.append(HEADING_OF_ITEM.sub("", ITEM.sub("", line).strip()))
    close()
    return Sentences(
        [each for each in prose if words(each)], [each for each in cells if words(each)]
    )


def words(sentence: str) -> int:
    """Return how many words a sentence has: "3 ΔE" are two, "well-known" is one."""
    return len(WORD.findall(sentence))


def said_in_python(source: str) -> list[str]:
    """Return the sentences of a Python file's docstrings and comments; code counts as one word."""
    blocks: list[str] = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            docstring = ast.get_docstring(node) or ""
            blocks += re.split(r"\n\s*\n|\n(?=\s*[-*] )", docstring)
    last_line = -1
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type != tokenize.COMMENT:
            continue
        text = token.string.lstrip("#: ")
        goes_on = token.start[0] == last_line + 1 and token.line.lstrip().startswith("#")
        if goes_on:
            blocks[-1] += " " + text
        else:
            blocks.append(text)
        last_line = token.start[0]
    told = (CODE.sub("Code", " ".join(block.split())) for block in blocks)
    return [each for block in told for each in ENDED.split(block) if words(each)]
