"""Processing, run as the QTI 3.0 information model says: the answers go in, the outcomes come out.

Rules, which template processing shares, are compiled once; a condition takes its first true branch, and one that is
NULL counts as false.

No marking depends on one before it. What came out is kept, though, for answers that the rules cannot tell apart: rules
that ask of a number only whether it is there, and in which of their bands it lies (``Context.reads`` and ``bands``), do
the same for all numbers in the same bands.
"""

from __future__ import annotations

import decimal
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from types import MappingProxyType
from typing import TypeAlias

from ...strangers.documents import Element, read_document
from ...strangers.parsing import shown
from .expressions import Context, Interval, Scope, Term, compile_term
from .operators import EXPRESSIONS
from .values import Arithmetic, CannotMarkError, Declaration, Kind, MixedTypesError, ReportedError, Texts, Value

Rule: TypeAlias = Callable[[Scope], None]
Test: TypeAlias = Callable[[Scope], Value]
Compile: TypeAlias = Callable[[Element, Context, "Table", int], Rule]
Table: TypeAlias = Mapping[str, Compile]
DEEPEST = 20
LONGEST = 5000
MOST_KNOWN = 500  # markings of one item that are kept, since many checks ask for the same
EXACT = decimal.Context(prec=40, traps=[decimal.InvalidOperation, decimal.DivisionByZero, decimal.Overflow])
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


def compile_rule(element: Element, context: Context, table: Table, depth: int = 0) -> Rule:
    """The rule that ``element`` stands for. Raises CannotMarkError for what can't be marked exactly."""
    if depth > DEEPEST:
        raise CannotMarkError(f"conditions are nested more than {DEEPEST} deep")
    compiled = table.get(element.name)
    if compiled is None:
        raise CannotMarkError(f"{shown(element.name)} is no rule that can be marked yet")
    return compiled(element, context, table, depth)


def _rules(elements: Iterable[Element], context: Context, table: Table, depth: int) -> list[Rule]:
    return [compile_rule(each, context, table, depth + 1) for each in elements]


def condition(kind: str) -> Compile:
    """How a condition of this kind of processing is compiled: if, else-if, else.

    Raises CannotMarkError for what can't be marked exactly.
    """
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
    """The truth value that a rule tests. Raises CannotMarkError for what can't be marked exactly."""
    term = compile_term(element, context, EXPRESSIONS)
    if not term.is_boolean():
        raise CannotMarkError(f"the condition of {holder.name} is no truth value")
    return term.value


