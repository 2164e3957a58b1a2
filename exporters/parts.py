"""The entries of an item as parts, each under its names."""

from __future__ import annotations

from turnwright.bank.item import ChoiceEntry, Entry, Item, MatchEntry, NumberEntry, OrderEntry
from turnwright.exporters.entry_choice import ChoicePart
from turnwright.exporters.entry_drawn import DrawnPart
from turnwright.exporters.entry_match import MatchPart
from turnwright.exporters.entry_number import NumberPart
from turnwright.exporters.entry_order import OrderPart
from turnwright.exporters.entry_several import SeveralPart
from turnwright.exporters.options import Source
from turnwright.exporters.part import SOLUTION, Names, Part
from turnwright.exporters.template import TemplateItem


def parts(item: Item, source: Source, *, practice: bool) -> tuple[Part, ...]:
    """The entries in their order; ``source`` tells where the file of an option's drawing lies."""
    if isinstance(item, TemplateItem):
        return (DrawnPart(item, _only_names(practice)),)
    if len(item.entries) == 1:
        return (_part(item.entries[0], _only_names(practice), source),)
    return tuple(
        _part(entry, _numbered_names(number, practice), source) for number, entry in enumerate(item.entries, start=1)
    )


def _only_names(practice: bool) -> Names:
    told = {"feedback": "FEEDBACK", "solution": SOLUTION} if practice else {}
    return Names("RESPONSE", "SCORE", **told)


def _numbered_names(number: int, practice: bool) -> Names:
    """The names of one part of several; it does not bring the worked solution, which would tell the other parts."""
    feedback = f"FEEDBACK_{number}" if practice else ""
    return Names(f"RESPONSE_{number}", f"SCORE_{number}", feedback, label=f"Part {number}")


def _part(entry: Entry, names: Names, source: Source) -> Part:
    match entry:
        case NumberEntry():
            return NumberPart(entry, names)
        case ChoiceEntry(several=True):
            return SeveralPart(entry, names, source)
        case ChoiceEntry():
            return ChoicePart(entry, names, source)
        case OrderEntry():
            return OrderPart(entry, names)
        case MatchEntry():
            return MatchPart(entry, names)
