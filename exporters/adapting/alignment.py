"""Items of one scene laid side by side: what all say stays, and where they print unlike numbers stands a variable."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, replace
from typing import Any

from ...bank.errors import TurnwrightError
from ...bank.item import formula
from ...bank.item.item import Given, Inline, Item, Math, NumberEntry, Paragraph, Recognised, Step, Words
from .template import DrawnNumber, TemplateItem, TemplateWrong, Texts

FIRST_HOLE = 0xE000  # private letters stand for numbers while a formula becomes text
HOLES = re.compile("([\ue000-\uf8ff])")


class UnlikeError(TurnwrightError):
    """Items that differ in more than numbers, so that no template can hold them."""

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(what)

    def __str__(self) -> str:
        return f"the variants differ in {self.what}; they stay items of their own"


def align(rows: Sequence[Item]) -> TemplateItem:
    """The template of items of one scene, each a row. Raises UnlikeError where they differ in more than numbers."""
    first, columns = rows[0], _Columns()
    for what, of in _FIXED.items():
        if len(set(map(of, rows))) > 1:
            raise UnlikeError(what)
    return TemplateItem(
        variant=first.variant,
        stem=columns.paragraphs("the stem", [row.stem for row in rows]),
        figure=first.figure,
        entries=first.entries,
        solution=_steps(columns, [row.solution for row in rows]),
        metadata=first.metadata,
        hints=columns.paragraphs("the hints", [row.hints for row in rows]),
        rows=tuple(rows),
        texts=columns.texts,
        wrong_numbers=_wrong_numbers([_entry(row) for row in rows]),
    )


def _entry(item: Item) -> NumberEntry:
    """The one number entry of an item."""
    (entry, *more) = item.entries
    if not isinstance(entry, NumberEntry) or more:
        raise UnlikeError("what they ask for")
    return entry


def _asked(item: Item) -> tuple[object, ...]:
    entry = _entry(item)
    return entry.symbol, entry.name, entry.unit, entry.figures, entry.marks


_FIXED: dict[str, Callable[[Item], Any]] = {
    "the figure": lambda item: item.figure,
    "the facts about them": lambda item: item.metadata,
    "what they ask for": _asked,
    "the steps of the solution": lambda item: tuple((step.number, step.heading) for step in item.solution),
}


def _steps(columns: _Columns, solutions: Sequence[tuple[Step, ...]]) -> tuple[Step, ...]:
    return tuple(
        replace(steps[0], paragraphs=columns.paragraphs("the solution", [step.paragraphs for step in steps]))
        for steps in zip(*solutions, strict=True)
    )


def _wrong_numbers(entries: Sequence[NumberEntry]) -> tuple[TemplateWrong, ...]:
    """Every wrong answer that some row knows, by the mistakes that lead to it; the first row that knows one places it.

    What it tells is no name for it, since several may tell the same.
    """
    known = [{_source(wrong): (wrong.value, wrong.half_width) for wrong in entry.recognised} for entry in entries]
    if any(len(row) < len(entry.recognised) for row, entry in zip(known, entries, strict=True)):
        raise UnlikeError("wrong answers of which two come from the same mistakes")
    sources = dict.fromkeys(source for row in known for source in row)
    return tuple(TemplateWrong(each[1], tuple(row.get(each) for row in known)) for each in sources)


def _source(wrong: Recognised) -> tuple[tuple[str, ...], str]:
    return wrong.mistakes, wrong.feedback


class _Columns:
    """The texts that differ, each column under one variable however often it is printed."""

    def __init__(self) -> None:
        self._names: dict[tuple[str, ...], str] = {}

    @property
    def texts(self) -> tuple[Texts, ...]:
        return tuple(Texts(name, values) for values, name in self._names.items())

    def drawn(self, values: Sequence[str], symbol: str = "", unit: str = "") -> DrawnNumber:
        name = self._names.setdefault(tuple(values), f"TEXT_{len(self._names) + 1}")
        return DrawnNumber(symbol, values[0], unit, name)

    def paragraphs(self, what: str, rows: Sequence[Sequence[Paragraph]]) -> tuple[Paragraph, ...]:
        """The paragraphs of all rows as one. Raises UnlikeError for rows of different lengths."""
        if len({len(row) for row in rows}) > 1:
            raise UnlikeError(f"the number of paragraphs of {what}")
        return tuple(self._paragraph(what, row) for row in zip(*rows, strict=True))

    def _paragraph(self, what: str, row: Sequence[Paragraph]) -> Paragraph:
        if len(set(map(len, row))) > 1:
            raise UnlikeError(f"the sentences of {what}")
        return tuple(part for parts in zip(*row, strict=True) for part in self._inline(what, parts))

    def _inline(self, what: str, parts: Sequence[Inline]) -> Iterator[Inline]:
        first = parts[0]
        if len(set(parts)) == 1:
            yield first
        elif all(isinstance(each, Given) for each in parts):
            yield self._given([each for each in parts if isinstance(each, Given)])
        elif all(isinstance(each, Math) for each in parts):
            yield from self._formula([each.node for each in parts if isinstance(each, Math)])
        else:
            raise UnlikeError(f"the words of {what}")

    def _given(self, parts: Sequence[Given]) -> DrawnNumber:
        symbol, unit = parts[0].symbol, parts[0].unit
        if any((each.symbol, each.unit) != (symbol, unit) for each in parts):
            raise UnlikeError("the unit of a given")
        return self.drawn([each.number for each in parts], symbol, unit)

    def _formula(self, nodes: Sequence[formula.Node]) -> Iterator[Inline]:
        """The formula on one line of text, since nothing can be printed inside MathML on every system.

        Where the rows differ in more than numbers, the whole line is the variable.
        """
        holes: list[tuple[str, ...]] = []
        try:
            line = formula.text(_holed(nodes, holes))
        except _OtherShapeError:
            yield self.drawn([formula.text(node) for node in nodes])
            return
        for piece in HOLES.split(line):
            if HOLES.fullmatch(piece):
                yield self.drawn(holes[ord(piece) - FIRST_HOLE])
            elif piece:
                yield Words(piece)


class _OtherShapeError(Exception):
    """Formulas of which one has parts that another has not."""


def _holed(nodes: Sequence[formula.Node], holes: list[tuple[str, ...]]) -> formula.Node:
    """The tree that all share, with a hole for each number that differs; ``holes`` gets the numbers in their order."""
    first = nodes[0]
    if len(set(nodes)) == 1:
        return first
    if len({type(node) for node in nodes}) > 1:
        raise _OtherShapeError
    if isinstance(first, formula.Number):
        holes.append(tuple(node.text for node in nodes if isinstance(node, formula.Number)))
        return formula.Number(chr(FIRST_HOLE + len(holes) - 1))
    parts = {field.name: [getattr(node, field.name) for node in nodes] for field in fields(first)}
    return replace(first, **{name: _holed_part(values, holes) for name, values in parts.items()})


def _holed_part(values: Sequence[Any], holes: list[tuple[str, ...]]) -> Any:
    first = values[0]
    if isinstance(first, formula.Node):
        return _holed(values, holes)
    if isinstance(first, tuple):
        if len({len(each) for each in values}) > 1:
            raise _OtherShapeError
        return tuple(_holed(each, holes) for each in zip(*values, strict=True))
    if len(set(values)) > 1:
        raise _OtherShapeError
    return first
