"""The values that response processing works on, and the declarations of the variables that hold them.

NULL is None, a container is a tuple and never empty. A float is a ``Decimal`` where an item is marked exactly and a
``float`` where it is marked in doubles, as delivery systems do; both are kept to the range of a double, and integers to
64 bits.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from typing import Any, Literal, NamedTuple, TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown

Value: TypeAlias = Any  # bool, int, float, Decimal, str, a tuple of these, or None; operands are typed when compiled
Arithmetic: TypeAlias = Callable[[Any], Any]  # Decimal or float

BASE_TYPES = ("boolean", "directedPair", "float", "identifier", "integer", "pair", "string")
LARGEST_FLOAT = 1.7976931348623157e308
LARGEST_INTEGER = 2**63
LONGEST_CONTAINER = 1000
LONGEST_NUMBER = 1000  # characters

_FLOAT = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_INTEGER = re.compile(r"[+-]?[0-9]+")
Kind: TypeAlias = Literal["response", "outcome", "template"]
Texts: TypeAlias = tuple[str, ...]
KINDS: Mapping[str, Kind] = {
    "qti-response-declaration": "response",
    "qti-outcome-declaration": "outcome",
    "qti-template-declaration": "template",
}
CARDINALITIES = ("single", "multiple", "ordered")


class CannotMarkError(Exception):
    """A part of an item that this interpreter does not understand; the text says which, in one line."""


def parse(text: str, base: str, number: Arithmetic) -> Value:
    """The value of ``text``, or NULL when it is empty or not of that base type."""
    if base == "string":
        return text or None
    text = text.strip()
    if base == "float" and len(text) <= LONGEST_NUMBER:
        return _parse_float(text, number)
    if base == "identifier":
        return text or None
    if base == "boolean":
        return {"true": True, "1": True, "false": False, "0": False}.get(text)
    if base in ("directedPair", "pair"):
        return parse_pair(text, directed=base == "directedPair")
    if len(text) > LONGEST_NUMBER:
        return None
    return _parse_integer(text) if base == "integer" else _parse_float(text, number)


def parse_pair(text: str, directed: bool = True) -> str | None:
    """Two identifiers with one space between them, in alphabetical order where the pair has no direction."""
    names = text.split()
    if len(names) != 2:
        return None
    return " ".join(names if directed else sorted(names))


def _parse_integer(text: str) -> Value:
    return bounded(int(text)) if _INTEGER.fullmatch(text) else None


@lru_cache(maxsize=4096)  # one number is read by several checks, and each edge is typed in again and again
def _parse_float(text: str, number: Arithmetic) -> Value:
    if not _FLOAT.fullmatch(text) or math.isinf(nearest := float(text)):
        return None
    return number(text) if nearest else number(0)  # below the range of a double there is only zero


def bounded(value: Value) -> Value:
    """A number that a double or a 64-bit integer can hold, else NULL."""
    if isinstance(value, complex):
        return None
    if isinstance(value, int):
        return value if -LARGEST_INTEGER <= value < LARGEST_INTEGER else None
    return value if abs(value) <= LARGEST_FLOAT else None  # false for what is no number, too


def container(values: Iterable[Value]) -> Value:
    """A container of all values but NULL; an empty one is NULL.

    Raises CannotMarkError for what can't be marked exactly.
    """
    members: list[Value] = []
    for value in values:
        members.extend(value if isinstance(value, tuple) else () if value is None else (value,))
        if len(members) > LONGEST_CONTAINER:
            raise CannotMarkError(f"a container grows past {LONGEST_CONTAINER} values")
    return tuple(members) or None


def rounded_to(value: Value, figures: int, significant: bool) -> Decimal:
    """``value`` to so many significant figures or decimal places, halves away from zero."""
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    if not exact:
        return exact
    places = figures - 1 - exact.adjusted() if significant else figures
    return exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def is_run(short: Sequence[Value], long: Sequence[Value]) -> bool:
    """Whether ``short`` stands in ``long`` as it is, without a gap."""
    size = len(short)
    return any(tuple(long[at : at + size]) == tuple(short) for at in range(len(long) - size + 1))


class MixedTypesError(CannotMarkError):
    """A rule that takes a value of a type that it has no meaning for, whoever marks."""


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
