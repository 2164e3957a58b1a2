"""Keys and givens as the page's tables show them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.drawing import Drawing
from ...bank.item.item import ChoiceEntry, Entry, Given, Item, MatchEntry, NumberEntry, OrderEntry, Paragraph, Words
from ...bank.quantities.quantity import print_exact, print_figures
from ..qti.options import letter


def with_unit(number: str, unit: str) -> str:
    """Number and unit as print has them: a degree sign stands close, any other unit behind a space that holds."""
    return f"{number}{unit}" if unit in ("°", "") else f"{number}\u00a0{unit}"


def width_text(width: Decimal) -> str:
    """A tolerance with all its figures."""
    return print_exact(width)


def key_text(entry: NumberEntry) -> str:
    """The key as printed."""
    return with_unit(print_figures(entry.key, entry.figures), entry.unit)


def key_cell(entry: Entry) -> Paragraph:
    """The key of an entry in a cell of a table."""
    match entry:
        case NumberEntry():
            return (Words(f"{key_text(entry)} ± {with_unit(width_text(entry.half_width), entry.unit)}"),)
        case ChoiceEntry():
            right = [(letter(place), option.content) for place, option in enumerate(entry.options) if option.right]
            return _joined(right)
        case OrderEntry():
            return (Words(", ".join(letter(place) for place in entry.ranking)),)
        case MatchEntry():
            pairs = (f"{row}{letter(column)}" for row, column in enumerate(entry.partners, 1))
            return (Words(", ".join(pairs)),)


def _joined(right: Sequence[tuple[str, Paragraph | Drawing]]) -> Paragraph:
    """Letters of right options, and what the only one shows."""
    if len(right) == 1 and not isinstance(right[0][1], Drawing):
        return (Words(f"{right[0][0]}: "), *right[0][1])
    return (Words(", ".join(name for name, _ in right)),)


@dataclass(frozen=True)
class AnswerTable:
    """The variants of a question side by side: what each is given, and its keys."""

    symbols: tuple[str, ...]
    keys: int
    rows: tuple[AnswerRow, ...]


@dataclass(frozen=True)
class AnswerRow:
    """One variant; a given that it lacks is an empty text."""

    number: int
    scene: str
    givens: tuple[str, ...]
    keys: tuple[Paragraph, ...]


def table(items: Sequence[Item]) -> AnswerTable:
    """The table of some variants, a column for each symbol in the order in which the stems give them."""
    given = [dict(_givens(item)) for item in items]
    symbols = tuple(dict.fromkeys(symbol for each in given for symbol in each))
    rows = tuple(
        AnswerRow(
            item.variant,
            item.metadata.scene,
            tuple(each.get(symbol, "") for symbol in symbols),
            tuple(key_cell(entry) for entry in item.entries),
        )
        for item, each in zip(items, given, strict=True)
    )
    return AnswerTable(symbols, max((len(row.keys) for row in rows), default=0), rows)


def _givens(item: Item) -> Iterator[tuple[str, str]]:
    for paragraph in item.stem:
        for part in paragraph:
            if isinstance(part, Given):
                yield part.symbol, part.text
