"""What a place of an item says, and what it should say, in one form: no spaces, one spelling of each character.

A formula is MathML, or stands on a line of plain HTML; the form keeps them apart.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from ....bank.item import formula
from ....bank.item.drawing import Drawing
from ....bank.item.item import Given, Math, Paragraph, Words
from ...strangers.documents import Element
from ..dialect import MATHML
from ..reading.item_file import FEEDBACK
from .formulas import LOWERED, RAISED, of_formula, of_mathml, on_a_line

_MATH = f"{MATHML}math"
_SHIFTED = {"sub": LOWERED, "sup": RAISED}
BOX = "▭"  # stands for a place to type in


def plain_words(text: str) -> str:
    """The text without spaces and characters that cannot be seen."""
    words = "".join(unicodedata.normalize("NFKC", text).split())
    return words if words.isprintable() else "".join(filter(str.isprintable, words))


def said_by(element: Element, leave_out: frozenset[str] = FEEDBACK) -> str:
    """What an element says, formulas and the alternatives of its pictures with it."""
    return plain_words(_raw(element, leave_out))


def _raw(element: Element, leave_out: frozenset[str]) -> str:
    if element.name == _MATH:
        return of_mathml(element)
    if element.name == "img":
        return element.get("alt")
    if element.name == "qti-text-entry-interaction":
        return BOX
    inside = [element.text]
    for each in element.children:
        inside.append("" if each.name in leave_out else _raw(each, leave_out))
        inside.append(each.tail)
    said = "".join(inside)
    return _SHIFTED[element.name].format(said) if element.name in _SHIFTED else said


def expected_words(content: Paragraph | Drawing) -> tuple[str, ...]:
    """What an element written from ``content`` should say: with formulas as MathML, or as plain HTML."""
    if isinstance(content, Drawing):
        return (plain_words(content.alternative),)
    if not any(isinstance(part, Math) for part in content):
        return (_written(content, of_formula),)
    return _written(content, of_formula), _written(content, on_a_line)


def _written(content: Paragraph, set_formula: Callable[[formula.Node], str]) -> str:
    said = []
    for part in content:
        match part:
            case Words(text=text) | Given(text=text):
                said.append(text)
            case Math(node=node):
                said.append(set_formula(node))
    return plain_words("".join(said))


def says(said: str, wanted: tuple[str, ...]) -> bool:
    """Whether what is said holds the wanted words in one of their forms."""
    return any(each in said for each in wanted)


def says_something(said: str) -> bool:
    """Whether there is a letter or a digit in it."""
    return any(each.isalnum() for each in said)
