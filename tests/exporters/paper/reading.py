"""Papers of the sample questions, and what two independent readers of PDF find in them."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import unicodedata
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

import pypdf
import pytest
from turnwright.bank.item.item import Item, Paragraph, Words
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.writing.laws import Law
from turnwright.exporters.paper import PaperLayout, Papers, papers


def no_laws(_: Sequence[Item]) -> Sequence[Law]:
    return ()


def made(pack: Pack, layout: PaperLayout | None = None) -> Papers:
    return papers(pack, layout or PaperLayout(), no_laws)


def pack_of(*items: Item, title: str = "The lantern at the fair") -> Pack:
    """A pack with a question for each item."""
    sections = tuple(
        Section(f"q.{place}", item.metadata, (), [None], partial(iter, [item])) for place, item in enumerate(items)
    )
    return Pack(title, "exam", "9.8 N/kg", 1, sections)


def opened(content: bytes | None) -> pypdf.PdfReader:
    assert content is not None
    return pypdf.PdfReader(io.BytesIO(content))


def squeezed(text: str) -> str:
    """The letters of a text without spaces; styled letters of formulas count as plain ones."""
    return re.sub(r"[\s\u200b]+", "", unicodedata.normalize("NFKC", text))


def text_of(content: bytes | None) -> str:
    """All text, as pypdf reads it."""
    return squeezed("".join(page.extract_text() for page in opened(content).pages))


def poppler_text(content: bytes | None, *options: str) -> str:
    """All text, as pdftotext of Debian's poppler-utils reads it."""
    if not shutil.which("pdftotext"):
        absent = "pdftotext (poppler-utils) is not installed"
        pytest.fail(absent) if os.environ.get("TURNWRIGHT_NEEDS_SHARED") else pytest.skip(absent)
    assert content is not None
    found = subprocess.run(["pdftotext", *options, "-", "-"], input=content, capture_output=True, check=True)
    return found.stdout.decode()


def runs(paragraph: Paragraph) -> Iterator[str]:
    """The words of a paragraph between its formulas."""
    run = ""
    for part in paragraph:
        if isinstance(part, Words) or hasattr(part, "number"):
            run += part.text  # type: ignore[union-attr]
        elif run:
            yield run
            run = ""
    if run:
        yield run


def elements(content: bytes | None) -> list[Any]:
    """The elements of the structure tree, in reading order."""
    found: list[Any] = []

    def walk(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, pypdf.generic.ArrayObject):
            for each in node:
                walk(each)
        elif isinstance(node, pypdf.generic.DictionaryObject):
            if "/S" in node:
                found.append(node)
            if "/K" in node:
                walk(node["/K"])

    root: Any = opened(content).trailer["/Root"]
    walk(root["/StructTreeRoot"])
    return found