def assigned(
    element: Element, context: Context, kinds: tuple[Kind, ...]
) -> tuple[Declaration, Callable[[Scope], Value]]:
    """The variable that a rule sets, which is of one of these kinds, and the value that it sets it to.

    Raises CannotMarkError for what can't be marked exactly. Raises ReportedError for what was told before.
    """
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
        raise MixedTypesError(f"'{variable.identifier}' is of type {variable.base} and is set to {term.base}")
    if term.cardinality and term.cardinality != variable.cardinality:
        raise MixedTypesError(f"'{variable.identifier}' is {variable.cardinality} and is set to {term.cardinality}")


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
            self._rules = [compile_rule(each, self._context, RULES) for each in rules]
            self._start = {each.identifier: each.initial(number) for each in declarations.values()}
        self._buttons = dict.fromkeys(buttons, False)
        self._start.update(self._buttons)
        self._exact = EXACT.copy()  # to make one for each marking takes a fifth of its time
        self._known: dict[tuple[tuple[str, str | Texts], ...], Scope] = {}
        self._bands = {name: tuple(self._context.bands.get(name, ())) for name in declarations if self._is_sorted(name)}
        self._told_apart: dict[tuple[tuple[str, object], ...], Scope] = {}
        self._plans: dict[frozenset[Element | str], tuple[list[Callable[[], None]], bool]] = {}

    def _is_sorted(self, name: str) -> bool:
        """Whether the rules ask of a response only whether it is there, and in which bands it lies."""
        declared = self._context.declarations[name]
        is_number = (declared.cardinality, declared.base) in (("single", "float"), ("single", "integer"))
        return declared.kind == "response" and is_number and not self._context.reads[name]

    def count_bands(self, name: str) -> int | None:
        """In how many bands the rules ask whether a response lies; None where they ask more of it."""
        return len(self._bands[name]) if name in self._bands else None

    def read_again(self, changed: frozenset[Element | str]) -> None:
        """Takes the numbers of the item once more from these elements and from the declarations of these variables.

        What came out for numbers in some bands still holds where the bands alone have changed.
        """
        if changed not in self._plans:
            self._plans[changed] = self._plan(changed)
        readers, others = self._plans[changed]
        self._known.clear()
        if others:
            self._told_apart.clear()
        self._exactly(readers)

    def _plan(self, changed: frozenset[Element | str]) -> tuple[list[Callable[[], None]], bool]:
        """What is to be read again after such changes, and whether any of it is more than a band."""
        readers = [each for each in self._context.readers if not each.of.isdisjoint(changed)]
        return [each.read for each in readers], any(each.cell and not each.cell.bounds for each in readers)

    def start(self) -> Scope:
        """All variables before anything is answered."""
        return dict(self._start)

    def mark(self, answers: Mapping[str, str | Texts], before: Scope | None = None) -> Scope:
        """All variables after processing, when these texts are given to these responses; they are not to be changed.

        An item that keeps its outcomes from one attempt to the next goes on from ``before``.
        """
        if before is not None:
            return self._run({**before, **self._buttons} if before else self._start, self._values(answers))
        given = tuple(answers.items())
        scope = self._known.get(given)
        if scope is None:
            scope = self._marked(answers)
            if len(self._known) < MOST_KNOWN:
                self._known[given] = scope
        return scope

    def _marked(self, answers: Mapping[str, str | Texts]) -> Scope:
        """All variables after processing; the rules run once for all answers that they cannot tell apart."""
        values, bands = self._values(answers), self._bands
        sort = tuple([(name, _sort(bands[name], values[name]) if name in bands else answers[name]) for name in answers])
        alike = self._told_apart.get(sort)
        if alike is not None:
            return {**alike, **values}
        scope = self._run(self._start, values)
        if len(self._told_apart) < MOST_KNOWN:
            self._told_apart[sort] = scope
        return scope

    def _values(self, answers: Mapping[str, str | Texts]) -> Scope:
        number, declarations = self._context.number, self._context.declarations
        return {
            name: declarations[name].value_of((given,) if isinstance(given, str) else given, number)
            for name, given in answers.items()
        }

    def _run(self, start: Scope, values: Scope) -> Scope:
        scope = {**start, **values}
        self._exactly([partial(rule, scope) for rule in self._rules])
        return scope

    def _exactly(self, steps: Iterable[Callable[[], None]]) -> None:
        """Does all steps in the context in which items are marked."""
        usual = decimal.getcontext()
        decimal.setcontext(self._exact)
        try:
            for step in steps:
                step()
        finally:
            decimal.setcontext(usual)


def _sort(bands: tuple[Interval, ...], number: Value) -> object:
    """What rules that ask no more than ``Context.bands`` says can know of a number; NULL where there is none."""
    if number is None:
        return None
    return tuple([each.low <= number <= each.high if each.closed else each.holds(number) for each in bands])


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


def _set_outcome_value(element: Element, context: Context, table: Table, depth: int) -> Rule:
    outcome, value_of = assigned(element, context, ("outcome",))
    identifier = outcome.identifier

    def run(scope: Scope) -> None:
        scope[identifier] = value_of(scope)

    return run


RULES: Table = MappingProxyType(
    {"qti-response-condition": condition("response"), "qti-set-outcome-value": _set_outcome_value}
)
