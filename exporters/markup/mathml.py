"""A formula as MathML 3 (https://www.w3.org/TR/MathML3/), presentation elements only and no deprecated fence.

All of it is MathML 2 as well, for QTI 2.x. Its ``alttext`` is the formula in words, as a teacher would read it aloud.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from functools import lru_cache

from ...bank.item import formula
from . import elements
from .elements import Element, Vocabulary

MATH = Vocabulary(elements.MATHML)

INVISIBLE_TIMES = "\u2062"
FUNCTION_APPLICATION = "\u2061"
NO_BREAK_SPACE = "\u00a0"


def math(node: formula.Node, *, block: bool = False) -> Element:
    """The element ``math`` for a formula in the line, or for one that has a line of its own."""
    return copy.deepcopy(_math(node, block))


# Most formulas of a worked solution come again in every variant, and a copy takes a fifth of the time.
@lru_cache(maxsize=1024)
def _math(node: formula.Node, block: bool) -> Element:
    return math_once(node, block)


def math_once(node: formula.Node, block: bool) -> Element:
    """The element ``math`` for a formula that is not expected to come again soon."""
    display = {"display": "block"} if block else {}
    element = MATH.root("math", alttext=formula.spoken(node), **display)
    if isinstance(node, formula.Row):
        _add_parts(element, node)
    else:
        _add(element, node)
    return element


def _add(parent: Element, node: formula.Node) -> None:
    """Exactly one new child of ``parent``, whatever the node is."""
    _ADDERS[type(node)](parent, node)


def _add_number(parent: Element, node: formula.Number) -> None:
    if node.text[:1] in ("-", "−"):
        row = MATH.add(parent, "mrow")
        MATH.add(row, "mo", "−", form="prefix")
        MATH.add(row, "mn", node.text[1:])
    else:
        MATH.add(parent, "mn", node.text)


def _add_symbol(parent: Element, node: formula.Symbol) -> None:
    if node.subscript:
        holder = MATH.add(parent, "msub")
        _add_base(holder, node)
        _add_subscript(holder, node)
    else:
        _add_base(parent, node)


def _add_base(parent: Element, node: formula.Symbol) -> None:
    # Renderers set one letter italic by themselves, and several upright.
    style = {"mathvariant": "italic"} if len(node.base) > 1 else {}
    MATH.add(parent, "mi", node.base, **style)


def _add_subscript(parent: Element, node: formula.Symbol) -> None:
    if node.subscript.isdecimal():
        MATH.add(parent, "mn", node.subscript)
    else:
        MATH.add(parent, "mi", node.subscript, mathvariant="normal")


def _add_operator(parent: Element, node: formula.Operator) -> None:
    MATH.add(parent, "mo", node.text)


def _add_unit(parent: Element, node: formula.UnitNode) -> None:
    MATH.add(parent, "mtext", node.text)


def _add_row(parent: Element, node: formula.Row) -> None:
    _add_parts(MATH.add(parent, "mrow"), node)


def _add_parts(row: Element, node: formula.Row) -> None:
    before: formula.Node | None = None
    for part in node.parts:
        if isinstance(part, formula.Operator):
            sign = before is None or isinstance(before, formula.Operator)
            MATH.add(row, "mo", part.text, **({"form": "prefix"} if sign else {}))
        elif isinstance(part, formula.UnitNode) and before is not None:
            MATH.add(row, "mtext", part.text if part.text == "°" else NO_BREAK_SPACE + part.text)
        else:
            if before is not None and not isinstance(before, formula.Operator):
                MATH.add(row, "mo", "×" if _starts_with_digit(part) else INVISIBLE_TIMES)
            _add(row, part)
        before = part


def _starts_with_digit(node: formula.Node) -> bool:
    """Whether an invisible product sign before it would make one number of two."""
    if isinstance(node, formula.Row):
        return bool(node.parts) and _starts_with_digit(node.parts[0])
    if isinstance(node, formula.Power):
        return isinstance(node.base, formula.Number)
    return isinstance(node, formula.Number)


def _add_fraction(parent: Element, node: formula.Fraction) -> None:
    fraction = MATH.add(parent, "mfrac")
    _add(fraction, node.above)
    _add(fraction, node.below)


def _add_root(parent: Element, node: formula.Root) -> None:
    if node.index == 2:
        _add(MATH.add(parent, "msqrt"), node.body)
    else:
        root = MATH.add(parent, "mroot")
        _add(root, node.body)
        MATH.add(root, "mn", str(node.index))


def _add_power(parent: Element, node: formula.Power) -> None:
    base = node.base
    if isinstance(base, formula.Symbol) and base.subscript:
        power = MATH.add(parent, "msubsup")
        _add_base(power, base)
        _add_subscript(power, base)
    else:
        power = MATH.add(parent, "msup")
        holds = isinstance(base, formula.Number | formula.Symbol | formula.Group)
        _add(power, base if holds and not _is_negative(base) else formula.Group(base))
    _add(power, node.exponent)


def _is_negative(node: formula.Node) -> bool:
    return isinstance(node, formula.Number) and node.text[:1] in ("-", "−")


def _add_call(parent: Element, node: formula.Call) -> None:
    call = MATH.add(parent, "mrow")
    if node.inverse:
        inverse = MATH.add(call, "msup")
        MATH.add(inverse, "mi", node.name)
        _add_number(inverse, formula.Number("−1"))
    else:
        MATH.add(call, "mi", node.name)
    MATH.add(call, "mo", FUNCTION_APPLICATION)
    bare = isinstance(node.argument, formula.Symbol | formula.Number | formula.Group)
    _add(call, node.argument if bare else formula.Group(node.argument))


def _add_group(parent: Element, node: formula.Group) -> None:
    group = MATH.add(parent, "mrow")
    MATH.add(group, "mo", "(")
    _add(group, node.body)
    MATH.add(group, "mo", ")")


_ADDERS: dict[type, Callable[..., None]] = {
    formula.Number: _add_number,
    formula.Symbol: _add_symbol,
    formula.Operator: _add_operator,
    formula.UnitNode: _add_unit,
    formula.Row: _add_row,
    formula.Fraction: _add_fraction,
    formula.Root: _add_root,
    formula.Power: _add_power,
    formula.Call: _add_call,
    formula.Group: _add_group,
}
