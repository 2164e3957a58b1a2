"""Paragraphs as plain data for the typesetter."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any, TypeAlias

from ...bank.item import formula
from ...bank.item.drawing import Drawing
from ...bank.item.item import Math, Paragraph, SolutionDrawing, Spoken, ValueTable
from ...bank.language import spoken_unit
from ..markup.elements import clean
from .formulas import formula_data

Data: TypeAlias = dict[str, Any]

LONGEST_WORD = 36  # letters that fit a narrow column
MAY_BREAK = "\u200b"
_LONG = re.compile(rf"\S{{{LONGEST_WORD}}}(?=\S)")
WHOLE = 24  # letters of a formula that a line never breaks
NO_BREAK = "\u00a0"
_NUMBER = re.compile(r"\d[\d.,]*")
_FACTOR = r"(?:[A-Za-zα-ω](?:_[A-Za-z0-9]+)?[²³]?|\d[\d.]*|½|(?:sin|cos|tan)²?)"
_IN_FORMULA = re.compile(rf"{_FACTOR}(?:/{_FACTOR})*|[=+−×≤≥≈<>]")
_NO_LETTERS = ("a", "I")  # alone, these are words


def words(text: str) -> str:
    """Text that fits the page: what no file may hold is gone, a formula holds together, a very long word may break."""
    return _LONG.sub(lambda found: found[0] + MAY_BREAK, _held_together(clean(text)))


def _held_together(text: str) -> str:
    """The text with a space that no line breaks inside a formula and between a number and its unit: ``½ m v²``."""
    first, *others = parts = text.split(" ")
    spaces = (NO_BREAK if _is_one(*pair) else " " for pair in pairwise(parts))
    return first + "".join(space + other for space, other in zip(spaces, others, strict=True))


def _is_one(before: str, after: str) -> bool:
    """Whether two words are neighbours in a formula, or a number with its unit."""
    left, right = before.lstrip("(“"), after.rstrip(".,;:?!)”")
    if _NUMBER.fullmatch(left) and spoken_unit(right) != right:
        return True
    return left not in _NO_LETTERS and right != "I" and all(map(_IN_FORMULA.fullmatch, (left, right)))


def paragraph_data(paragraph: Paragraph, place: Callable[[Drawing], str] | None = None) -> list[Data]:
    """The parts of a paragraph: texts, formulas with the words that a screen reader says, a table, a drawing.

    ``place`` gives a drawing its name among the figures of the document.
    """
    found: list[Data] = []
    for part in paragraph:
        match part:
            case ValueTable(heads=heads, rows=rows):
                cells = [[words(cell.text) for cell in row] for row in rows]
                found.append({"table": {"heads": [list(map(_part, each)) for each in heads], "rows": cells}})
            case SolutionDrawing(drawing=drawing) if place:
                found.append({"figure": place(drawing)})
            case SolutionDrawing(text=text):
                found.append({"text": words(text)})
            case _:
                found.append(_part(part))
    return found


def _part(part: Spoken) -> Data:
    if not isinstance(part, Math):
        return {"text": words(part.text)}
    return {
        "math": formula_data(part.node),
        "alt": clean(formula.spoken(part.node)),
        "whole": len(formula.text(part.node)) <= WHOLE,
    }
