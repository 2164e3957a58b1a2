"""A formula as it stands on the page: a small tree that every output (text, speech, MathML, print) walks.

Order of terms and factors, roots, fractions and subscripts are settled when the tree is made
(see ``notation``), so that no two outputs of one formula can disagree.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from ..language import spoken_unit

_BRACKETS = re.compile(r"\([^()]*\)")
HALF, HALF_SIGN = ("1", "2"), "½"
SUPERSCRIPTS = str.maketrans("0123456789-−+n", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁻⁺ⁿ")


@dataclass(frozen=True)
class Number:
    """A number as printed, for example ``2`` or ``0.850``."""

    text: str


@dataclass(frozen=True)
class Symbol:
    """A quantity symbol: an italic base and an upright subscript, both already in display form (``θ``, ``top``)."""

    base: str
    subscript: str = ""


@dataclass(frozen=True)
class Operator:
    """A sign that stands between or before others: ``+ − = ≤ ≥ × ·``."""

    text: str


@dataclass(frozen=True)
class UnitNode:
    """A unit symbol, upright, for example ``m/s²``."""

    text: str


@dataclass(frozen=True)
class Row:
    """Parts side by side; two factors next to each other mean a product."""

    parts: tuple[Node, ...]


@dataclass(frozen=True)
class Fraction:
    """One row above another."""

    above: Node
    below: Node


@dataclass(frozen=True)
class Root:
    """A root; ``index`` is 2 for a square root."""

    body: Node
    index: int = 2


@dataclass(frozen=True)
class Power:
    """A base with an exponent."""

    base: Node
    exponent: Node


@dataclass(frozen=True)
class Call:
    """A named function of one argument: ``tan θ``; ``inverse`` prints as tan with exponent −1."""

    name: str
    argument: Node
    inverse: bool = False


@dataclass(frozen=True)
class Group:
    """A part in round brackets."""

    body: Node


Node: TypeAlias = Number | Symbol | Operator | UnitNode | Row | Fraction | Root | Power | Call | Group


def equals(left: Node, right: Node, sign: str = "=") -> Row:
    """The row ``left = right`` (or another relation sign)."""
    return Row((left, Operator(sign), right))


def replaced(node: Node, leaves: Mapping[Node, Node]) -> Node:
    """The tree with each leaf that ``leaves`` knows replaced, for example a symbol by its value."""
    if isinstance(node, Row):
        return Row(tuple(replaced(part, leaves) for part in node.parts))
    if isinstance(node, Fraction):
        return Fraction(replaced(node.above, leaves), replaced(node.below, leaves))
    if isinstance(node, Power):
        return Power(replaced(node.base, leaves), node.exponent)
    if isinstance(node, Root):
        return Root(replaced(node.body, leaves), node.index)
    if isinstance(node, Call):
        return Call(node.name, replaced(node.argument, leaves), node.inverse)
    if not isinstance(node, Group):
        return leaves.get(node, node)
    body = replaced(node.body, leaves)
    return body if isinstance(body, Number) and body.text.isdecimal() else Group(body)


def text(node: Node) -> str:
    """The formula on one line of Unicode text, for a terminal or an ``alttext``: ``v = √(g r)``."""
    return _TEXT[type(node)](node)


def spoken(node: Node) -> str:
    """The formula in words, as a teacher would read it aloud: ``v equals the square root of g times r``."""
    return _words(node).rstrip(",")


def _words(node: Node) -> str:
    return " ".join(_SPOKEN[type(node)](node).split())


# --- one line of text -------------------------------------------------------------------------


def _text_row(node: Row) -> str:
    pieces: list[str] = []
    for index, part in enumerate(node.parts):
        piece = f"({text(part)})" if _is_followed(node, index) and "/" in _outside(text(part)) else text(part)
        if isinstance(part, Operator):
            unary = index == 0 or isinstance(node.parts[index - 1], Operator)
            pieces.append(piece if unary and piece in "−+" else f" {piece} ")
        elif pieces and not pieces[-1].endswith((" ", "−", "+")):
            pieces.append(f" {piece}")
        else:
            pieces.append(piece)
    return "".join(pieces).strip()


def _is_followed(node: Row, index: int) -> bool:
    """Whether a factor comes after a fraction, which would else be read as a part of its denominator."""
    after = node.parts[index + 1] if index + 1 < len(node.parts) else Operator("=")
    return isinstance(node.parts[index], Fraction) and (not isinstance(after, Operator) or after.text in "×·")


def _outside(said: str) -> str:
    """What stands in no brackets."""
    while (inner := _BRACKETS.sub("", said)) != said:
        said = inner
    return said


def _bracketed(node: Node) -> str:
    """The text of a part that must hold together beside ``/`` or under a root sign."""
    return text(node) if isinstance(node, Number | Symbol | Group | Power | Root | Call) else f"({text(node)})"


def _text_fraction(node: Fraction) -> str:
    """One stroke alone, so that nobody asks what it divides: a unit such as N/kg above it is put into brackets."""
    above = text(node.above)
    if (above, text(node.below)) == HALF:
        return HALF_SIGN
    held = f"({above})" if _is_sum(node.above) or "/" in _outside(above) else above
    return f"{held}/{_bracketed(node.below)}"


def _is_sum(node: Node) -> bool:
    return isinstance(node, Row) and any(isinstance(part, Operator) and part.text in "+−" for part in node.parts)


def _text_power(node: Power) -> str:
    exponent = text(node.exponent)
    base = text(node.base) if isinstance(node.base, Number | Symbol | Group) else f"({text(node.base)})"
    if all(mark in "0123456789-−n" for mark in exponent):
        return base + exponent.translate(SUPERSCRIPTS)
    return f"{base}^({exponent})"


def _text_root(node: Root) -> str:
    sign = {2: "√", 3: "∛", 4: "∜"}.get(node.index, f"root{node.index}")
    return (
        f"{sign}{text(node.body)}" if isinstance(node.body, Number | Symbol | Group) else f"{sign}({text(node.body)})"
    )


def _text_call(node: Call) -> str:
    name = f"{node.name}⁻¹" if node.inverse else node.name
    plain = isinstance(node.argument, Symbol | Number)
    return f"{name} {text(node.argument)}" if plain else f"{name}({text(_inside(node.argument))})"


def _inside(node: Node) -> Node:
    return node.body if isinstance(node, Group) else node


_TEXT: dict[type, Callable[..., str]] = {
    Number: lambda node: node.text,
    Symbol: lambda node: f"{node.base}_{node.subscript}" if node.subscript else node.base,
    Operator: lambda node: node.text,
    UnitNode: lambda node: node.text,
    Row: _text_row,
    Fraction: _text_fraction,
    Root: _text_root,
    Power: _text_power,
    Call: _text_call,
    Group: lambda node: f"({text(node.body)})",
}

# --- in words ---------------------------------------------------------------------------------

_OPERATOR_WORDS = {
    "+": "plus",
    "−": "minus",
    "=": "equals",
    "≤": "is at most",
    "≥": "is at least",
    ">": "is greater than",
    "<": "is less than",
    "×": "times",
    "·": "times",
    "≈": "is about",
}
_GREEK_WORDS = {"θ": "theta", "ω": "omega", "μ": "mu", "π": "pi", "α": "alpha", "φ": "phi", "Δ": "delta", "β": "beta"}
_FUNCTION_WORDS = {"sin": "sine", "cos": "cosine", "tan": "tangent"}


def _spoken_row(node: Row) -> str:
    pieces: list[str] = []
    for index, part in enumerate(node.parts):
        before = node.parts[index - 1] if index else None
        joins = before is not None and not isinstance(part, Operator | UnitNode) and not isinstance(before, Operator)
        pieces.append(f"times {_words(part)}" if joins else _words(part))
    return " ".join(pieces)


def _spoken_power(node: Power) -> str:
    exponent = _words(node.exponent)
    return f"{_words(node.base)} " + {"2": "squared", "3": "cubed"}.get(exponent, f"to the power {exponent}")


def _spoken_root(node: Root) -> str:
    kind = {2: "square root", 3: "cube root"}.get(node.index, f"root of order {node.index}")
    said = f"the {kind} of {_words(node.body)}"
    return said if isinstance(node.body, Number | Symbol) else _ended(said, "root")


def _spoken_fraction(node: Fraction) -> str:
    if isinstance(node.above, Number | Symbol) and isinstance(node.below, Number | Symbol):
        return f"{_words(node.above)} over {_words(node.below)}"
    return _ended(f"the fraction {_words(node.above)} over {_words(node.below)}", "fraction")


def _ended(said: str, what: str) -> str:
    """With a pause before and after the end; of ends that follow each other each has one pause before it."""
    return f"{said.rstrip(',')}, end of {what},"


def _spoken_call(node: Call) -> str:
    name = _FUNCTION_WORDS.get(node.name, node.name)
    return f"the {'inverse ' if node.inverse else ''}{name} of {_words(_inside(node.argument))}"


def _spoken_symbol(node: Symbol) -> str:
    base = _GREEK_WORDS.get(node.base, node.base)
    return f"{base} {node.subscript}" if node.subscript else base


_SPOKEN: dict[type, Callable[..., str]] = {
    Number: lambda node: node.text,
    Symbol: _spoken_symbol,
    Operator: lambda node: _OPERATOR_WORDS.get(node.text, node.text),
    UnitNode: lambda node: spoken_unit(node.text),
    Row: _spoken_row,
    Fraction: _spoken_fraction,
    Root: _spoken_root,
    Power: _spoken_power,
    Call: _spoken_call,
    Group: lambda node: f"open bracket {_words(node.body)} close bracket",
}
