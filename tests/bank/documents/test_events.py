"""libyaml's events where it reads as PyYAML's own parser does: the same data, places and faults, letter for letter."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator

import pytest
import yaml
from turnwright.bank.documents import events
from turnwright.bank.documents.document import Document, parse_document
from turnwright.bank.reading.files import shipped_files

from tests.bank.documents.test_document import WRONG
from tests.bank.problems import varied
from tests.bank.reading.test_files import blocks

PIECES = (
    *":,?|>-#&*!%@`~'\"{}[]\\\n\t\r\u2028\x85é😀", "", ": ", "- ", " #", "? ", "&a ", "*a", "!x ", "! ", "!!str ",
    "\n  ",
    ">-\n", "|2\n", "---\n", "...\n", "%YAML 1.1\n", "\\x41", "\\ud800", "<<: ", "\r\n", "''",
)  # fmt: skip
EDITS = 1_500

pytestmark = pytest.mark.skipif(not hasattr(yaml, "CSafeLoader"), reason="PyYAML came without libyaml")


def both(text: bytes, patch: pytest.MonkeyPatch) -> tuple[Document, Document]:
    """The document as it is read, and as PyYAML's own parser alone reads it."""
    quick = parse_document(text, "lantern.yaml")
    with patch.context() as alone:
        alone.setattr(events, "_APART", re.compile(""))
        return quick, parse_document(text, "lantern.yaml")


def edited() -> Iterator[str]:
    """A few lines of shipped files with pieces put in that mean something to YAML."""
    draw = random.Random(1)
    files = [each.read_text("utf-8").splitlines(keepends=True) for each in shipped_files()]
    for _ in range(EDITS):
        lines = draw.choice(files)
        first = draw.randrange(len(lines))
        text = "".join(lines[first : first + draw.randrange(1, 8)])
        for _ in range(draw.randrange(1, 4)):
            place = draw.randrange(len(text) + 1)
            text = text[:place] + draw.choice(PIECES) + text[place + draw.choice((0, 0, 1, 2)) :]
        yield text


def test_every_file_and_every_fault_reads_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    texts = [each.read_bytes() for each in shipped_files()]
    texts += [each if isinstance(each, bytes) else each.encode() for _, each, *_ in WRONG]
    texts += [varied(*changes).encode() for _, changes, *_ in blocks()]
    for text in texts:
        quick, alone = both(text, monkeypatch)
        assert vars(quick) == vars(alone), text[:200]


def test_a_text_with_anything_in_it_reads_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    for text in edited():
        quick, alone = both(text.encode("utf-8", "replace"), monkeypatch)
        assert vars(quick) == vars(alone), text


def test_shipped_files_are_read_by_libyaml() -> None:
    quick = [events.quick_events(each.read_text("utf-8")) for each in shipped_files()]
    assert all(quick)


def test_what_the_parsers_read_apart_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: libyaml is believed about texts that it reads otherwise."""
    monkeypatch.setattr(events, "_may_differ", lambda event: False)
    told = [text for text in ("a: [b?c]\n", "a: {b: ,1}\n", "! : 1\n") if _differ(text, monkeypatch)]
    assert len(told) >= 2


def _differ(text: str, patch: pytest.MonkeyPatch) -> bool:
    quick, alone = both(text.encode(), patch)
    return vars(quick) != vars(alone)
