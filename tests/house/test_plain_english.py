"""Short sentences and everyday words, in the documents and on the screens.

The limits are the project's own. Readability research agrees that long sentences are hard to
read, but no published source gives these figures.
"""

import json
import re
import statistics
import subprocess
from pathlib import Path

import pytest
from plain_english import said_in_python, sentences, words

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(ROOT.glob("docs/**/*.md"))]
# Folders of code whose comments and docstrings follow the same rules.
CODE = ["scripts", "api/basinside/contract", "api/basinside/engine"]
README_LINES = 110
MEDIAN_WORDS = 17
MOST_WORDS = 35
# Old or roundabout words. Say again, anyone who, happened; and show, is listed or works.
QUAINT = re.compile(r"\b(?:anew|whoever|befell|stands)\b", re.IGNORECASE)


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_the_readme_is_short():
    assert (ROOT / "README.md").read_text().count("\n") <= README_LINES


@pytest.mark.parametrize("document", DOCUMENTS, ids=named)
def test_a_usual_sentence_is_short(document):
    counted = [words(each) for each in sentences(document.read_text()).prose]
    assert statistics.median(counted) <= MEDIAN_WORDS


@pytest.mark.parametrize("document", DOCUMENTS, ids=named)
def test_no_sentence_is_long(document):
    found = sentences(document.read_text())
    assert [each for each in found.prose + found.cells if words(each) > MOST_WORDS] == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=named)
def test_a_document_uses_everyday_words(document):
    assert QUAINT.findall(document.read_text()) == []


def texts_on_screens() -> list[dict[str, str]]:
    """Every text that the pages may show, with its file and line."""
    listed = subprocess.run(
        ["node", "web/scripts/said.mjs"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [json.loads(line) for line in listed.stdout.splitlines()]


def test_the_screens_use_everyday_words():
    said = texts_on_screens()
    assert any("Tap the colour that matches" in each["text"] for each in said)
    assert [each for each in said if QUAINT.search(each["text"])] == []


def said_by_code(folder: str) -> list[tuple[str, str]]:
    """Every sentence of a folder's comments and docstrings, with its file."""
    files = sorted((ROOT / folder).rglob("*.py"))
    return [(named(file), each) for file in files for each in said_in_python(file.read_text())]


@pytest.mark.parametrize("folder", CODE)
def test_the_code_s_own_words_are_short_and_everyday(folder):
    said = said_by_code(folder)
    assert statistics.median(words(each) for _, each in said) <= MEDIAN_WORDS
    assert [each for each in said if words(each[1]) > MOST_WORDS] == []
    assert [each for each in said if QUAINT.search(each[1])] == []


def test_what_a_python_file_says_is_cut_like_a_document():
    source = '''"""One two. Three

four five."""
x = 1  # six seven

# eight nine
# ten. Eleven `a.b` twelve.


def f():
    """Thirteen."""
    y = "# no comment. At all."
'''
    assert said_in_python(source) == [
        *("One two.", "Three", "four five.", "Thirteen.", "six seven"),
        *("eight nine ten.", "Eleven Code twelve."),
    ]


def test_sentences_are_cut_where_a_reader_stops():
    text = """\
# A heading is no sentence

First one, at `basinside serve`. Second
one, in 3.5 g? "Third." [Fourth](here.md): still the fourth.

- An item.
  It goes on.
- **Another** item
- **A heading.** Its text. `code` goes on.

| a cell | two. Three |
|---|---|

```
code is no sentence. At all.
```
"""
    found = sentences(text)
    assert [words(each) for each in found.prose] == [4, 5, 1, 4, 2, 3, 2, 2, 3]
    assert [words(each) for each in found.cells] == [2, 1, 1]


@pytest.mark.parametrize("sentence", ["Save it anew.", "Whoever has it.", "It stands here."])
def test_an_old_word_is_seen(sentence):
    assert QUAINT.search(sentence)
