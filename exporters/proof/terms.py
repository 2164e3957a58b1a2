"""What most expressions share: their operands are of the right types, and NULL goes in and comes out."""

from __future__ import annotations

from collections.abc import Callable

from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.expressions import Operands, Scope, Term
from turnwright.exporters.proof.values import CannotMarkError, Value, bounded


def lifted(function: Callable[..., Value], operands: Operands, base: str) -> Term:
    """The function of the operands' values; NULL where one is NULL or the result is no number that can be held."""
    values = [each.value for each in operands]

    def value(scope: Scope) -> Value:
        found = [each(scope) for each in values]
        for each in found:
            if each is None:  # asked of the list, every decimal would be compared with None
                return None
        try:
            result = function(*found)
        except ArithmeticError:
            return None
        return result if base == "boolean" else bounded(result)

    return Term(base, "single", value)


def same_type(element: Element, operands: Operands) -> tuple[Term, Term]:
    """Both operands, which must share base type and cardinality."""
    first, second = operands
    for what, a, b in (
        ("base type", first.base, second.base),
        ("cardinality", first.cardinality, second.cardinality),
    ):
        if a and b and a != b:
            raise CannotMarkError(f"{element.name} compares values of different {what}: {a} and {b}")
    return first, second


def want_numbers(element: Element, operands: Operands, containers: bool = False) -> Operands:
    """The operands, which must be numbers, or containers of them where those are taken."""
    for each in operands:
        if each.base not in ("float", "integer", ""):
            raise CannotMarkError(f"{element.name} needs numbers, found a value of type {each.base}")
        if not containers and each.cardinality not in ("single", ""):
            raise CannotMarkError(f"{element.name} needs single numbers, found a container")
    return operands


def want_booleans(element: Element, operands: Operands) -> Operands:
    """The operands, which must be single truth values."""
    for each in operands:
        if not each.is_boolean():
            raise CannotMarkError(f"{element.name} needs truth values, found a value of type {each.base}")
    return operands


def number_base(operands: Operands) -> str:
    """What arithmetic of these operands gives: an integer where all of them are."""
    return "integer" if all(each.base == "integer" for each in operands) else "float"
