"""A template item: variants of one question that differ in numbers only, held together with the table of their rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from ...bank.item.computation import Node
from ...bank.item.item import Given, Item, NumberEntry
from ..running import Crew
from .adaptation import Adapted

if TYPE_CHECKING:
    from ..running.making import Making


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
    slips: tuple[TemplateWrong, ...]
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


def to_prove(items: Iterable[Item]) -> Iterator[Item | tuple[Item, ...]]:
    """The items for their proof; of a template item, those of all rows."""
    return (item.rows if isinstance(item, TemplateItem) else item for item in items)


@dataclass(frozen=True)
class ToProve:
    """What is proved of a pack, from the first item or from any other."""

    adapted: Adapted

    @property
    def crew(self) -> Crew:
        """Who proves it."""
        return self.adapted.hands

    @property
    def portable(self) -> Callable[[], ToProve] | None:
        """How a process that has nothing of this one comes to what is proved; None where it can't."""
        return partial(_proved_again, self.adapted.making) if self.adapted.making else None

    def __iter__(self) -> Iterator[Item | tuple[Item, ...]]:
        return self.starting(0)

    def starting(self, start: int) -> Iterator[Item | tuple[Item, ...]]:
        """What is proved of the item at ``start`` and of those after it."""
        return to_prove(self.adapted.items_from(start))


def _proved_again(making: Making) -> ToProve:
    return ToProve(making.adapted())
