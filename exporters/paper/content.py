"""Paragraphs as plain data for the typesetter."""

from __future__ import annotations

import re
from typing import Any, TypeAlias

from ...bank.item import formula
from ...bank.item.item import Math, Paragraph
from ..markup.elements import clean
from .formulas import formula_data

Data: TypeAlias = dict[str, Any]

LONGEST_WORD = 36  # letters that fit a narrow column
MAY_BREAK = "\u200b"
_LONG = re.compile(rf"\S{{{LONGEST_WORD}}}(?=\S)")


def words(text: str) -> str:
    """Text that fits the page: what no file may hold is gone, and a very long word may break."""
    return _LONG.sub(lambda found: found[0] + MAY_BREAK, clean(text))


def paragraph_data(paragraph: Paragraph) -> list[Data]:
    """The parts of a paragraph: texts, and formulas with the words that a screen reader says."""
    return [
        {"math": formula_data(part.node), "alt": clean(formula.spoken(part.node))}
        if isinstance(part, Math)
        else {"text": words(part.text)}
        for part in paragraph
    ]
