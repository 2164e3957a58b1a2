"""A number to type, for a format that has no tolerance: the texts that a right answer may take, or a choice."""

from __future__ import annotations

from dataclasses import replace

from turnwright.bank.item import Item, NumberEntry, Recognised, Section
from turnwright.exporters.converted import Converted
from turnwright.exporters.delivery import Numbers
from turnwright.exporters.spelling import spellings

STRINGS = "no tolerance: every number within it is listed, at the asked figures, as a text to compare with"
CHOICE = "a choice between numbers"
MANY = "more numbers are right than can be listed"
NO_CHOICE = "too few wrong numbers are honest for a choice"
IN_PACK = "asked as the choice question on the same numbers, which the pack holds anyway"


def told(section: Section, numbers: Numbers, choices: frozenset[str]) -> Converted:
    """The section as texts where each of its items can be, else as a choice, without the items that can't be either.

    ``choices`` are the choice questions that the pack holds; what is one of them already is not given twice.
    """
    if numbers == "strings" and all(_spelled(item) is not None for item in section.items()):
        return Converted((_section(section, _spelled),), (STRINGS,))
    if f"{section.question_id}/choice" in choices:
        return Converted((), (IN_PACK,))
    kept = [_chosen(item) is not None for item in section.items()]
    lost = kept.count(False)
    why = f"{MANY}, and {NO_CHOICE}" if numbers == "strings" else NO_CHOICE
    left = _left(section, kept)
    reason = CHOICE if numbers == "choice" else f"{CHOICE}, since {MANY}"
    return Converted((left,) if any(kept) else (), (reason,) if any(kept) else (), lost, why)


def _left(section: Section, kept: list[bool]) -> Section:
    """The items that can be a choice."""
    figure_of = [place for place, stays in zip(section.figure_of, kept, strict=True) if stays]
    return _section(replace(section, figure_of=figure_of), _chosen)


def _section(section: Section, change: object) -> Section:
    assert callable(change)
    return replace(section, items=lambda: (new for item in section.items() if (new := change(item)) is not None))


def _spelled(item: Item) -> Item | None:
    """The item with the texts of its right answer, and of the wrong ones that are known."""
    entry = _entry(item)
    texts = spellings(entry.key, entry.half_width, entry.figures)
    if texts is None:
        return None
    known = tuple(_known(each, entry.figures, frozenset(texts)) for each in entry.recognised)
    return replace(item, entries=(replace(entry, spellings=texts, recognised=known),))


def _known(wrong: Recognised, figures: int, right: frozenset[str]) -> Recognised:
    """A wrong number with its texts, none where there would be too many."""
    texts = spellings(wrong.value, wrong.half_width, figures) or ()
    return replace(wrong, spellings=tuple(each for each in texts if each not in right))


def _chosen(item: Item) -> Item | None:
    """The item as a choice, if it can be one."""
    entry = _entry(item)
    choice = entry.as_choice() if entry.as_choice else None
    return replace(item, entries=(replace(choice, marks=entry.marks),)) if choice else None


def _entry(item: Item) -> NumberEntry:
    (entry,) = item.entries
    assert isinstance(entry, NumberEntry)
    return entry
