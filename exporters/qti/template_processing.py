"""The template part of an item file: the variables, the table of rows, the row that is drawn, and the key.

Every column is an ordered list, of which the row picks one; so values that belong together can't be drawn apart. A key
that the platform works out is an expression: sums, products, powers and functions of template variables.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from ...bank.item.computation import Constant, Function, Minus, Node, Pi, Product, Quotient, Raised, Sum, Value
from ...bank.quantities.quantity import print_exact
from ..adapting.template import TemplateItem
from ..markup.elements import Element
from .vocabulary import QTI, add_number, add_variable, number_text

ROW, KEY, WIDTH = "ROW", "KEY", "WIDTH"
KEY_SHOWN, WIDTH_SHOWN = "KEY_SHOWN", "WIDTH_SHOWN"
NOTHING_NEAR = ("0", "-1")  # value and half-width of a wrong answer that a row does not know: no distance is below 0
Base: TypeAlias = Literal["string", "float"]


def add_form(parent: Element, node: Node, names: Mapping[str, str]) -> None:
    """Adds the expression of a tree; ``names`` are the template variables of its values."""
    match node:
        case Constant(value=value):
            add_number(parent, number_text(value))
        case Pi():
            QTI.add(parent, "qti-math-constant", name="pi")
        case Value(name=name):
            add_variable(parent, names[name])
        case Function(name=name, argument=argument):
            _add(parent, "qti-math-operator", (argument,), names, name=name)
        case Sum(terms=terms):
            _add(parent, "qti-sum", terms, names)
        case Product(factors=factors):
            _add(parent, "qti-product", factors, names)
        case Minus(first=first, second=second):
            _add(parent, "qti-subtract", (first, second), names)
        case Quotient(above=above, below=below):
            _add(parent, "qti-divide", (above, below), names)
        case Raised(base=base, exponent=exponent):
            _add(parent, "qti-power", (base, exponent), names)


def _add(parent: Element, tag: str, operands: tuple[Node, ...], names: Mapping[str, str], **attributes: str) -> None:
    expression = QTI.add(parent, tag, **attributes)
    for operand in operands:
        add_form(expression, operand, names)


@dataclass(frozen=True)
class Column:
    """The values of one variable, row by row, as they are written."""

    variable: str
    base: Base
    values: tuple[str, ...]

    @property
    def varies(self) -> bool:
        """Whether it needs a list."""
        return len(set(self.values)) > 1


def wrong_names(place: int) -> tuple[str, str]:
    """The variables of the wrong answer at ``place``, which counts from 1: its value and its half-width."""
    return f"WRONG_{place}", f"WRONG_{place}_WIDTH"


def given_name(place: int) -> str:
    """The variable of the given at ``place``, which counts from 1."""
    return f"GIVEN_{place}"


def add_template(root: Element, item: TemplateItem, response: str, *, practice: bool) -> None:
    """Adds the template variables and their processing; an exam has no more of the table than the marking needs."""
    columns = tuple(columns_of(item, practice))
    _declare(root, ROW, "single", "integer")
    for column in columns:
        if column.varies:
            _declare(root, _list_name(column), "ordered", column.base)
        _declare(root, column.variable, "single", column.base)
    if item.computed:
        _declare(root, KEY, "single", "float")
    processing = QTI.add(root, "qti-template-processing")
    QTI.add(_put(processing, ROW), "qti-random-integer", min="1", max=str(len(item.rows)))
    for column in columns:
        _set(processing, column)
    if item.computed:
        _set_computed(processing, item)
    correct = QTI.add(processing, "qti-set-correct-response", identifier=response)
    QTI.add(correct, "qti-variable", identifier=KEY)


def columns_of(item: TemplateItem, practice: bool) -> Iterator[Column]:
    """The columns of the table: what is printed is text, so that no platform prints a number in its own way."""
    for texts in item.texts if practice else item.stem_texts:
        yield Column(texts.variable, "string", texts.values)
    keys = tuple(number_text(entry.key) for entry in item.row_entries)
    widths = tuple(number_text(entry.half_width) for entry in item.row_entries)
    if item.computed:
        for place, (_, values) in enumerate(item.computed.givens, start=1):
            yield Column(given_name(place), "float", tuple(map(number_text, values)))
    else:
        yield Column(KEY, "float", keys)
    yield Column(WIDTH, "float", widths)
    if practice:
        shown = tuple(print_exact(entry.key, entry.figures) for entry in item.row_entries)
        yield Column(KEY_SHOWN, "string", shown)
        yield Column(WIDTH_SHOWN, "string", tuple(print_exact(entry.half_width) for entry in item.row_entries))
        yield from _wrong_columns(item)


def _wrong_columns(item: TemplateItem) -> Iterator[Column]:
    for place, known in enumerate(item.wrong_numbers, start=1):
        bands = [tuple(map(number_text, band)) if band else NOTHING_NEAR for band in known.bands]
        for name, values in zip(wrong_names(place), zip(*bands, strict=True), strict=True):
            yield Column(name, "float", values)


def _declare(root: Element, name: str, cardinality: str, base: str) -> None:
    QTI.add(root, "qti-template-declaration", identifier=name, cardinality=cardinality, base_type=base)


def _put(processing: Element, variable: str) -> Element:
    return QTI.add(processing, "qti-set-template-value", identifier=variable)


def _list_name(column: Column) -> str:
    return f"{column.variable}_LIST"


def _set(processing: Element, column: Column) -> None:
    """The list of a column, and the value of the row; one value for all rows needs no list."""
    if not column.varies:
        _add_values(_put(processing, column.variable), column.base, column.values[:1])
        return
    _add_values(QTI.add(_put(processing, _list_name(column)), "qti-ordered"), column.base, column.values)
    index = QTI.add(_put(processing, column.variable), "qti-index", n=ROW)
    QTI.add(index, "qti-variable", identifier=_list_name(column))


def _add_values(parent: Element, base: Base, values: Sequence[str]) -> None:
    for value in values:
        QTI.add(parent, "qti-base-value", value, base_type=base)


def _set_computed(processing: Element, item: TemplateItem) -> None:
    assert item.computed is not None
    names = {name: given_name(place) for place, (name, _) in enumerate(item.computed.givens, start=1)}
    rounded = QTI.add(
        _put(processing, KEY),
        "qti-round-to",
        rounding_mode="significantFigures",
        figures=str(item.computed.figures),
    )
    add_form(rounded, item.computed.form, names)
