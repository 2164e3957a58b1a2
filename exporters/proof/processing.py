"""Response processing, run as the QTI 3.0 information model says: the answers go in, the outcomes come out.

A condition that is NULL counts as false. Nothing is remembered between two markings.
"""

from __future__ import annotations

import decimal
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import TypeAlias

from turnwright.exporters.proof.declarations import Declaration, ReportedError, Texts
from turnwright.exporters.proof.documents import Element, read_document
from turnwright.exporters.proof.expressions import Context, Scope, Term, compile_term
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.operators import EXPRESSIONS
from turnwright.exporters.proof.values import Arithmetic, CannotMarkError, Value

Rule: TypeAlias = Callable[[Scope], None]
Compile: TypeAlias = Callable[[Element, Context, int], Rule]
DEEPEST = 20
LONGEST = 5000
EXACT = decimal.Context(prec=40, traps=[decimal.InvalidOperation, decimal.DivisionByZero, decimal.Overflow])


class Marking:
    """The response processing of one item, compiled once, in one arithmetic.

    ``buttons`` are the responses of what ends an attempt: false unless pressed (from memory), whatever is declared.
    """

    def __init__(
        self,
        item: Element,
        declarations: Mapping[str, Declaration],
        number: Arithmetic,
        buttons: Iterable[str] = (),
    ) -> None:
        self._context = Context(declarations, number)
        rules = _rules_of(item)
        if sum(rule.size() for rule in rules) > LONGEST:
            raise CannotMarkError(f"response processing has more than {LONGEST} elements")
        with decimal.localcontext(EXACT):
            self._rules = [_rule(each, self._context, 0) for each in rules]
            self._start = {each.identifier: each.initial(number) for each in declarations.values()}
        self._buttons = dict.fromkeys(buttons, False)
        self._start.update(self._buttons)

    def start(self) -> Scope:
        """All variables before anything is answered."""
        return dict(self._start)

    def mark(self, answers: Mapping[str, str | Texts], before: Scope | None = None) -> Scope:
        """All variables after processing, when these texts are given to these responses.

        An item that keeps its outcomes from one attempt to the next goes on from ``before``.
        """
        scope = {**(before or self._start), **self._buttons}
        for identifier, given in answers.items():
            texts = (given,) if isinstance(given, str) else given
            scope[identifier] = self._context.declarations[identifier].value_of(texts, self._context.number)
        with decimal.localcontext(EXACT):
            for rule in self._rules:
                rule(scope)
        return scope


def _rules_of(item: Element) -> tuple[Element, ...]:
    processing = item.child("qti-response-processing")
    if processing is None:
        raise CannotMarkError("there is no response processing")
    template = processing.get("template")
    if not template or processing.children:
        return processing.children
    name = template.rpartition("/")[2].removesuffix(".xml")
    if name not in TEMPLATES:
        raise CannotMarkError(f"the response processing template '{shown(name)}' can not be marked yet")
    return read_document(TEMPLATES[name], lambda each: each).children


def _rule(element: Element, context: Context, depth: int) -> Rule:
    if depth > DEEPEST:
        raise CannotMarkError(f"conditions are nested more than {DEEPEST} deep")
    compile_rule = RULES.get(element.name)
    if compile_rule is None:
        raise CannotMarkError(f"{shown(element.name)} is no rule that can be marked yet")
    return compile_rule(element, context, depth)


def _rules(elements: Iterable[Element], context: Context, depth: int) -> list[Rule]:
    return [_rule(each, context, depth + 1) for each in elements]


def _response_condition(element: Element, context: Context, depth: int) -> Rule:
    names = [each.name for each in element.children]
    last_else = names[-1:] == ["qti-response-else"]
    tests = names[: len(names) - last_else]
    if tests != ["qti-response-if"] + ["qti-response-else-if"] * (len(tests) - 1):
        raise CannotMarkError(f"{element.name} is not made of if, else-if and else in this order")
    branches = [_branch(each, context, depth) for each in element.children[: len(tests)]]
    otherwise = _rules(element.children[-1].children, context, depth) if last_else else []

    def run(scope: Scope) -> None:
        taken = otherwise
        for condition, rules in branches:
            if condition(scope) is True:
                taken = rules
                break
        for rule in taken:
            rule(scope)

    return run


def _branch(element: Element, context: Context, depth: int) -> tuple[Callable[[Scope], Value], list[Rule]]:
    if not element.children:
        raise CannotMarkError(f"{element.name} has no condition")
    condition = compile_term(element.children[0], context, EXPRESSIONS)
    if not condition.is_boolean():
        raise CannotMarkError(f"the condition of {element.name} is no truth value")
    return condition.value, _rules(element.children[1:], context, depth)


def _set_outcome_value(element: Element, context: Context, depth: int) -> Rule:
    identifier = element.get("identifier")
    outcome = context.declaration(identifier)
    if outcome.kind != "outcome":
        raise ReportedError(f"'{shown(identifier)}' is no outcome")
    if len(element.children) != 1:
        raise CannotMarkError(f"{element.name} has {len(element.children)} values, 1 expected")
    term = compile_term(element.children[0], context, EXPRESSIONS)
    _check_type(term, outcome)
    value_of, number, is_float = term.value, context.number, outcome.base == "float"

    def run(scope: Scope) -> None:
        value = value_of(scope)
        # An integer put into a float is one, so that later arithmetic stays in its own numbers.
        scope[identifier] = number(value) if is_float and type(value) is int else value

    return run


def _check_type(term: Term, outcome: Declaration) -> None:
    widens = (term.base, outcome.base) == ("integer", "float")
    if term.base and term.base != outcome.base and not widens:
        raise CannotMarkError(f"'{outcome.identifier}' is of type {outcome.base} and is set to {term.base}")
    if term.cardinality and term.cardinality != outcome.cardinality:
        raise CannotMarkError(f"'{outcome.identifier}' is {outcome.cardinality} and is set to {term.cardinality}")


RULES: Mapping[str, Compile] = MappingProxyType(
    {"qti-response-condition": _response_condition, "qti-set-outcome-value": _set_outcome_value}
)

# The two standard templates, written out from what the standard says they do.
TEMPLATES: Mapping[str, bytes] = MappingProxyType(
    {
        "match_correct": b"""<p><qti-response-condition>
            <qti-response-if><qti-match><qti-variable identifier="RESPONSE"/><qti-correct identifier="RESPONSE"/>
             </qti-match><qti-set-outcome-value identifier="SCORE"><qti-base-value base-type="float">1</qti-base-value>
             </qti-set-outcome-value></qti-response-if>
            <qti-response-else><qti-set-outcome-value identifier="SCORE"><qti-base-value base-type="float">0
             </qti-base-value></qti-set-outcome-value></qti-response-else></qti-response-condition></p>""",
        "map_response": b"""<p><qti-response-condition>
            <qti-response-if><qti-is-null><qti-variable identifier="RESPONSE"/></qti-is-null>
             <qti-set-outcome-value identifier="SCORE"><qti-base-value base-type="float">0</qti-base-value>
             </qti-set-outcome-value></qti-response-if>
            <qti-response-else><qti-set-outcome-value identifier="SCORE"><qti-map-response identifier="RESPONSE"/>
             </qti-set-outcome-value></qti-response-else></qti-response-condition></p>""",
    }
)
