"""A number to type, for a format that has no tolerance: the texts that a right answer may take, or a choice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from ...bank.item.item import Item, NumberEntry, Recognised
from ...bank.item.pack import Section
from ...bank.quantities.quantity import print_figures
from ..packages.delivery import Numbers
from .converted import Converted

# --- the texts that a right number may be typed as, for a format that compares answers as text ---


MOST_NUMBERS = 60
LONGEST_PLAIN = 8  # digits of a number that is still typed without a power of ten


def spellings(middle: Decimal, half_width: Decimal, figures: int) -> tuple[str, ...] | None:
    """All texts for the numbers of so many figures within ``half_width`` of ``middle``; None where that is too many."""
    numbers = _numbers(middle - half_width, middle + half_width, figures)
    if numbers is None:
        return None
    return tuple(dict.fromkeys(text for number in numbers for text in _texts(number, figures)))


def _numbers(low: Decimal, high: Decimal, figures: int) -> list[Decimal] | None:
    if high < 0:
        mirrored = _numbers(-high, -low, figures)
        return None if mirrored is None else [-each for each in reversed(mirrored)]
    if low <= 0:
        return None
    found: list[Decimal] = []
    for exponent in range(low.adjusted(), high.adjusted() + 1):
        step = Decimal(1).scaleb(exponent - figures + 1)
        first = max((low / step).to_integral_value(ROUND_CEILING), Decimal(10) ** (figures - 1))
        last = min((high / step).to_integral_value(ROUND_FLOOR), Decimal(10) ** figures - 1)
        if last - first >= MOST_NUMBERS:
            return None
        found += [(first + place) * step for place in range(int(last - first) + 1)]
    return found if len(found) <= MOST_NUMBERS else None


def _texts(number: Decimal, figures: int) -> Iterator[str]:
    """With and without zeros at its end and before its point; with a power of ten where it is printed so."""
    sign, size = ("-" if number < 0 else ""), abs(number)
    exponent = size.adjusted()
    places = max(figures - 1 - exponent, 0)
    if max(exponent + 1, places) <= LONGEST_PLAIN:
        for text in _ends(f"{size:.{places}f}"):
            yield sign + text
            if text.startswith("0."):
                yield sign + text[1:]
    if "×" in print_figures(size, figures):
        for mantissa in _ends(f"{size.scaleb(-exponent):.{figures - 1}f}"):
            yield f"{sign}{mantissa}e{exponent}"


def _ends(text: str) -> Iterator[str]:
    yield text
    if "." in text and text.endswith("0"):
        yield text.rstrip("0").rstrip(".")


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
