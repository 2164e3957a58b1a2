"""An expression of response processing is compiled once into a small function of the variables.

Here is how that is done, and the expressions that fetch a value; ``operators`` has those that combine values.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .dice import Dice
from .values import (
    BASE_TYPES,
    CARDINALITIES,
    Arithmetic,
    CannotMarkError,
    Declaration,
    ReportedError,
    Value,
    bounded,
    parse,
)

Scope: TypeAlias = dict[str, Value]
DEEPEST = 40


@dataclass(slots=True)
class Cell:
    """A value that is the same whatever is answered; only another item of a series has another.

    It is read from the elements and the variables ``of``. ``bounds`` says that only bands are made of it.
    """

    value: Value = None
    of: frozenset[Element | str] = frozenset()
    bounds: bool = False


@dataclass(slots=True)
class Interval:
    """The numbers from ``low`` to ``high``, each with them where it is included; NULL where there are none."""

    lower: bool
    upper: bool
    low: Value = None
    high: Value = None
    closed: bool = False  # whether there are such numbers, both ends with them: most bands, which need no call

    def put(self, low: Value, high: Value) -> None:
        """Changes the numbers."""
        self.low, self.high = low, high
        self.closed = self.lower and self.upper and low is not None

    def holds(self, number: Value) -> Value:
        """Whether a number is one of them."""
        low, high = self.low, self.high
        if number is None or low is None:
            return None
        return (low <= number if self.lower else low < number) and (number <= high if self.upper else number < high)


class Reader(NamedTuple):
    """Reads anew what depends on numbers that are written in an item, into a cell or, where there is none, a band."""

    read: Callable[[], None]
    of: frozenset[Element | str]
    cell: Cell | None


class Term(NamedTuple):
    """A compiled expression: its base type and cardinality ("" where only NULL comes out), and its value.

    ``cell`` holds the value where that is no matter of the variables; ``variable`` is the one whose value it is, where
    it is one.
    """

    base: str
    cardinality: str
    value: Callable[[Scope], Value]
    cell: Cell | None = None
    variable: str = ""

    def is_number(self) -> bool:
        """Whether it is one number, or NULL."""
        return self.base in ("float", "integer", "") and self.cardinality in ("single", "")

    def is_boolean(self) -> bool:
        """Whether it is one truth value, or NULL."""
        return self.base in ("boolean", "") and self.cardinality in ("single", "")


@dataclass(frozen=True)
class Context:
    """What an expression is compiled in: the variables of the item, and the arithmetic to mark in.

    ``dice`` gives the dice of the draw that is going on; where there is none, nothing may be random. ``readers`` are
    in the order in which one depends on another.

    ``bands`` are those that the value of a variable is held against; ``reads`` counts what else of its value is asked
    for, but for whether it is NULL. So where that is nothing, two numbers in the same bands are marked alike.
    """

    declarations: Mapping[str, Declaration]
    number: Arithmetic
    dice: Callable[[], Dice] | None = None
    readers: list[Reader] = field(default_factory=list)
    bands: dict[str, list[Interval]] = field(default_factory=dict)
    reads: Counter[str] = field(default_factory=Counter)

    def read(self, reader: Reader) -> None:
        """Runs a reader, now and for each other item of a series where what it reads has changed."""
        reader.read()
        self.readers.append(reader)

    def reads_of(self, identifier: str) -> Callable[[Scope], Value]:
        """What fetches the value of a variable."""
        self.reads[identifier] += 1
        return lambda scope: scope[identifier]

    def declaration(self, identifier: str) -> Declaration:
        """The variable of that name, of a type that can be marked.

        Raises CannotMarkError for what can't be marked exactly. Raises ReportedError for what was told before.
        """
        found = self.declarations.get(identifier)
        if found is None:
            raise ReportedError(f"no variable is called '{shown(identifier)}'")
        if found.cardinality not in CARDINALITIES or found.base not in BASE_TYPES:
            raise CannotMarkError(f"'{shown(identifier)}' is of a type that is not marked yet")
        return found

    def whole(self, element: Element, name: str, default: str = "") -> Callable[[Scope], Value]:
        """The whole number in an attribute, or the integer variable that it names.

        Raises CannotMarkError for what can't be marked exactly.
        """
        text = element.get(name) or default
        value = parse(text, "integer", self.number)
        if value is not None:
            return lambda scope: value
        if text not in self.declarations:
            raise CannotMarkError(f"{element.name} has {name} '{shown(text)}', a whole number or a variable expected")
        found = self.declaration(text)
        if (found.cardinality, found.base) != ("single", "integer"):
            raise CannotMarkError(f"{element.name} has {name} '{shown(text)}', which is no single integer")
        return self.reads_of(text)


Operands: TypeAlias = list[Term]
Compile: TypeAlias = Callable[[Element, Operands, Context], Term]


@dataclass(frozen=True)
class Expression:
    """How an element is compiled, and how few and many operands it takes."""

    compile: Compile
    fewest: int
    most: int


def compile_term(element: Element, context: Context, table: Mapping[str, Expression], depth: int = 0) -> Term:
    """The expression that ``element`` stands for. Raises CannotMarkError for what can't be marked exactly."""
    expression = table.get(element.name)
    if expression is None:
        raise CannotMarkError(f"{shown(element.name)} is no expression that can be marked yet")
    if depth > DEEPEST:
        raise CannotMarkError(f"expressions are nested more than {DEEPEST} deep")
    count = len(element.children)
    if not expression.fewest <= count <= expression.most:
        expected = f"{expression.fewest}" if expression.fewest == expression.most else f"{expression.fewest} or more"
        raise CannotMarkError(f"{element.name} has {count} operands, {expected} expected")
    operands = [compile_term(each, context, table, depth + 1) for each in element.children]
    return expression.compile(element, operands, context)


