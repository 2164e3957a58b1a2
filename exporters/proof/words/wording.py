"""What a place of an item says, and what it should say, in one form: no spaces, one spelling of each character.

A formula is MathML, or stands on a line of plain HTML without any markup of formulas; the form keeps them apart. On a
line, what is lowered stands as ``_⟦ ⟧``, what is raised as ``^⟦ ⟧``. A fraction is a stroke, a root a sign before
brackets, and a part is in brackets where the line would else mean something else.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from ....bank.item import formula
from ....bank.item.drawing import Drawing
from ....bank.item.item import Given, Math, Paragraph, Words, spoken
from ...strangers.documents import Element
from ..dialect import MATHML
from ..reading.item_file import FEEDBACK

_SILENT = frozenset({"", "×", "·", "⋅", "\u2061", "\u2062"})
_LEAVES = frozenset({"mi", "mn", "mo", "mtext"})
_NOT_READ = frozenset({"annotation", "annotation-xml"})
_SHAPES: Mapping[str, tuple[int, str]] = MappingProxyType(
    {
        "mfrac": (2, "⟦{0}⟧/⟦{1}⟧"),
        "msub": (2, "⟦{0}⟧_⟦{1}⟧"),
        "msup": (2, "⟦{0}⟧^⟦{1}⟧"),
        "msubsup": (3, "⟦⟦{0}⟧_⟦{1}⟧⟧^⟦{2}⟧"),
        "mroot": (2, "√{1}⟦{0}⟧"),
    }
)
LOWERED, RAISED = "_⟦{}⟧", "^⟦{}⟧"
_RADICALS = {2: "√", 3: "∛", 4: "∜"}
# How firmly a piece holds together: whatever joins others by a sign, beside a stroke, side by side, or not at all.
SIGNED, DIVIDED, TIMES, ONE = range(4)
_MATH = f"{MATHML}math"
_SHIFTED = {"sub": LOWERED, "sup": RAISED}
BOX = "▭"  # stands for a place to type in


def of_mathml(element: Element) -> str:
    """The line of a MathML element."""
    name = element.name.removeprefix(MATHML)
    if name in _LEAVES:
        return _leaf(element.text)
    parts = [of_mathml(each) for each in element.children if each.name.removeprefix(MATHML) not in _NOT_READ]
    if name == "msqrt":
        return f"√2⟦{_joined(parts)}⟧"
    count, shape = _SHAPES.get(name, (-1, ""))
    return shape.format(*parts) if len(parts) == count else _joined(parts)


@lru_cache(maxsize=4096)
def of_formula(node: formula.Node) -> str:
    """The line of a formula tree."""
    if isinstance(node, formula.Number | formula.Symbol | formula.Operator | formula.UnitNode):
        return _of_leaf(node)
    match node:
        case formula.Row(parts=parts):
            return _joined(map(of_formula, parts))
        case formula.Fraction(above=above, below=below):
            return f"⟦{of_formula(above)}⟧/⟦{of_formula(below)}⟧"
        case formula.Root(body=body, index=index):
            return f"√{index}⟦{of_formula(body)}⟧"
        case formula.Group(body=body):
            return f"(|{of_formula(body)}|)"
        case formula.Power(base=base, exponent=exponent):
            return f"⟦{_held(base)}⟧^⟦{of_formula(exponent)}⟧"
        case formula.Call(name=name, argument=argument, inverse=inverse):
            return _joined((f"⟦{name}⟧^⟦−|1⟧" if inverse else name, _held(argument)))


def _of_leaf(node: formula.Number | formula.Symbol | formula.Operator | formula.UnitNode) -> str:
    if isinstance(node, formula.Symbol):
        base, subscript = _leaf(node.base), _leaf(node.subscript)
        return f"⟦{base}⟧_⟦{subscript}⟧" if subscript else base
    return _signed(node.text) if isinstance(node, formula.Number) else _leaf(node.text)


def _held(node: formula.Node) -> str:
    """A base or an argument, in brackets unless it holds together by itself."""
    negative = isinstance(node, formula.Number) and node.text[:1] in ("-", "−")
    bare = isinstance(node, formula.Number | formula.Symbol | formula.Group) and not negative
    return of_formula(node) if bare else f"(|{of_formula(node)}|)"


def _signed(text: str) -> str:
    return f"−|{_leaf(text[1:])}" if text[:1] in ("-", "−") else _leaf(text)


def _leaf(text: str) -> str:
    leaf = "".join(unicodedata.normalize("NFKC", text).split()).replace("-", "−")
    return "" if leaf in _SILENT else leaf


def _joined(parts: Iterable[str]) -> str:
    return "|".join(each for each in parts if each)


class _Piece(NamedTuple):
    """The text of a part, and how firmly it holds together."""

    text: str
    firmness: int

    def at_least(self, firmness: int) -> str:
        """The text, in brackets if the part is too loose."""
        return self.text if self.firmness >= firmness else f"({self.text})"


def on_a_line(node: formula.Node) -> str:
    """The formula as it should read on a line, without spaces."""
    return "".join(_piece(node).text.split())


@lru_cache(maxsize=4096)
def _piece(node: formula.Node) -> _Piece:
    match node:
        case formula.Number(text=text):
            number = text.replace("-", "−")
            return _Piece(number, SIGNED if number.startswith("−") else ONE)
        case formula.Symbol(base=base, subscript=subscript):
            return _Piece(base + (LOWERED.format(subscript) if subscript else ""), ONE)
        case formula.Operator(text=text) | formula.UnitNode(text=text):
            return _Piece(text, SIGNED)
        case formula.Row(parts=parts):
            return _row(parts)
        case formula.Fraction(above=above, below=below):
            return _Piece(f"{_piece(above).at_least(TIMES)}/{_piece(below).at_least(ONE)}", DIVIDED)
        case _:
            return _Piece(_single(node), ONE)


def _single(node: formula.Root | formula.Power | formula.Call | formula.Group) -> str:
    """The text of what holds together by itself."""
    match node:
        case formula.Group(body=body):
            return f"({_piece(body).text})"
        case formula.Root(body=body, index=index):
            return (_RADICALS.get(index) or RAISED.format(index) + "√") + _bracketed(body)
        case formula.Power(base=base, exponent=exponent):
            bare = isinstance(base, formula.Number | formula.Symbol) and _piece(base).firmness == ONE
            return (_piece(base).text if bare else _bracketed(base)) + RAISED.format(_piece(exponent).text)
        case formula.Call(name=name, argument=argument, inverse=inverse):
            bare = isinstance(argument, formula.Number | formula.Symbol)
            called = name + (RAISED.format("−1") if inverse else "")
            return called + (_piece(argument).text if bare else _bracketed(argument))


def _bracketed(node: formula.Node) -> str:
    """The text in brackets, which a group has already."""
    text = _piece(node).text
    return text if isinstance(node, formula.Group) else f"({text})"


def _row(parts: Sequence[formula.Node]) -> _Piece:
    """Parts side by side: a product, unless a sign stands among them."""
    line = ""
    for place, part in enumerate(parts):
        piece = _piece(part)
        joined = place > 0 and not any(isinstance(each, formula.Operator) for each in (part, parts[place - 1]))
        followed = place + 1 < len(parts) and not isinstance(parts[place + 1], formula.Operator)
        text = piece.at_least(TIMES) if isinstance(part, formula.Fraction) and followed else piece.text
        number = joined and not isinstance(part, formula.UnitNode) and text[:1] in tuple("0123456789−")
        line += f"×{text}" if number else text
    if any(isinstance(each, formula.Operator) for each in parts):
        return _Piece(line, SIGNED)
    whole = all(_is_whole(each) for each in parts)
    return _Piece(line, TIMES if whole else DIVIDED)


def _is_whole(part: formula.Node) -> bool:
    """Whether a stroke after a product with this factor divides all of it; a unit may have a stroke of its own."""
    return "/" not in part.text if isinstance(part, formula.UnitNode) else _piece(part).firmness == ONE


def plain_words(text: str) -> str:
    """The text without spaces and characters that cannot be seen."""
    words = "".join(unicodedata.normalize("NFKC", text).split())
    return words if words.isprintable() else "".join(filter(str.isprintable, words))


def said_by(element: Element, leave_out: frozenset[str] = FEEDBACK) -> str:
    """What an element says, formulas and the alternatives of its pictures with it."""
    return plain_words(raw_words(element, leave_out))


def raw_words(element: Element, leave_out: frozenset[str] = FEEDBACK) -> str:
    """The same with all spaces, before it has one spelling of each character."""
    if element.name == _MATH:
        return of_mathml(element)
    if element.name == "img":
        return element.get("alt")
    if element.name == "qti-text-entry-interaction":
        return BOX
    inside = [element.text]
    for each in element.children:
        inside.append("" if each.name in leave_out else raw_words(each, leave_out))
        inside.append(each.tail)
    said = "".join(inside)
    return _SHIFTED[element.name].format(said) if element.name in _SHIFTED else said


def expected_words(content: Paragraph | Drawing) -> tuple[str, ...]:
    """What an element written from ``content`` should say: with formulas as MathML, or as plain HTML."""
    if isinstance(content, Drawing):
        return (plain_words(content.alternative),)
    if not any(isinstance(part, Math) for part in spoken(content)):
        return (written_words(content, of_formula),)
    return written_words(content, of_formula), written_words(content, on_a_line)


def written_words(content: Paragraph, set_formula: Callable[[formula.Node], str]) -> str:
    """What a paragraph should say, with its formulas set in one way."""
    said = []
    for part in spoken(content):
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
