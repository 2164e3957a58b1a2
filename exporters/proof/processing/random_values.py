"""Expressions that draw at random, and those that take values out of containers."""

from __future__ import annotations

from collections.abc import Callable

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .dice import Dice
from .expressions import Context, Operands, Scope, Term
from .values import CannotMarkError, Value, bounded, container, parse

MOST_REPEATS = 1000


def _dice(element: Element, context: Context) -> Callable[[], Dice]:
    """Where the dice of the draw that is going on are found."""
    if context.dice is None:
        raise CannotMarkError(f"{element.name} outside template processing would mark alike answers unlike")
    return context.dice


def random_integer(element: Element, operands: Operands, context: Context) -> Term:
    """One of the integers from ``min`` (0) up to ``max``, in steps of ``step`` (1)."""
    dice = _dice(element, context)
    low, high, step = (context.whole(element, name, text) for name, text in (("min", "0"), ("max", ""), ("step", "1")))

    def value(scope: Scope) -> Value:
        start, stop, width = low(scope), high(scope), step(scope)
        if None in (start, stop, width) or width <= 0 or stop < start:
            return None
        return bounded(start + width * dice().place((stop - start) // width + 1))

    return Term("integer", "single", value)


def random_float(element: Element, operands: Operands, context: Context) -> Term:
    """A number from ``min`` (0) to ``max``."""
    dice = _dice(element, context)
    low, high = (_bound(element, name, context) for name in ("min", "max"))
    return Term("float", "single", lambda scope: low + (high - low) * context.number(dice().fraction()))


def _bound(element: Element, name: str, context: Context) -> Value:
    text = element.get(name) or ("0" if name == "min" else "")
    value = parse(text, "float", context.number)
    if value is None:
        raise CannotMarkError(f"{element.name} has {name} '{shown(text)}', a number expected")
    return value


def random_of(element: Element, operands: Operands, context: Context) -> Term:
    """One of the values of a container, each as likely as it is often."""
    dice = _dice(element, context)
    (operand,) = operands

    def value(scope: Scope) -> Value:
        values = operand.value(scope)
        if not isinstance(values, tuple):
            return values
        return values[dice().place(len(values))]

    return Term(operand.base, "single", value)


def index(element: Element, operands: Operands, context: Context) -> Term:
    """The ``n``-th value of an ordered container, counted from 1; NULL where it has none.

    Raises CannotMarkError for what can't be marked exactly.
    """
    (operand,) = operands
    if operand.cardinality not in ("ordered", ""):
        raise CannotMarkError(f"{element.name} needs an ordered container, found {operand.cardinality}")
    place = context.whole(element, "n")

    def value(scope: Scope) -> Value:
        values, wanted = operand.value(scope), place(scope)
        if values is None or wanted is None or not 1 <= wanted <= len(values):
            return None
        return values[wanted - 1]

    return Term(operand.base, "single", value)


def repeat(element: Element, operands: Operands, context: Context) -> Term:
    """The operands in order, worked out anew ``number-repeats`` times.

    Raises CannotMarkError for what can't be marked exactly.
    """
    times = context.whole(element, "number-repeats")
    bases = {each.base for each in operands if each.base}
    if len(bases) > 1:
        raise CannotMarkError(f"{element.name} mixes {' and '.join(sorted(bases))}")

    def value(scope: Scope) -> Value:
        count = times(scope)
        if count is None or count < 1:
            return None
        if count > MOST_REPEATS:
            raise CannotMarkError(f"{element.name} repeats {count} times, at most {MOST_REPEATS} are run")
        return container(each.value(scope) for _ in range(count) for each in operands)

    return Term("".join(bases), "ordered", value)


def container_size(element: Element, operands: Operands, context: Context) -> Term:
    """How many values a container has; 0 for NULL."""
    value_of = operands[0].value

    def value(scope: Scope) -> Value:
        values = value_of(scope)
        return len(values) if isinstance(values, tuple) else int(values is not None)

    return Term("integer", "single", value)


def delete(element: Element, operands: Operands, context: Context) -> Term:
    """The container of the second operand without the values that are the first."""
    first, second = operands

    def value(scope: Scope) -> Value:
        unwanted, values = first.value(scope), second.value(scope)
        if unwanted is None or values is None:
            return None
        return container(each for each in values if each != unwanted)

    return Term(second.base, second.cardinality, value)
