"""The right answer to a part: as the item it was written from has it, or else as the file declares it."""

from __future__ import annotations

from decimal import Decimal

from turnwright.bank.item import ChoiceEntry, Entry, MatchEntry, NumberEntry, OrderEntry
from turnwright.exporters.proof.parts import Kind, Part
from turnwright.exporters.proof.trial import Answer
from turnwright.exporters.proof.values import parse


def kind_of(entry: Entry) -> Kind:
    """What kind of part an entry should have become."""
    match entry:
        case ChoiceEntry(several=several):
            return "several" if several else "choice"
        case OrderEntry():
            return "order"
        case MatchEntry():
            return "match"
        case NumberEntry():
            return "number"


def declared_key(part: Part) -> Answer | None:
    """The correct response that the file declares, if it is one; numbers as they are written."""
    texts = tuple(" ".join(each.split()) for each in part.response.correct)
    if part.response.cardinality != "single":
        return texts or None
    if part.kind == "number" and parse("".join(texts[:1]), "float", Decimal) is None:
        return None
    return texts[0] if texts and texts[0] else None


def expected_key(part: Part, entry: Entry) -> Answer | None:
    """The right answer in the names of the file; None where the file has not that many options."""
    try:
        match entry:
            case NumberEntry(key=key):
                return str(key)
            case ChoiceEntry(options=options):
                right = tuple(part.names[place] for place, option in enumerate(options) if option.right)
                return right if entry.several else right[0]
            case OrderEntry(ranking=ranking):
                return tuple(part.names[place] for place in ranking)
            case MatchEntry(partners=partners):
                return tuple(f"{part.names[row]} {part.column_names[column]}" for row, column in enumerate(partners))
    except IndexError:
        return None


def is_same(part: Part, first: Answer, second: Answer) -> bool:
    """Whether two answers are one; only an order depends on the order."""
    if part.kind == "number":
        return bool(Decimal(str(first)) == Decimal(str(second)))
    if isinstance(first, str) or isinstance(second, str) or part.kind == "order":
        return first == second
    return sorted(first) == sorted(second)
