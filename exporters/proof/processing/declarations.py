"""The declarations of an item: what a candidate may answer, and what comes out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Literal, NamedTuple, TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .values import BASE_TYPES, Arithmetic, CannotMarkError, Value, container, parse

Kind: TypeAlias = Literal["response", "outcome", "template"]
Texts: TypeAlias = tuple[str, ...]

KINDS: Mapping[str, Kind] = {
    "qti-response-declaration": "response",
    "qti-outcome-declaration": "outcome",
    "qti-template-declaration": "template",
}
CARDINALITIES = ("single", "multiple", "ordered")


class ReportedError(CannotMarkError):
    """A fault that the check of references or of declarations reports already."""


class Declaration(NamedTuple):
    """One variable of an item; ``default`` and ``correct`` are texts as written, none where nothing is declared."""

    kind: Kind
    identifier: str
    cardinality: str
    base: str
    default: Texts = ()
    correct: Texts = ()
    mapping: Element | None = None
    normal_maximum: str = ""

    def value_of(self, texts: Texts, number: Arithmetic) -> Value:
        """The declared ``texts`` as a value of this variable."""
        if self.cardinality != "single":
            return container([parse(each, self.base, number) for each in texts])
        return parse(texts[0], self.base, number) if texts else None

    def initial(self, number: Arithmetic) -> Value:
        """The value before processing: the default, else 0 for a number that comes out, else NULL."""
        if not self.default and self.kind == "outcome" and self.cardinality == "single":
            return {"float": number(0), "integer": 0}.get(self.base)
        return self.value_of(self.default, number)


# Every item has these without declaring them.
BUILT_IN = (
    Declaration("response", "numAttempts", "single", "integer", default=("1",)),
    Declaration("response", "duration", "single", "float", default=("0",)),
    Declaration("outcome", "completionStatus", "single", "identifier", default=("unknown",)),
)


def read_declarations(item: Element) -> dict[str, Declaration]:
    """All variables of an item by identifier, with the built-in ones; of two with one name, the first."""
    declarations = {each.identifier: each for each in BUILT_IN}
    for element in item.children:
        if element.name in KINDS:
            declaration = _read(element, KINDS[element.name])
            declarations.setdefault(declaration.identifier, declaration)
    return declarations


def read_responses_again(item: Element, declarations: dict[str, Declaration]) -> None:
    """Takes the right answers of an item from its elements once more, where these have changed."""
    for element in item.children:
        correct = element.child("qti-correct-response") if element.name == "qti-response-declaration" else None
        if correct is not None:
            known = declarations[element.get("identifier")]
            declarations[known.identifier] = known._replace(correct=_values(correct))


def _read(element: Element, kind: Kind) -> Declaration:
    return Declaration(
        kind,
        element.get("identifier"),
        element.get("cardinality"),
        element.get("base-type"),
        _values(element.child("qti-default-value")),
        _values(element.child("qti-correct-response")),
        element.child("qti-mapping"),
        element.get("normal-maximum"),
    )


def _values(element: Element | None) -> Texts:
    # with elements in it a value is another, or none: readers differ in what they take
    return tuple(each.string() for each in element.children if each.name == "qti-value") if element is not None else ()


def check_declarations(declarations: Mapping[str, Declaration]) -> Iterator[str]:
    """What is wrong with the declarations themselves."""
    for each in declarations.values():
        called = f"{each.kind} '{shown(each.identifier)}'"
        if each.cardinality not in (*CARDINALITIES, "record"):
            yield f"{called} has the cardinality '{shown(each.cardinality)}'"
        for what, texts in (("default", each.default), ("correct", each.correct)):
            if each.cardinality == "single" and len(texts) > 1:
                yield f"{called} has {len(texts)} {what} values, 1 expected"
            yield from (
                f"{called} has the {what} value '{shown(text)}', {each.base} expected"
                for text in texts
                if each.base in BASE_TYPES and parse(text, each.base, Decimal) is None
            )
