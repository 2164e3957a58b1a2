"""A series of items: each made when it is asked for, and only then."""

from __future__ import annotations

from dataclasses import replace

import pytest
from turnwright.bank.item.item import Item
from turnwright.bank.item.pack import NO_ITEMS, ItemSeries

from tests.exporters import samples

SCENES = ("lantern", "bucket", "lantern", "bucket")


def series(made: list[int]) -> ItemSeries:
    """A series that notes which of its items are made."""

    def make(place: int) -> Item:
        made.append(place)
        return samples.least_speed(place + 1)

    return ItemSeries(SCENES, make)


def variants(items: ItemSeries) -> list[int]:
    return [item.variant for item in items]


def test_an_item_is_made_when_it_is_asked_for_without_those_before_it() -> None:
    made: list[int] = []
    items = series(made)
    assert (len(items), made) == (4, [])
    assert items[2].variant == 3
    assert items[-1].variant == 4
    assert made == [2, 3]
    assert next(items.starting(1)).variant == 2
    assert made == [2, 3, 1]
    assert [item.variant for item in items()] == variants(items) == [1, 2, 3, 4]


def test_a_part_of_a_series_is_a_series_with_its_scenes() -> None:
    made: list[int] = []
    part = series(made)[1:3]
    assert (list(part.scenes), made) == (["bucket", "lantern"], [])
    assert variants(part) == [2, 3]
    assert variants(part[1:]) == [3]
    with pytest.raises(IndexError):
        part[2]


def test_changed_items_are_changed_when_they_are_made() -> None:
    made: list[int] = []
    changed = series(made).changed(lambda item: replace(item, variant=10 * item.variant))
    assert (changed.scenes, made) == (SCENES, [])
    assert changed[3].variant == 40
    assert made == [3]


def test_no_items_are_none() -> None:
    assert list(NO_ITEMS) == []
    assert not NO_ITEMS[0:]
