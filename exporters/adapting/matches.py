"""Rows to be matched become a choice for each row."""

from __future__ import annotations

from dataclasses import replace

from ...bank.item.item import ChoiceEntry, Item, MatchEntry, Option, Words
from ...bank.item.pack import Section
from ...bank.thinking.options import RIGHT
from ...bank.writing import instructions
from .converted import Converted, first_item, mapped, part_of, under

TOLD = "each row is a choice question of its own, worth a mark; the worked solution comes with the last row"


def as_choices(section: Section) -> Converted:
    """A section for each row of a match entry, its partners as the options."""
    entry = first_item(section).entries[0]
    assert isinstance(entry, MatchEntry)
    return Converted(tuple(_row(section, place, len(entry.rows)) for place in range(len(entry.rows))), (TOLD,))


def _row(section: Section, place: int, count: int) -> Section:
    own = part_of(section, place + 1, count)

    def alone(item: Item) -> Item:
        (entry,) = item.entries
        assert isinstance(entry, MatchEntry)
        kept = under(own, item) if place == count - 1 else replace(under(own, item), hints=(), solution=())
        return replace(kept, stem=(*item.stem, entry.prompt), entries=(_choice(entry, place),))

    return mapped(own, alone)


def _choice(entry: MatchEntry, row: int) -> ChoiceEntry:
    """Which column goes with the row."""
    options = tuple(
        Option(column, place == entry.partners[row], RIGHT if place == entry.partners[row] else entry.feedback)
        for place, column in enumerate(entry.columns)
    )
    return ChoiceEntry((Words(instructions.WHICH_PARTNER), *entry.rows[row]), options)
