"""Response processing, run as the QTI 3.0 information model says: the answers go in, the outcomes come out.

Nothing is remembered between two markings.
"""

from __future__ import annotations

import decimal
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from turnwright.exporters.proof.declarations import Declaration, Texts
from turnwright.exporters.proof.documents import Element, read_document
from turnwright.exporters.proof.expressions import Context, Scope
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.rules import Rule, Table, assigned, compile_rule, condition
from turnwright.exporters.proof.values import Arithmetic, CannotMarkError

LONGEST = 5000
MOST_KNOWN = 500  # markings of one item that are kept, since many checks ask for the same
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
            self._rules = [compile_rule(each, self._context, RULES) for each in rules]
            self._start = {each.identifier: each.initial(number) for each in declarations.values()}
        self._buttons = dict.fromkeys(buttons, False)
        self._start.update(self._buttons)
        self._exact = EXACT.copy()  # to make one for each marking takes a fifth of its time
        self._known: dict[tuple[tuple[str, str | Texts], ...], Scope] = {}

    def read_again(self) -> None:
        """Takes the numbers of the item from its elements and declarations once more, where these have changed."""
        self._known.clear()
        with decimal.localcontext(EXACT):
            for read in self._context.readers:
                read()

    def start(self) -> Scope:
        """All variables before anything is answered."""
        return dict(self._start)

    def mark(self, answers: Mapping[str, str | Texts], before: Scope | None = None) -> Scope:
        """All variables after processing, when these texts are given to these responses; they are not to be changed.

        An item that keeps its outcomes from one attempt to the next goes on from ``before``.
        """
        given = tuple(answers.items())
        if before is not None or given not in self._known:
            scope = self._run(answers, before)
            if before is not None or len(self._known) >= MOST_KNOWN:
                return scope
            self._known[given] = scope
        return self._known[given]

    def _run(self, answers: Mapping[str, str | Texts], before: Scope | None) -> Scope:
        scope = {**before, **self._buttons} if before else self._start.copy()
        number, declarations = self._context.number, self._context.declarations
        for identifier, given in answers.items():
            texts = (given,) if isinstance(given, str) else given
            scope[identifier] = declarations[identifier].value_of(texts, number)
        usual = decimal.getcontext()
        decimal.setcontext(self._exact)
        try:
            for rule in self._rules:
                rule(scope)
        finally:
            decimal.setcontext(usual)
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


def _set_outcome_value(element: Element, context: Context, table: Table, depth: int) -> Rule:
    outcome, value_of = assigned(element, context, ("outcome",))
    identifier = outcome.identifier

    def run(scope: Scope) -> None:
        scope[identifier] = value_of(scope)

    return run


RULES: Table = MappingProxyType(
    {"qti-response-condition": condition("response"), "qti-set-outcome-value": _set_outcome_value}
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
