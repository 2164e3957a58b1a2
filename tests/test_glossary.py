"""One word for one thing: the glossary of DEVELOPERS.md against the code, its schemas and the README."""

from __future__ import annotations

import io
import re
import tokenize
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
_ROW = re.compile(r"^\| (?P<term>[^|]+) \| (?P<means>[^|]+) \| (?P<banned>[^|]*) ?\|$", re.MULTILINE)


def glossary() -> list[tuple[str, list[str]]]:
    """Each term with the words that are not used for it."""
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    rows = _ROW.finditer(page[page.index("## Words") : page.index("## How do I add")])
    found = [(row["term"].strip(), [each.strip() for each in row["banned"].split(",") if each.strip()]) for row in rows]
    return [each for each in found if each[0] not in ("term", "---")]


@cache
def sources() -> str:
    """The code, its schemas and the README."""
    files = [*(path for part in ("bank", "exporters", "schemas") for path in (ROOT / part).rglob("*.py"))]
    files += [*(ROOT / "schemas").glob("*.json"), ROOT / "README.md"]
    return "\n".join(path.read_text("utf-8") for path in files)


@cache
def names() -> str:
    """The names in the code, one a line: a car that slips is a sentence, a variable that is called so a second word."""
    files = (path for part in ("bank", "exporters", "schemas") for path in (ROOT / part).rglob("*.py"))
    read = ((path, tokenize.generate_tokens(io.StringIO(path.read_text("utf-8")).readline)) for path in files)
    found = {token.string for _, tokens in read for token in tokens if token.type == tokenize.NAME}
    found |= {path.stem for part in ("bank", "exporters") for path in (ROOT / part).rglob("*.py")}
    return "\n".join(sorted(found))


def word_of(word: str) -> re.Pattern[str]:
    """A word in a text, also as a part of a name, in singular or plural."""
    parts = r"[ _-]?".join(map(re.escape, word.split()))
    camel = "".join(part.capitalize() for part in word.split())
    return re.compile(rf"(?<![a-z]){parts}(?:e?s)?(?![a-z])|{camel}(?![a-z])", re.MULTILINE)


def uses(text: str, word: str) -> list[str]:
    """Where a word stands in a text."""
    return word_of(word).findall(text)


def test_the_glossary_is_read() -> None:
    terms = [term for term, _ in glossary()]
    assert len(terms) >= 25
    assert any(banned for _, banned in glossary())


@pytest.mark.parametrize(("term", "banned"), glossary(), ids=[term for term, _ in glossary()])
def test_each_term_is_found_in_the_code_and_no_other_word_for_it(term: str, banned: list[str]) -> None:
    text = sources()
    for word in term.split(", "):
        assert word_of(word).search(text), f"'{word}' is in the glossary and nowhere else"
    for word in banned:
        assert uses(names(), word) == [], f"'{word}' is said, where '{term}' is meant"


def test_a_banned_word_is_found_as_a_name_and_in_a_sentence() -> None:
    assert uses("def slip_of(): ...", "slip") == ["slip"]
    assert uses("class SlipOf: ...", "slip") == ["Slip"]
    assert uses("all_slips", "slip") == ["slips"]
    assert uses("slipped", "slip") == []
