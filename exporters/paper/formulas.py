"""A formula as plain data for the typesetter: ten shapes that the template knows how to set, and nothing to run.

["text", letters]  ["italic", letters]  ["sign", sign]  ["function", name]  ["space"]
["row", part, ...]  ["fraction", above, below]  ["root", index or null, body]
["script", base, lower or null, upper or null]  ["brackets", body]
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeAlias

from ...bank.item import formula
from ..markup.elements import clean

Data: TypeAlias = list[Any]

NO_BREAK_SPACE = "\u00a0"


def formula_data(node: formula.Node) -> Data:
    """The shape of a formula."""
    return _SHAPES[type(node)](node)


def _text(letters: str) -> Data:
    return ["text", clean(letters)]


def _number(node: formula.Number) -> Data:
    if node.text[:1] in ("-", "−"):
        return ["row", ["sign", "−"], _text(node.text[1:])]
    return _text(node.text)


def _symbol(node: formula.Symbol) -> Data:
    base = _base(node)
    return ["script", base, _text(node.subscript), None] if node.subscript else base


def _base(node: formula.Symbol) -> Data:
    return ["italic", clean(node.base)]


def _row(node: formula.Row) -> Data:
    """Parts side by side. A product shows its sign only where two numbers would run together, else a thin space."""
    parts: list[Data] = []
    before: formula.Node | None = None
    for part in node.parts:
        if isinstance(part, formula.Operator):
            pass
        elif isinstance(part, formula.UnitNode) and before is not None:
            parts += [] if part.text == "°" else [_text(NO_BREAK_SPACE)]
        elif before is not None and not isinstance(before, formula.Operator | formula.UnitNode):
            parts += _between(part)
        parts.append(formula_data(part))
        before = part
    return ["row", *parts]


def _between(factor: formula.Node) -> list[Data]:
    """What stands before a factor; a function brings its own space."""
    if _starts_with_digit(factor):
        return [["sign", "×"]]
    return [] if isinstance(factor, formula.Call) else [["space"]]


def _starts_with_digit(node: formula.Node) -> bool:
    if isinstance(node, formula.Row):
        return bool(node.parts) and _starts_with_digit(node.parts[0])
    if isinstance(node, formula.Power):
        return isinstance(node.base, formula.Number)
    return isinstance(node, formula.Number)


def _power(node: formula.Power) -> Data:
    base, exponent = node.base, formula_data(node.exponent)
    if isinstance(base, formula.Symbol):
        return ["script", _base(base), _text(base.subscript) if base.subscript else None, exponent]
    holds = isinstance(base, formula.Group) or (isinstance(base, formula.Number) and base.text[:1] not in "-−")
    return ["script", formula_data(base if holds else formula.Group(base)), None, exponent]


def _call(node: formula.Call) -> Data:
    name: Data = ["function", clean(node.name)]
    if node.inverse:
        name = ["script", name, None, ["row", ["sign", "−"], _text("1")]]
    bare = isinstance(node.argument, formula.Symbol | formula.Number | formula.Group)
    return ["row", name, formula_data(node.argument if bare else formula.Group(node.argument))]


_SHAPES: dict[type, Callable[..., Data]] = {
    formula.Number: _number,
    formula.Symbol: _symbol,
    formula.Operator: lambda node: ["sign", clean(node.text)],
    formula.UnitNode: lambda node: _text(node.text),
    formula.Row: _row,
    formula.Fraction: lambda node: ["fraction", formula_data(node.above), formula_data(node.below)],
    formula.Root: lambda node: ["root", None if node.index == 2 else str(node.index), formula_data(node.body)],
    formula.Power: _power,
    formula.Call: _call,
    formula.Group: lambda node: ["brackets", formula_data(node.body)],
}
