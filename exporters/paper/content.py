"""Paragraphs and drawings as plain data for the typesetter."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from ...bank.errors import FigureError
from ...bank.item import formula
from ...bank.item.drawing import Drawing
from ...bank.item.item import Math, Paragraph
from ..markup.elements import clean
from ..markup.svg import svg
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


@dataclass
class PaperFigures:
    """The drawings of one document, each kept once; ``place`` gives the name under which the data refers to it."""

    _placed: dict[Drawing, tuple[str, str]] = field(default_factory=dict)

    def place(self, drawing: Drawing, owner: str) -> str:
        """The name of a drawing; ``owner`` is the question that shows it."""
        return self._placed.setdefault(drawing, (f"figure-{len(self._placed) + 1}", owner))[0]

    def data(self) -> Data:
        """All drawings by name. Raises FigureError for one that can't be drawn."""
        return {name: _figure(drawing, owner) for drawing, (name, owner) in self._placed.items()}

    def owners(self) -> dict[str, str]:
        """The question that shows each drawing, by its name."""
        return dict(self._placed.values())


def _figure(drawing: Drawing, owner: str) -> Data:
    """A drawing as the text of its file, with its text alternative."""
    try:
        content = svg(drawing).decode()
    except FigureError as error:
        raise FigureError(owner, error.wrong) from error
    return {"svg": content, "alt": clean(drawing.alternative or drawing.title)}
