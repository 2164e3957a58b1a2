"""What becomes of a section when a format can't carry it as it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ...bank.item.item import Item
from ...bank.item.pack import ItemSeries, Section


@dataclass(frozen=True)
class Converted:
    """The sections that a section became, what was changed, and how many items were lost, and why."""

    sections: tuple[Section, ...]
    told: tuple[str, ...] = ()
    lost: int = 0
    why: str = ""


def first_item(section: Section) -> Item:
    """The first item of a section, which tells of what kind all are."""
    return next(section.items())


def mapped(section: Section, change: Callable[[Item], Item]) -> Section:
    """The section of the changed items, each made when it is asked for, from the first on or from any other."""
    items = section.items
    if isinstance(items, ItemSeries):
        return replace(section, items=items.changed(change))
    return replace(section, items=lambda: map(change, items()))


def part_of(section: Section, number: int, count: int) -> Section:
    """The section under the title and the id of one part of several; its items are still those of the whole."""
    facts = section.metadata
    own = replace(facts, title=f"{facts.title}, part {number} of {count}", question=f"{facts.question}/part-{number}")
    return replace(section, question_id=f"{section.question_id}/part-{number}", metadata=own)


def under(section: Section, item: Item) -> Item:
    """The item under the title and id of a section."""
    facts = replace(item.metadata, title=section.metadata.title, question=section.metadata.question)
    return replace(item, metadata=facts)
