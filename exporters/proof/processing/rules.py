"""What response and template processing share: rules are compiled once, a condition takes its first true branch.

A condition that is NULL counts as false.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .declarations import Declaration, Kind, ReportedError
from .expressions import Context, Scope, Term, compile_term
from .operators import EXPRESSIONS
from .values import CannotMarkError, Value

Rule: TypeAlias = Callable[[Scope], None]
Test: TypeAlias = Callable[[Scope], Value]
Compile: TypeAlias = Callable[[Element, Context, "Table", int], Rule]
Table: TypeAlias = Mapping[str, Compile]
DEEPEST = 20


def compile_rule(element: Element, context: Context, table: Table, depth: int = 0) -> Rule:
    """The rule that ``element`` stands for."""
    if depth > DEEPEST:
        raise CannotMarkError(f"conditions are nested more than {DEEPEST} deep")
    compiled = table.get(element.name)
    if compiled is None:
        raise CannotMarkError(f"{shown(element.name)} is no rule that can be marked yet")
    return compiled(element, context, table, depth)


def _rules(elements: Iterable[Element], context: Context, table: Table, depth: int) -> list[Rule]:
    return [compile_rule(each, context, table, depth + 1) for each in elements]


def condition(kind: str) -> Compile:
    """How a condition of this kind of processing is compiled: if, else-if, else."""
    first, later, last = (f"qti-{kind}-{word}" for word in ("if", "else-if", "else"))

    def compiled(element: Element, context: Context, table: Table, depth: int) -> Rule:
        names = [each.name for each in element.children]
        last_else = names[-1:] == [last]
        tests = names[: len(names) - last_else]
        if tests != [first] + [later] * (len(tests) - 1):
            raise CannotMarkError(f"{element.name} is not made of if, else-if and else in this order")
        branches = [_branch(each, context, table, depth) for each in element.children[: len(tests)]]
        otherwise = _rules(element.children[-1].children, context, table, depth) if last_else else []

        def run(scope: Scope) -> None:
            taken = otherwise
            for test, rules in branches:
                if test(scope) is True:
                    taken = rules
                    break
            for rule in taken:
                rule(scope)

        return run

    return compiled


def _branch(
    element: Element, context: Context, table: Table, depth: int
) -> tuple[Callable[[Scope], Value], list[Rule]]:
    if not element.children:
        raise CannotMarkError(f"{element.name} has no condition")
    test = truth(element, element.children[0], context)
    return test, _rules(element.children[1:], context, table, depth)


def truth(holder: Element, element: Element, context: Context) -> Test:
    """The truth value that a rule tests."""
    term = compile_term(element, context, EXPRESSIONS)
    if not term.is_boolean():
        raise CannotMarkError(f"the condition of {holder.name} is no truth value")
    return term.value


def assigned(
    element: Element, context: Context, kinds: tuple[Kind, ...]
) -> tuple[Declaration, Callable[[Scope], Value]]:
    """The variable that a rule sets, which is of one of these kinds, and the value that it sets it to."""
    identifier = element.get("identifier")
    variable = context.declaration(identifier)
    if variable.kind not in kinds:
        raise ReportedError(f"'{shown(identifier)}' is no {kinds[0]}")
    if len(element.children) != 1:
        raise CannotMarkError(f"{element.name} has {len(element.children)} values, 1 expected")
    term = compile_term(element.children[0], context, EXPRESSIONS)
    _check_type(term, variable)
    return variable, _widened(term, variable, context)


def _widened(term: Term, variable: Declaration, context: Context) -> Test:
    """The value of a term; an integer put into a float is one, so that later arithmetic stays in its own numbers."""
    value_of, number = term.value, context.number
    if variable.base != "float":
        return value_of

    def widened(scope: Scope) -> Value:
        value = value_of(scope)
        return number(value) if type(value) is int else value

    return widened


def _check_type(term: Term, variable: Declaration) -> None:
    widens = (term.base, variable.base) == ("integer", "float")
    if term.base and term.base != variable.base and not widens:
        raise CannotMarkError(f"'{variable.identifier}' is of type {variable.base} and is set to {term.base}")
    if term.cardinality and term.cardinality != variable.cardinality:
        raise CannotMarkError(f"'{variable.identifier}' is {variable.cardinality} and is set to {term.cardinality}")
