"""Rules on the options of choice questions that a program can judge; each note names its rule.

Limits are those of the trade's list of checks: the taxonomy of Haladyna, Downing, Rodriguez, Appl. Meas. Educ.
15, 309 (2002), three options by Rodriguez, Educ. Meas. Issues Pract. 24 (2), 3 (2005), and house limits, so marked.
Options are made so that they keep these rules; here they are held against what came out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from statistics import median

from ..item import formula
from ..item.item import ChoiceEntry, Item, MatchEntry, Math, NumberEntry, Option, OrderEntry, Paragraph
from .note import Note

FEWEST, MOST = 3, 5
LONGEST = 1.5  # times the median length
LONG = 40  # letters below which no option looks long beside another
_ALL_OR_NONE = re.compile(r"\b(all|none|both|neither) of (the|these|them)\b", re.IGNORECASE)
_CLUE = re.compile(r"\b(always|never|only|absolutely)\b", re.IGNORECASE)
_NUMBER = re.compile(r"^([−-]?[\d ]*[.]?\d+(?:\s?×\s?10\S*)?)(.*)$")


def option_notes(item: Item) -> Iterator[Note]:
    """What the rules note of the choices of an item."""
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            for name, found in _entry(entry):
                yield Note(name, item.question_id, found)


def _entry(entry: ChoiceEntry) -> Iterator[tuple[str, str]]:
    options = entry.options
    if not entry.several and not FEWEST <= len(options) <= MOST:
        yield "number-of-options", f"{len(options)} options"
    for option in options:
        if not option.right and not option.mistakes:
            yield "option-without-mistake", f"'{shown(option)}' names none"
        if not option.feedback:
            yield "option-without-feedback", f"'{shown(option)}' has none"
        if _ALL_OR_NONE.search(shown(option)):
            yield "all-or-none", f"'{shown(option)}'"
        if _CLUE.search(shown(option)) and not any(each.right for each in options if _CLUE.search(shown(each))):
            yield "clue-word", f"'{shown(option)}'"
    yield from _lengths(options)
    yield from _numbers(options)


def _lengths(options: tuple[Option, ...]) -> Iterator[tuple[str, str]]:
    """Words only: the length of a formula or of a picture's description is that of what it shows."""
    lengths = [len(shown(each)) for each in options if is_words(each)]
    if lengths and max(lengths) > max(LONG, LONGEST * median(lengths)):
        yield "uneven-length", f"one of {max(lengths)} letters, half of them up to {median(lengths)}"


def _numbers(options: tuple[Option, ...]) -> Iterator[tuple[str, str]]:
    """Numbers with units stand in order of size, in one unit and in one notation."""
    found = [_NUMBER.match(shown(each)) for each in options]
    if not all(found) or not all(map(is_words, options)):
        return
    units = {each[2].strip() for each in found if each}
    if len(units) > 1:
        yield "units-of-options", f"units {', '.join(sorted(units))}"
    if len({"×" in each[1] for each in found if each}) > 1:
        yield "notation-of-options", "some options have a power of ten and others have none"
    values = [_value(each[1]) for each in found if each]
    if values != sorted(values):
        yield "order-of-options", ", ".join(shown(each) for each in options)


def _value(text: str) -> float:
    digits, _, power = text.replace(" ", "").replace("−", "-").partition("×10")
    return float(digits) * 10.0 ** (int(power.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))) if power else 0)


def shown(option: Option) -> str:
    """What an option shows, in one line."""
    content = option.content
    return line(content) if isinstance(content, tuple) else content.alternative


def line(content: Paragraph) -> str:
    """A paragraph in one line."""
    return "".join(formula.text(part.node) if isinstance(part, Math) else part.text for part in content)


def shared_texts(item: Item) -> Iterator[str]:
    """What more than one option of a choice shows."""
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            counts = Counter(shown(option) for option in entry.options)
            yield from (text for text, number in counts.items() if number > 1)


def reading(item: Item) -> tuple[str, ...]:
    """All that a candidate reads of a question without numbers, whatever the order of its options."""
    entries = [each for each in item.entries if not isinstance(each, NumberEntry)]
    told = [line(each.prompt) for each in entries]
    for each in entries:
        match each:
            case ChoiceEntry():
                told += sorted(shown(option) for option in each.options)
            case OrderEntry():
                told += sorted(map(line, each.options))
            case MatchEntry():
                told += sorted(map(line, (*each.rows, *each.columns)))
    return (item.metadata.scene, *map(line, item.stem), *told)


def is_words(option: Option) -> bool:
    """Whether an option is words alone, no formula and no picture."""
    return isinstance(option.content, tuple) and not any(isinstance(part, Math) for part in option.content)
