"""A series of items that makes each when it is asked for, from the first on or from any other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, overload

if TYPE_CHECKING:
    from .item import Item


@dataclass(frozen=True, eq=False)
class ItemSeries(Sequence["Item"]):
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
