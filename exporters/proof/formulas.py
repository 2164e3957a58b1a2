"""A formula as one line that keeps its structure, from MathML in a pack and from the tree it was written from.

Leaves stand between ``|``, what is stacked or raised between ``⟦`` and ``⟧``. Signs of multiplication are left out on
both sides, since a product may be written with or without one.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType

from turnwright.bank import formula
from turnwright.exporters.proof.dialect import MATHML
from turnwright.exporters.proof.documents import Element

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
    if isinstance(node, formula.Number | formula.Symbol | formula.Operator | formula.Unit):
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


def _of_leaf(node: formula.Number | formula.Symbol | formula.Operator | formula.Unit) -> str:
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
