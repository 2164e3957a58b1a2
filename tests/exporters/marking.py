"""Response processing run on an item, exactly and for the few words that our files use.

The meaning of each word is that of the information model of QTI 3.0, from memory of that document; it shares no code
with the reader that proves a pack.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TypeAlias

from lxml import etree
from turnwright.exporters.markup.elements import QTI, Element

# An identifier or pair, a truth value, a number, several values without an order, several in order, NULL.
Value: TypeAlias = str | bool | Fraction | frozenset[str] | tuple[str, ...] | None


def found(element: Element, path: str) -> list[Element]:
    """The elements of QTI on this path."""
    return element.findall(path, {"": QTI})


def attribute(element: Element, name: str) -> str:
    """An attribute that must be there."""
    value = element.get(name)
    assert value is not None
    return value


class Marking:
    """The outcomes of an item after these answers; exact, and only the words that our files use."""

    def __init__(self, item: Element, answers: Mapping[str, Value]) -> None:
        self.item = item
        self.values: dict[str, Value] = {}
        for outcome in found(item, "qti-outcome-declaration"):
            default = found(outcome, "qti-default-value/qti-value")
            self.values[attribute(outcome, "identifier")] = Fraction(default[0].text or "") if default else None
        self.responses = {attribute(each, "identifier"): each for each in found(item, "qti-response-declaration")}
        assert set(answers) <= set(self.responses)
        self.values |= {name: answers.get(name) for name in self.responses}
        (processing,) = found(item, "qti-response-processing")
        self._run(list(processing))

    def __getitem__(self, name: str) -> Value:
        return self.values[name]

    def _run(self, rules: list[Element]) -> None:
        for rule in rules:
            if _name(rule) == "set-outcome-value":
                self.values[attribute(rule, "identifier")] = self._value(rule[0])
            else:
                assert _name(rule) == "response-condition"
                self._run(next((taken for test, taken in map(self._branch, rule) if test is True), []))

    def _branch(self, branch: Element) -> tuple[Value, list[Element]]:
        if _name(branch) == "response-else":
            return True, list(branch)
        return self._value(branch[0]), list(branch)[1:]

    def _value(self, term: Element) -> Value:
        return getattr(self, f"_{_name(term).replace('-', '_')}")(term)  # type: ignore[no-any-return]

    def _numbers(self, term: Element) -> list[Fraction]:
        values = [self._value(each) for each in term]
        return [each for each in values if isinstance(each, Fraction)]

    def _variable(self, term: Element) -> Value:
        return self.values[attribute(term, "identifier")]

    def _correct(self, term: Element) -> Value:
        response = self.responses[attribute(term, "identifier")]
        texts = [each.text or "" for each in found(response, "qti-correct-response/qti-value")]
        if response.get("base-type") == "float":
            return Fraction(texts[0])
        as_value: dict[str, Value] = {"single": texts[0], "multiple": frozenset(texts), "ordered": tuple(texts)}
        return as_value[attribute(response, "cardinality")]

    def _base_value(self, term: Element) -> Value:
        text = term.text or ""
        return Fraction(text) if term.get("base-type") == "float" else text

    def _null(self, term: Element) -> Value:
        return None

    def _is_null(self, term: Element) -> Value:
        return self._value(term[0]) is None

    def _not(self, term: Element) -> Value:
        return not self._value(term[0])

    def _or(self, term: Element) -> Value:
        return any(self._value(each) for each in term)

    def _match(self, term: Element) -> Value:
        first, second = self._value(term[0]), self._value(term[1])
        assert None in (first, second) or type(first) is type(second)
        return None if None in (first, second) else first == second

    def _equal(self, term: Element) -> Value:
        assert term.get("tolerance-mode") == "absolute"
        below, above = (Fraction(each) for each in attribute(term, "tolerance").split())
        first, second = self._numbers(term)
        return first - below <= second <= first + above

    def _sum(self, term: Element) -> Value:
        return sum(self._numbers(term), Fraction(0))

    def _product(self, term: Element) -> Value:
        first, second = self._numbers(term)
        return first * second

    def _divide(self, term: Element) -> Value:
        first, second = self._numbers(term)
        return first / second

    def _map_response(self, term: Element) -> Value:
        name = attribute(term, "identifier")
        (mapping,) = found(self.responses[name], "qti-mapping")
        assert mapping.items() == [("default-value", "0")]
        worth = {attribute(each, "map-key"): Fraction(attribute(each, "mapped-value")) for each in mapping}
        given = self.values[name]
        assert isinstance(given, frozenset)
        return sum((worth.get(each, Fraction(0)) for each in given), Fraction(0))

    def _multiple(self, term: Element) -> Value:
        values = [self._value(each) for each in term]
        parts = [each if isinstance(each, frozenset) else {each} for each in values if each is not None]
        return frozenset(str(each) for part in parts for each in part)

    def _ordered(self, term: Element) -> Value:
        return tuple(str(self._value(each)) for each in term)


def _name(element: Element) -> str:
    return etree.QName(element).localname.removeprefix("qti-")
