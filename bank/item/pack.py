"""A pack: its facts, a section for each question, and series of items that are made when they are asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import overload

from .drawing import Drawing
from .item import Item, Metadata
from .sitting import PRESETS, Purpose, Sitting, checked


@dataclass(frozen=True, eq=False)
class ItemSeries(Sequence[Item]):
    """Items of one question: ``make(place)``, counted from 0, makes one, each time anew and without those before it.

    ``scenes`` names the scene of each; items of one scene show the same pictures. Called, it starts from the first.
    """

    scenes: Sequence[str]
    make: Callable[[int], Item]

    def __len__(self) -> int:
        return len(self.scenes)

    @overload
    def __getitem__(self, place: int) -> Item: ...

    @overload
    def __getitem__(self, place: slice) -> ItemSeries: ...

    def __getitem__(self, place: int | slice) -> Item | ItemSeries:
        places = range(len(self))[place]
        if isinstance(places, int):
            return self.make(places)
        return ItemSeries([self.scenes[each] for each in places], lambda each: self.make(places[each]))

    def __iter__(self) -> Iterator[Item]:
        return self.starting(0)

    def __call__(self) -> Iterator[Item]:
        """All items."""
        return self.starting(0)

    def starting(self, start: int) -> Iterator[Item]:
        """The items from the one at ``start`` on."""
        return map(self.make, range(start, len(self)))

    def changed(self, change: Callable[[Item], Item]) -> ItemSeries:
        """The series of the changed items."""
        return ItemSeries(self.scenes, lambda place: change(self.make(place)))


def _no_item(place: int) -> Item:
    raise IndexError(place)


NO_ITEMS = ItemSeries((), _no_item)


@dataclass(frozen=True)
class Section:
    """The variants of one question, of which a candidate meets one.

    ``figures`` are the drawings that its items show; ``figure_of[k]`` is the index into ``figures`` for item k, or
    None. ``items()`` starts the series again from the first item each time, and never holds more than a block.
    ``pictures`` are the distinct drawings that options show; an option's drawing is equal to one of them. ``plots`` are
    those of worked solutions, in the same way.
    All items have entries of the same kinds and the same marks. ``held[k]`` is how many variants item k holds, where a
    format lets an item hold more than one; empty where none does. ``cautions`` are those of its scenes, each once.
    """

    question_id: str
    metadata: Metadata
    figures: tuple[Drawing, ...]
    figure_of: Sequence[int | None]
    items: Callable[[], Iterator[Item]]
    pictures: tuple[Drawing, ...] = ()
    plots: tuple[Drawing, ...] = ()
    held: Sequence[int] = ()
    cautions: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(self.figure_of)

    @property
    def starts_anywhere(self) -> bool:
        """Whether a later item can be made without those before it."""
        return isinstance(self.items, ItemSeries)

    def items_from(self, start: int) -> Iterator[Item]:
        """The items from the one at ``start`` on, which counts from 0."""
        return self.items.starting(start) if isinstance(self.items, ItemSeries) else islice(self.items(), start, None)


@dataclass(frozen=True)
class Pack:
    """What one file is made of, with the facts that its reader must know.

    ``without`` are the ids of questions that were asked for and have no item in their kind. ``rules`` are those of its
    sitting, None for the usual ones. Raises TellingExamError for an exam that would tell.
    """

    title: str
    purpose: Purpose
    gravity: str
    seed: int
    sections: tuple[Section, ...]
    without: tuple[str, ...] = ()
    rules: Sitting | None = None

    def __post_init__(self) -> None:
        checked(self.purpose, self.sitting)

    @property
    def sitting(self) -> Sitting:
        """Under what rules a candidate works through it."""
        return self.rules or PRESETS[self.purpose]

    def __len__(self) -> int:
        return sum(len(section) for section in self.sections)
