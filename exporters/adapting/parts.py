"""An item of several entries becomes an item for each, which repeats the stem."""

from __future__ import annotations

from dataclasses import replace

from ...bank.item.drawing import Drawing
from ...bank.item.item import ChoiceEntry, Entry, Item
from ...bank.item.pack import Section
from .converted import Converted, first_item, mapped, part_of, under

TOLD = (
    "each part is a question of its own that repeats the stem; hints and worked solution come with the last part, and "
    "an error carried over from one part to the next earns nothing"
)


def split(section: Section) -> Converted:
    """A section for each entry. Hints and solution would tell other parts, so only the last part has them."""
    entries = first_item(section).entries
    count = len(entries)
    return Converted(tuple(_part(section, place, count, entry) for place, entry in enumerate(entries)), (TOLD,))


def _part(section: Section, place: int, count: int, entry: Entry) -> Section:
    own = part_of(section, place + 1, count)

    def alone(item: Item) -> Item:
        last = place == count - 1
        kept = under(own, item) if last else replace(under(own, item), hints=(), solution=())
        return replace(kept, entries=(item.entries[place],))

    return mapped(own if _has_pictures(entry) else replace(own, pictures=()), alone)


def _has_pictures(entry: Entry) -> bool:
    return isinstance(entry, ChoiceEntry) and any(isinstance(each.content, Drawing) for each in entry.options)
