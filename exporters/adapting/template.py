"""A template item: variants of one question that differ in numbers only, held together with the table of their rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.computation import Node
from ...bank.item.item import Given, Item, NumberEntry


@dataclass(frozen=True)
class DrawnNumber(Given):
    """A printed number that differs from row to row: ``variable`` holds it, ``number`` is that of the first row."""

    variable: str


@dataclass(frozen=True)
class Texts:
    """What a variable prints in each row."""

    variable: str
    values: tuple[str, ...]


@dataclass(frozen=True)
class TemplateWrong:
    """A wrong answer that is known in some rows: its value and half-width in each, None where it is not."""

    feedback: str
    bands: tuple[tuple[Decimal, Decimal] | None, ...]


@dataclass(frozen=True)
class Computed:
    """How a platform works the key out: ``form``, from ``givens`` by row, rounded to ``figures`` in the end."""

    form: Node
    givens: tuple[tuple[str, tuple[Decimal, ...]], ...]
    figures: int


@dataclass(frozen=True, kw_only=True)
class TemplateItem(Item):
    """Several variants in one: as an item it is the first of its ``rows``, with a ``DrawnNumber`` where they differ.

    ``computed`` is there where the platform works the key out; else the key stands in the table.
    """

    rows: tuple[Item, ...]
    texts: tuple[Texts, ...]
    wrong_numbers: tuple[TemplateWrong, ...]
    computed: Computed | None = None

    @property
    def row_entries(self) -> Iterator[NumberEntry]:
        """The number entry of each row."""
        return (row.entry for row in self.rows)

    @property
    def stem_texts(self) -> tuple[Texts, ...]:
        """What the stem alone prints."""
        printed = {part.variable for paragraph in self.stem for part in paragraph if isinstance(part, DrawnNumber)}
        return tuple(each for each in self.texts if each.variable in printed)
