"""The format-neutral item: one variant of one question, ready for a candidate.

It holds words, formula trees, printed quantities and drawings; no XML and no symbols to solve.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, TypeAlias, TypeVar

from . import formula
from .computation import Computation
from .curriculum import Alignment
from .drawing import Drawing

_Thing = TypeVar("_Thing")


@dataclass(frozen=True)
class Words:
    """Plain running text."""

    text: str


@dataclass(frozen=True)
class Math:
    """A formula in the line, or on a line of its own when it is the only part of its paragraph."""

    node: formula.Node


@dataclass(frozen=True)
class Given:
    """A printed quantity that differs from variant to variant: symbol, number as printed, unit as printed."""

    symbol: str
    number: str
    unit: str

    @property
    def text(self) -> str:
        """Number and unit with a space that does not break; the degree sign stands close."""
        if not self.unit:
            return self.number
        return f"{self.number}{self.unit}" if self.unit == "°" else f"{self.number}\u00a0{self.unit}"


Spoken: TypeAlias = Words | Math | Given


@dataclass(frozen=True)
class ValueTable:
    """A table of printed numbers, alone in its paragraph: what stands at the head of each column, and the rows."""

    heads: tuple[tuple[Spoken, ...], ...]
    rows: tuple[tuple[Given, ...], ...]

    @property
    def cells(self) -> tuple[Spoken, ...]:
        """All that stands in it, from left to right and row by row."""
        return (*(part for head in self.heads for part in head), *(cell for row in self.rows for cell in row))

    @property
    def text(self) -> str:
        """The table in lines of text, the cells of a row apart by strokes."""
        heads = [
            "".join(formula.text(part.node) if isinstance(part, Math) else part.text for part in head)
            for head in self.heads
        ]
        return "\n".join(" | ".join(row) for row in (heads, *([cell.text for cell in row] for row in self.rows)))


@dataclass(frozen=True)
class SolutionDrawing:
    """A drawing that belongs to a worked solution, alone in its paragraph."""

    drawing: Drawing

    @property
    def text(self) -> str:
        """What it shows, in words."""
        return self.drawing.alternative


Inline: TypeAlias = Spoken | ValueTable | SolutionDrawing
Paragraph: TypeAlias = tuple[Inline, ...]


def spoken(paragraph: Paragraph) -> Iterator[Spoken]:
    """What a paragraph says, part by part: a table by its cells, a picture by its words."""
    for part in paragraph:
        match part:
            case ValueTable():
                yield from part.cells
            case SolutionDrawing():
                yield Words(part.text)
            case _:
                yield part


@dataclass(frozen=True)
class Cause:
    """Where a wrong answer comes from: one of these thoughts, or all ``together``; ``advice`` helps against each.

    Feedback tells it to the candidate, a marking guide to the marker.
    """

    thoughts: tuple[Words, ...]
    advice: Words
    together: bool = False


@dataclass(frozen=True)
class Recognised:
    """A wrong answer that is known: a number within ``half_width`` of ``value`` comes from these mistakes.

    ``spellings`` are filled in for a format that compares answers as text.
    """

    value: Decimal
    half_width: Decimal
    feedback: str
    mistakes: tuple[str, ...]
    spellings: tuple[str, ...] = ()
    cause: Cause | None = None


@dataclass(frozen=True)
class Carried:
    """A number that follows from a wrong option of an earlier entry: after that choice it earns all marks.

    ``entry`` and ``option`` count from 0 in the item and in the entry; the number lies within ``half_width`` of
    ``value``.
    """

    entry: int
    option: int
    value: Decimal
    half_width: Decimal


@dataclass(frozen=True)
class NumberEntry:
    """A number to type in: an answer is right when it lies within ``half_width`` of ``key``, both in ``unit``.

    ``key`` is rounded once to ``figures`` significant figures from ``exact`` (the unrounded value, in ``unit``).
    ``half_width`` is absolute and greater than the rounding half-width. ``symbol`` is the asked quantity as it
    stands before the box, ``name`` the same in words ("least speed"). ``carried`` are the numbers that follow from
    wrong choices in earlier entries of the item: who chose wrong there is not marked down twice. ``spellings`` are all
    right texts, filled in for a format that compares answers as text. ``as_choice`` makes the same question as a choice
    between numbers, or None where too few wrong numbers are honest. ``computation`` says how ``exact`` is worked out.
    ``with_working``: the working is asked for with the number, and a person marks both. ``is_asked_here``: the place of
    the answer says what is asked for, as the stem does not.
    """

    symbol: formula.Node
    name: str
    key: Decimal
    exact: float
    half_width: Decimal
    unit: str
    figures: int
    recognised: tuple[Recognised, ...] = ()
    marks: int = 1
    carried: tuple[Carried, ...] = ()
    spellings: tuple[str, ...] = ()
    as_choice: Callable[[], ChoiceEntry | None] | None = field(default=None, compare=False, repr=False)
    computation: Computation | None = None
    with_working: bool = False
    is_asked_here: bool = False

    def accepts(self, answer: Decimal) -> bool:
        """Whether an answer in ``unit`` is right."""
        return abs(answer - self.key) <= self.half_width


@dataclass(frozen=True)
class Option:
    """One option: what it shows (words and formulas, or a picture), and what choosing it tells.

    ``mistakes`` are the catalogue ids of the thinking behind a wrong option; empty for a right one. ``cause`` is that
    thinking in the words of the item.
    """

    content: Paragraph | Drawing
    right: bool
    feedback: str = ""
    mistakes: tuple[str, ...] = ()
    cause: Cause | None = None


@dataclass(frozen=True)
class ChoiceEntry:
    """Options in the order they stand on the page.

    With ``several`` any number may be chosen: each right one chosen and each wrong one left out earns an equal share
    of the marks, a wrong decision costs its share, and the sum is never below 0. Else exactly one option is right.
    """

    prompt: Paragraph
    options: tuple[Option, ...]
    several: bool = False
    shuffle: bool = False
    marks: int = 1


@dataclass(frozen=True)
class OrderEntry:
    """Things to put in order: ``options`` as they stand on the page, ``ranking`` the places of the right order.

    All marks for the whole order, half of them (rounded down to halves) where two neighbours are exchanged.
    """

    prompt: Paragraph
    options: tuple[Paragraph, ...]
    ranking: tuple[int, ...]
    feedback: str = ""
    marks: int = 1


def neighbours_exchanged(order: tuple[_Thing, ...]) -> Iterator[tuple[_Thing, ...]]:
    """Every order that is this one but for two neighbours; the first pair first."""
    for place in range(len(order) - 1):
        yield (*order[:place], order[place + 1], order[place], *order[place + 2 :])


@dataclass(frozen=True)
class MatchEntry:
    """Rows to be matched with columns: ``partners[row]`` is the column of each row; pairs share the marks."""

    prompt: Paragraph
    rows: tuple[Paragraph, ...]
    columns: tuple[Paragraph, ...]
    partners: tuple[int, ...]
    feedback: str = ""
    marks: int = 1


Entry: TypeAlias = NumberEntry | ChoiceEntry | OrderEntry | MatchEntry


def is_by_people(entry: Entry) -> bool:
    """Whether a person marks the entry: its working is asked for, so that the answer alone does not tell its marks."""
    return isinstance(entry, NumberEntry) and entry.with_working


Stage: TypeAlias = Literal["", "acceleration", "free body", "equations", "limiting", "algebra", "numbers", "look back"]


@dataclass(frozen=True)
class Step:
    """A step of a worked solution, numbered as printed; ``stage`` is what it does, for those who mark it."""

    number: int
    heading: str
    paragraphs: tuple[Paragraph, ...]
    stage: Stage = ""


@dataclass(frozen=True)
class Metadata:
    """What a catalogue wants to know; the same for all variants of a question but ``scene``.

    ``kind`` is the kind of question, such as "number" or "rank". ``difficulty`` is the stated index, None where a
    question is not solved by calculation.
    """

    problem: str
    question: str
    version: int
    title: str
    family: str
    objectives: tuple[str, ...]
    level: str
    scene: str
    licence: str
    minutes: int
    caution: str = ""
    kind: str = "number"
    difficulty: int | None = None
    alignment: tuple[Alignment, ...] = ()


@dataclass(frozen=True)
class Item:
    """One variant of one question. ``variant`` counts from 1 inside its question.

    Most items have one entry. A stepwise item has several, worked through in order; each is marked by itself, but for
    numbers that follow from an earlier choice.
    ``figure`` is what stands above the question, a sketch of the situation; ``forces`` the force diagram of what is
    asked about, which may stand there instead where it answers nothing.
    ``hints`` are given one after the other, from what to look at to the next line.
    """

    variant: int
    stem: tuple[Paragraph, ...]
    figure: Drawing | None
    entries: tuple[Entry, ...]
    solution: tuple[Step, ...]
    metadata: Metadata
    hints: tuple[Paragraph, ...] = ()
    forces: Drawing | None = None

    @property
    def marks(self) -> int:
        """The most that the item can earn."""
        return sum(entry.marks for entry in self.entries)

    @property
    def entry(self) -> NumberEntry:
        """The number entry of an item that has just one. Raises TypeError for any other item."""
        (first, *more) = self.entries
        if not isinstance(first, NumberEntry) or more:
            raise TypeError("the item has no single number entry")
        return first

    @property
    def question_id(self) -> str:
        """The id of the question, ``problem.question``."""
        return f"{self.metadata.problem}.{self.metadata.question}"
