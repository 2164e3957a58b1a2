"""What most expressions share, and those that compare two numbers: equal within a tolerance or when rounded, and order.

Operands are of the right types, and NULL goes in and comes out.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import reduce

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .expressions import Cell, Compile, Context, Interval, Operands, Reader, Scope, Term
from .values import CannotMarkError, MixedTypesError, Value, bounded, parse, rounded_to


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
    """Both operands, which must share base type and cardinality.

    Raises MixedTypesError for what has no meaning.
    """
    first, second = operands
    for what, a, b in (
        ("base type", first.base, second.base),
        ("cardinality", first.cardinality, second.cardinality),
    ):
        if a and b and a != b:
            raise MixedTypesError(f"{element.name} compares values of different {what}: {a} and {b}")
    return first, second


def want_numbers(element: Element, operands: Operands, containers: bool = False) -> Operands:
    """The operands, which must be numbers, or containers of them where those are taken.

    Raises MixedTypesError for what has no meaning.
    """
    for each in operands:
        if each.base not in ("float", "integer", ""):
            raise MixedTypesError(f"{element.name} needs numbers, found a value of type {each.base}")
        if not containers and each.cardinality not in ("single", ""):
            raise MixedTypesError(f"{element.name} needs single numbers, found a container")
    return operands


def want_booleans(element: Element, operands: Operands) -> Operands:
    """The operands, which must be single truth values. Raises MixedTypesError for what has no meaning."""
    for each in operands:
        if not each.is_boolean():
            raise MixedTypesError(f"{element.name} needs truth values, found a value of type {each.base}")
    return operands


def number_base(operands: Operands) -> str:
    """What arithmetic of these operands gives: an integer where all of them are."""
    return "integer" if all(each.base == "integer" for each in operands) else "float"


def ordering(holds: Callable[[Value, Value], bool]) -> Compile:
    """How an order relation of two numbers is compiled."""

    def compiled(element: Element, operands: Operands, context: Context) -> Term:
        return lifted(holds, want_numbers(element, operands), "boolean")

    return compiled


def equal(element: Element, operands: Operands, context: Context) -> Term:
    """Whether the second number y lies about the first number x, within the tolerance t0 below and t1 above.

    Absolute: x - t0 <= y <= x + t1. Relative, in percent of x: x (1 - t0/100) <= y <= x (1 + t1/100).
    Raises CannotMarkError for what can't be marked exactly.
    """
    want_numbers(element, operands)
    mode = element.get("tolerance-mode") or "exact"
    if mode == "exact":
        return lifted(lambda x, y: x == y, operands, "boolean")
    if mode not in ("absolute", "relative"):
        raise CannotMarkError(f"{element.name} has the tolerance mode '{shown(mode)}'")
    lower, upper = (_is_included(element, side) for side in ("lower", "upper"))
    if operands[0].cell and mode == "absolute" and _is_written(element):
        return _about_a_number(element, operands[0].cell, operands[1], context, lower, upper)
    below, above = _tolerances(element, context)
    hundred = context.number(100)

    def within(x: Value, y: Value, t0: Value, t1: Value) -> bool:
        low = x - t0 if mode == "absolute" else x * (1 - t0 / hundred)
        high = x + t1 if mode == "absolute" else x * (1 + t1 / hundred)
        return bool((low <= y if lower else low < y) and (y <= high if upper else y < high))

    return lifted(within, [*operands, below, above], "boolean")


def _is_written(element: Element) -> bool:
    """Whether the tolerances are numbers, and no names of variables."""
    texts = element.get("tolerance").split()
    return all(parse(each, "float", Decimal) is not None for each in texts)


def _written_tolerances(element: Element, context: Context) -> tuple[Value, Value]:
    """The tolerances that are written as numbers; mostly they are the same."""
    texts = element.get("tolerance").split()
    if len(texts) == 2 and texts[0] == texts[1]:
        below = above = _tolerance(texts[0], element, context).value({})
    else:
        below, above = (each.value({}) for each in _tolerances(element, context))
    return below, above


def _about_a_number(element: Element, x: Cell, y: Term, context: Context, lower: bool, upper: bool) -> Term:
    """Whether y lies within an absolute tolerance about a number that does not change from answer to answer."""
    band, number_of = Interval(lower, upper), y.value

    def read() -> None:
        below, above = _written_tolerances(element, context)
        try:
            band.put(*((None, None) if x.value is None else (x.value - below, x.value + above)))
        except ArithmeticError:
            band.put(None, None)

    context.read(Reader(read, x.of | {element}, None))
    x.bounds = True
    if y.variable:
        context.bands.setdefault(y.variable, []).append(band)
        context.reads[y.variable] -= 1
    return Term("boolean", "single", lambda scope: band.holds(number_of(scope)))


def _is_included(element: Element, side: str) -> bool:
    text = element.get(f"include-{side}-bound") or "true"
    if text not in ("true", "false", "1", "0"):
        raise CannotMarkError(f"{element.name} has include-{side}-bound '{shown(text)}'")
    return text in ("true", "1")


def _tolerances(element: Element, context: Context) -> tuple[Term, Term]:
    """What may lie below and above; one number serves both sides."""
    texts = element.get("tolerance").split()
    if len(texts) not in (1, 2):
        raise CannotMarkError(f"{element.name} has {len(texts)} tolerances, 1 or 2 expected")
    return _tolerance(texts[0], element, context), _tolerance(texts[-1], element, context)


def _tolerance(text: str, element: Element, context: Context) -> Term:
    """A number that is not negative, or the variable of that name."""
    value = parse(text, "float", context.number)
    if value is not None and value >= 0:
        return Term("float", "single", lambda scope: value)
    if value is not None or text not in context.declarations:
        raise CannotMarkError(f"{element.name} has the tolerance '{shown(text)}'")
    declaration = context.declaration(text)
    value_of = context.reads_of(text)
    term = Term(declaration.base, declaration.cardinality, lambda scope: _floated(value_of(scope), context))
    want_numbers(element, [term])
    return term


def _floated(value: Value, context: Context) -> Value:
    return None if value is None else context.number(value)


def equal_rounded(element: Element, operands: Operands, context: Context) -> Term:
    """Whether both numbers are the same after rounding to so many figures or places, halves away from zero.

    Raises CannotMarkError for what can't be marked exactly.
    """
    want_numbers(element, operands)
    mode, text = element.get("rounding-mode") or "significantFigures", element.get("figures")
    figures = parse(text, "integer", Decimal)
    significant = mode == "significantFigures"
    if mode not in ("significantFigures", "decimalPlaces"):
        raise CannotMarkError(f"{element.name} has the rounding mode '{shown(mode)}'")
    if figures is None or not (1 if significant else 0) <= figures <= 15:
        raise CannotMarkError(f"{element.name} has the figures '{shown(text)}', a small whole number expected")

    def agree(x: Value, y: Value) -> bool:
        return bool(rounded_to(x, figures, significant) == rounded_to(y, figures, significant))

    return lifted(agree, operands, "boolean")


def folded(fold: Callable[[list[Value]], Value]) -> Callable[[Element, Operands, Context], Term]:
    """How a function of all numbers is compiled, those in containers with them."""

    def compiled(element: Element, operands: Operands, context: Context) -> Term:
        want_numbers(element, operands, containers=True)

        def value(*values: Value) -> Value:
            return fold([part for each in values for part in (each if isinstance(each, tuple) else (each,))])

        return lifted(value, operands, number_base(operands))

    return compiled


def whole_numbers(function: Callable[[int, int], int]) -> Callable[[Element, Operands, Context], Term]:
    """How a function of integers is compiled that takes them two at a time.

    Raises CannotMarkError for what can't be marked exactly.
    """

    def compiled(element: Element, operands: Operands, context: Context) -> Term:
        want_numbers(element, operands, containers=True)
        if any(each.base == "float" for each in operands):
            raise CannotMarkError(f"{element.name} needs integers, found a float")

        def value(*values: Value) -> Value:
            flat = [part for each in values for part in (each if isinstance(each, tuple) else (each,))]
            return reduce(function, flat)

        return lifted(value, operands, "integer")

    return compiled