def constant(value: Value, base: str, cardinality: str = "single") -> Term:
    """A term that is always ``value``."""
    return Term(base, cardinality, lambda scope: value)


def variable(element: Element, operands: Operands, context: Context) -> Term:
    """The value of a variable at that moment."""
    identifier = element.get("identifier")
    declaration = context.declaration(identifier)
    return Term(
        declaration.base, declaration.cardinality, context.reads_of(identifier), variable=declaration.identifier
    )


def correct(element: Element, operands: Operands, context: Context) -> Term:
    """The declared correct response, NULL where there is none."""
    declaration = context.declaration(element.get("identifier"))
    cell = Cell(of=frozenset({declaration.identifier}))

    def read() -> None:
        declared = context.declaration(declaration.identifier)
        cell.value = declared.value_of(declared.correct, context.number)

    context.read(Reader(read, cell.of, cell))
    return Term(declaration.base, declaration.cardinality, lambda scope: cell.value, cell)


def default(element: Element, operands: Operands, context: Context) -> Term:
    """The declared default value, NULL where there is none."""
    declaration = context.declaration(element.get("identifier"))
    value = declaration.value_of(declaration.default, context.number)
    return constant(value, declaration.base, declaration.cardinality)


def base_value(element: Element, operands: Operands, context: Context) -> Term:
    """The value that is written in the element. Raises CannotMarkError for what can't be marked exactly."""
    base, cell = element.get("base-type"), Cell(of=frozenset({element}))

    def read() -> None:
        cell.value = parse(element.text, base, context.number) if base in BASE_TYPES else None
        if cell.value is None:
            wanted = shown(base) or "value of a base type"
            raise CannotMarkError(f"the base value '{shown(element.text)}' is no {wanted}")

    if base == "float":
        context.read(Reader(read, cell.of, cell))
    else:
        read()
    return Term(base, "single", lambda scope: cell.value, cell)


def null(element: Element, operands: Operands, context: Context) -> Term:
    """NULL."""
    return constant(None, "", "")


def is_null(element: Element, operands: Operands, context: Context) -> Term:
    """Whether the operand is NULL; this alone is never NULL itself."""
    value, identifier = operands[0].value, operands[0].variable
    if identifier:
        context.reads[identifier] -= 1
    return Term("boolean", "single", lambda scope: value(scope) is None)


def map_response(element: Element, operands: Operands, context: Context) -> Term:
    """The sum of what the declared mapping gives for each different value of the response.

    Raises CannotMarkError for what can't be marked exactly.
    """
    declaration = context.declaration(element.get("identifier"))
    if declaration.mapping is None:
        raise CannotMarkError(f"'{declaration.identifier}' has no mapping for {element.name}")
    mapped = _mapping(declaration, context)
    value_of = context.reads_of(declaration.identifier)
    return Term("float", "single", lambda scope: mapped(value_of(scope)))


def _mapping(declaration: Declaration, context: Context) -> Callable[[Value], Value]:
    """The mapping as a function; NULL where one value is asked for is worth the default value, too (from memory)."""
    mapping = declaration.mapping
    assert mapping is not None
    number = context.number
    lower, upper = (_bound(mapping.get(f"{side}-bound"), number) for side in ("lower", "upper"))
    otherwise = _number(mapping.get("default-value") or "0", number)
    entries = [each for each in mapping.children if each.name == "qti-map-entry"]
    exact = {_key(each, declaration, number): _number(each.get("mapped-value"), number) for each in entries}
    folded = {
        each.get("map-key").casefold(): exact[_key(each, declaration, number)]
        for each in entries
        if each.get("case-sensitive") == "false"
    }

    def mapped(response: Value) -> Value:
        if response is None and declaration.cardinality == "single":
            return otherwise
        values = dict.fromkeys(response if isinstance(response, tuple) else () if response is None else (response,))
        total: Value = number(0)
        for each in values:
            total += exact.get(each, folded.get(str(each).casefold(), otherwise))
        total = total if lower is None else max(total, lower)
        return bounded(total if upper is None else min(total, upper))

    return mapped


def _key(entry: Element, declaration: Declaration, number: Arithmetic) -> Value:
    return parse(entry.get("map-key"), declaration.base, number)


def _bound(text: str, number: Arithmetic) -> Value:
    """The end of a mapping's sum, none where it is not declared."""
    return _number(text, number) if text else None


def _number(text: str, number: Arithmetic) -> Value:
    value = parse(text, "float", number)
    if value is None:
        raise CannotMarkError(f"'{shown(text)}' in a mapping is no number")
    return value
