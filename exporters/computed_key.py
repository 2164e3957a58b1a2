"""A computation as QTI expressions: sums, products, powers and functions of template variables.

Angles are in radians, as the operators take them. There is no root; its place is taken by a power of 0.5.
"""

from __future__ import annotations

from collections.abc import Mapping

from turnwright.bank.computation import (
    Difference,
    Function,
    Node,
    Number,
    Pi,
    Power,
    Product,
    Quotient,
    Sum,
    Value,
)
from turnwright.exporters.elements import Element
from turnwright.exporters.qti import QTI, number_text
from turnwright.exporters.rules import add_number, add_variable


def add_form(parent: Element, node: Node, names: Mapping[str, str]) -> None:
    """Adds the expression of a tree; ``names`` are the template variables of its values."""
    match node:
        case Number(value=value):
            add_number(parent, number_text(value))
        case Pi():
            QTI.add(parent, "qti-math-constant", name="pi")
        case Value(name=name):
            add_variable(parent, names[name])
        case Function(name=name, argument=argument):
            _add(parent, "qti-math-operator", (argument,), names, name=name)
        case Sum(terms=terms):
            _add(parent, "qti-sum", terms, names)
        case Product(factors=factors):
            _add(parent, "qti-product", factors, names)
        case Difference(first=first, second=second):
            _add(parent, "qti-subtract", (first, second), names)
        case Quotient(above=above, below=below):
            _add(parent, "qti-divide", (above, below), names)
        case Power(base=base, exponent=exponent):
            _add(parent, "qti-power", (base, exponent), names)


def _add(parent: Element, tag: str, operands: tuple[Node, ...], names: Mapping[str, str], **attributes: str) -> None:
    expression = QTI.add(parent, tag, **attributes)
    for operand in operands:
        add_form(expression, operand, names)
