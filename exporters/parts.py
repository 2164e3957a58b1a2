"""The entries of an item as parts, each under its names."""

from __future__ import annotations

from turnwright.bank.item import ChoiceEntry, Entry, Item, MatchEntry, NumberEntry, OrderEntry
from turnwright.bank.sitting import Sitting
from turnwright.exporters.content import Page
from turnwright.exporters.entry_choice import ChoicePart
from turnwright.exporters.entry_drawn import DrawnPart
from turnwright.exporters.entry_match import MatchPart
from turnwright.exporters.entry_number import NumberPart
from turnwright.exporters.entry_order import OrderPart
from turnwright.exporters.entry_several import SeveralPart
from turnwright.exporters.part import SOLUTION, Names, Part
from turnwright.exporters.template import TemplateItem


def parts(item: Item, page: Page, rules: Sitting) -> tuple[Part, ...]:
    """The entries in their order, which all stand on one page."""
    if isinstance(item, TemplateItem):
        return (DrawnPart(item, _only_names(rules), page),)
    if len(item.entries) == 1:
        return (_part(item.entries[0], _only_names(rules), page),)
    return tuple(
        _part(entry, _numbered_names(number, rules), page) for number, entry in enumerate(item.entries, start=1)
    )


def _only_names(rules: Sitting) -> Names:
    feedback, solution = "FEEDBACK" if rules.feedback else "", SOLUTION if rules.solution else ""
    return Names("RESPONSE", "SCORE", feedback, solution, solved=rules.solution)


def _numbered_names(number: int, rules: Sitting) -> Names:
    """The names of one part of several; it does not bring the worked solution, which would tell the other parts."""
    feedback = f"FEEDBACK_{number}" if rules.feedback else ""
    earlier = tuple(f"RESPONSE_{each}" for each in range(1, number))
    response, score, label = f"RESPONSE_{number}", f"SCORE_{number}", f"Part {number}"
    return Names(response, score, feedback, label=label, earlier=earlier, solved=rules.solution)


def _part(entry: Entry, names: Names, page: Page) -> Part:
    match entry:
        case NumberEntry():
            return NumberPart(entry, names, page)
        case ChoiceEntry(several=True):
            return SeveralPart(entry, names, page)
        case ChoiceEntry():
            return ChoicePart(entry, names, page)
        case OrderEntry():
            return OrderPart(entry, names, page)
        case MatchEntry():
            return MatchPart(entry, names, page)
