"""A number to type, for a format that has no tolerance: the texts that a right answer may take, or a choice."""

from __future__ import annotations

from dataclasses import replace

from ...bank.item.item import Item, NumberEntry
from ...bank.item.pack import Section
from ..packages.delivery import Numbers
from .converted import Converted, mapped
from .typed import can_be_listed, known_as, typed_as

STRINGS = (
    "no tolerance: every number within it is listed as a text to compare with, to the asked figures and to one more"
)
CHOICE = "a choice between numbers"
WORKING = (
    "asked with the working, marked by hand: beside the worked solution, which comes with the answer in practice, or "
    "beside the marking guide that turnwright paper prints"
)
MANY = "more numbers are right than can be listed"
NO_CHOICE = "too few wrong numbers are honest for a choice"
IN_PACK = "asked as the choice question on the same numbers, which the pack holds anyway"


def told(section: Section, numbers: Numbers, choices: frozenset[str]) -> Converted:
    """The section as texts where each of its items can be, else as a choice, without the items that can't be either.

    ``choices`` are the choice questions that the pack holds; what is one of them already is not given twice.
    """
    if numbers == "working":
        return Converted((mapped(section, _with_working),), (WORKING,))
    if numbers == "strings" and all(can_be_listed(_entry(item)) for item in section.items()):
        return Converted((mapped(section, _spelled),), (STRINGS,))
    if f"{section.question_id}/choice" in choices:
        return Converted((), (IN_PACK,))
    kept = [_chosen(item) is not None for item in section.items()]
    lost = kept.count(False)
    why = f"{MANY}, and {NO_CHOICE}" if numbers == "strings" else NO_CHOICE
    left = _left(section, kept)
    reason = CHOICE if numbers == "choice" else f"{CHOICE}, since {MANY}"
    return Converted((left,) if any(kept) else (), (reason,) if any(kept) else (), lost, why)


def _with_working(item: Item) -> Item:
    return replace(item, entries=(replace(_entry(item), with_working=True, recognised=()),))


def _left(section: Section, kept: list[bool]) -> Section:
    """The items that can be a choice."""
    figure_of = [place for place, stays in zip(section.figure_of, kept, strict=True) if stays]
    items = section.items
    return replace(section, figure_of=figure_of, items=lambda: (new for each in items() if (new := _chosen(each))))


def _spelled(item: Item) -> Item:
    """The item with the texts of its right answer, and of the wrong ones that are known."""
    entry = _entry(item)
    texts = typed_as(entry)
    assert texts is not None
    right = frozenset(texts)
    known = tuple(
        replace(each, spellings=tuple(text for text in known_as(each, entry.figures) if text not in right))
        for each in entry.recognised
    )
    return replace(item, entries=(replace(entry, spellings=texts, recognised=known),))


def _chosen(item: Item) -> Item | None:
    """The item as a choice, if it can be one."""
    entry = _entry(item)
    choice = entry.as_choice() if entry.as_choice else None
    return replace(item, entries=(replace(choice, marks=entry.marks),)) if choice else None


def _entry(item: Item) -> NumberEntry:
    (entry,) = item.entries
    assert isinstance(entry, NumberEntry)
    return entry
