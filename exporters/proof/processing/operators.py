"""The expressions that combine values, and the table of all expressions.

A later expression is one function and one line in ``EXPRESSIONS``. Meanings follow the words of the QTI 3.0
information model; what is remembered and not read there says "from memory".
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from types import MappingProxyType

from ...strangers.documents import Element
from . import expressions, functions, random_values
from .comparison import (
    equal,
    equal_rounded,
    folded,
    lifted,
    number_base,
    ordering,
    same_type,
    want_booleans,
    want_numbers,
    whole_numbers,
)
from .expressions import Compile, Context, Expression, Operands, Scope, Term
from .values import CannotMarkError, Value, container, is_run

ANY_NUMBER = 10_000


def match(element: Element, operands: Operands, context: Context) -> Term:
    """Whether both are the same value; the order counts in ordered containers only."""
    first, second = same_type(element, operands)
    if first.cardinality == "multiple":
        return lifted(lambda a, b: Counter(a) == Counter(b), operands, "boolean")
    return lifted(lambda a, b: a == b, [first, second], "boolean")


def member(element: Element, operands: Operands, context: Context) -> Term:
    """Whether the single first operand is among the values of the second.

    Raises CannotMarkError for what can't be marked exactly.
    """
    if operands[0].cardinality == "single" and operands[1].cardinality == "single":
        raise CannotMarkError(f"{element.name} needs a container as its second operand")
    return lifted(lambda a, b: a in b, operands, "boolean")


def contains(element: Element, operands: Operands, context: Context) -> Term:
    """Whether the first container holds the second; in ordered ones as a run without a gap (from memory)."""
    first, _ = same_type(element, operands)
    if first.cardinality == "ordered":
        return lifted(lambda a, b: is_run(b, a), operands, "boolean")
    return lifted(lambda a, b: not Counter(b) - Counter(a), operands, "boolean")


def string_match(element: Element, operands: Operands, context: Context) -> Term:
    """Whether two strings are the same, or the second is found in the first where ``substring`` says so."""
    folds = element.get("case-sensitive") == "false"
    inside = element.get("substring") == "true"

    def matches(first: Value, second: Value) -> bool:
        a, b = (str(each).casefold() if folds else str(each) for each in (first, second))
        return b in a if inside else a == b

    return lifted(matches, operands, "boolean")


def both(element: Element, operands: Operands, context: Context) -> Term:
    """False when one operand is false, else NULL when one is NULL."""
    return _junction(element, operands, decisive=False)


def either(element: Element, operands: Operands, context: Context) -> Term:
    """True when one operand is true, else NULL when one is NULL."""
    return _junction(element, operands, decisive=True)


def _junction(element: Element, operands: Operands, decisive: bool) -> Term:
    values = [each.value for each in want_booleans(element, operands)]

    def value(scope: Scope) -> Value:
        found = [each(scope) for each in values]
        if decisive in found:
            return decisive
        return None if None in found else not decisive

    return Term("boolean", "single", value)


def negation(element: Element, operands: Operands, context: Context) -> Term:
    """The opposite of the operand."""
    return lifted(lambda a: not a, want_booleans(element, operands), "boolean")


def subtract(element: Element, operands: Operands, context: Context) -> Term:
    """The first number less the second."""
    return lifted(lambda a, b: a - b, want_numbers(element, operands), number_base(operands))


def divide(element: Element, operands: Operands, context: Context) -> Term:
    """The first number over the second, a float; NULL when the second is zero."""
    return lifted(lambda a, b: context.number(a) / context.number(b), want_numbers(element, operands), "float")


def power(element: Element, operands: Operands, context: Context) -> Term:
    """The first number to the power of the second, a float; NULL where that is no real number."""
    return lifted(lambda a, b: context.number(a) ** context.number(b), want_numbers(element, operands), "float")


def rounded(element: Element, operands: Operands, context: Context) -> Term:
    """The nearest integer, halves upwards: n with n - 0.5 <= x < n + 0.5."""
    half = context.number("0.5")
    return lifted(lambda a: math.floor(context.number(a) + half), want_numbers(element, operands), "integer")


def truncated(element: Element, operands: Operands, context: Context) -> Term:
    """The integer between the number and zero that is nearest to it."""
    return lifted(math.trunc, want_numbers(element, operands), "integer")


def integer_to_float(element: Element, operands: Operands, context: Context) -> Term:
    """The same number as a float."""
    return lifted(context.number, want_numbers(element, operands), "float")


def _container(cardinality: str) -> Compile:
    def compiled(element: Element, operands: Operands, context: Context) -> Term:
        bases = {each.base for each in operands if each.base}
        if len(bases) > 1:
            raise CannotMarkError(f"{element.name} mixes {' and '.join(sorted(bases))}")
        values = [each.value for each in operands]
        if operands and all(each.name == "qti-base-value" for each in element.children):  # a table, made once
            return expressions.constant(container(value({}) for value in values), "".join(bases), cardinality)
        return Term("".join(bases), cardinality, lambda scope: container(value(scope) for value in values))

    return compiled


EXPRESSIONS: Mapping[str, Expression] = MappingProxyType(
    {
        "qti-variable": Expression(expressions.variable, 0, 0),
        "qti-correct": Expression(expressions.correct, 0, 0),
        "qti-default": Expression(expressions.default, 0, 0),
        "qti-base-value": Expression(expressions.base_value, 0, 0),
        "qti-null": Expression(expressions.null, 0, 0),
        "qti-map-response": Expression(expressions.map_response, 0, 0),
        "qti-is-null": Expression(expressions.is_null, 1, 1),
        "qti-match": Expression(match, 2, 2),
        "qti-equal": Expression(equal, 2, 2),
        "qti-equal-rounded": Expression(equal_rounded, 2, 2),
        "qti-lt": Expression(ordering(lambda a, b: a < b), 2, 2),
        "qti-lte": Expression(ordering(lambda a, b: a <= b), 2, 2),
        "qti-gt": Expression(ordering(lambda a, b: a > b), 2, 2),
        "qti-gte": Expression(ordering(lambda a, b: a >= b), 2, 2),
        "qti-and": Expression(both, 1, ANY_NUMBER),
        "qti-or": Expression(either, 1, ANY_NUMBER),
        "qti-not": Expression(negation, 1, 1),
        "qti-sum": Expression(folded(sum), 1, ANY_NUMBER),
        "qti-product": Expression(folded(math.prod), 1, ANY_NUMBER),
        "qti-min": Expression(folded(min), 1, ANY_NUMBER),
        "qti-max": Expression(folded(max), 1, ANY_NUMBER),
        "qti-gcd": Expression(whole_numbers(math.gcd), 1, ANY_NUMBER),
        "qti-lcm": Expression(whole_numbers(math.lcm), 1, ANY_NUMBER),
        "qti-integer-divide": Expression(whole_numbers(lambda a, b: a // b), 2, 2),
        "qti-integer-modulus": Expression(whole_numbers(lambda a, b: a % b), 2, 2),
        "qti-subtract": Expression(subtract, 2, 2),
        "qti-divide": Expression(divide, 2, 2),
        "qti-power": Expression(power, 2, 2),
        "qti-math-operator": Expression(functions.math_operator, 1, 2),
        "qti-math-constant": Expression(functions.math_constant, 0, 0),
        "qti-stats-operator": Expression(functions.stats_operator, 1, 1),
        "qti-round-to": Expression(functions.round_to, 1, 1),
        "qti-round": Expression(rounded, 1, 1),
        "qti-truncate": Expression(truncated, 1, 1),
        "qti-integer-to-float": Expression(integer_to_float, 1, 1),
        "qti-multiple": Expression(_container("multiple"), 0, ANY_NUMBER),
        "qti-ordered": Expression(_container("ordered"), 0, ANY_NUMBER),
        "qti-member": Expression(member, 2, 2),
        "qti-contains": Expression(contains, 2, 2),
        "qti-string-match": Expression(string_match, 2, 2),
        "qti-index": Expression(random_values.index, 1, 1),
        "qti-container-size": Expression(random_values.container_size, 1, 1),
        "qti-delete": Expression(random_values.delete, 2, 2),
        "qti-repeat": Expression(random_values.repeat, 1, ANY_NUMBER),
        "qti-random": Expression(random_values.random_of, 1, 1),
        "qti-random-integer": Expression(random_values.random_integer, 0, 0),
        "qti-random-float": Expression(random_values.random_float, 0, 0),
    }
)
