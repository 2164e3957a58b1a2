"""Rules on the options of choice questions that a program can judge; each finding names its rule and source.

Ids and limits are those of the trade's list of checks: the taxonomy of Haladyna, Downing, Rodriguez, Appl. Meas. Educ.
15, 309 (2002), three options by Rodriguez, Educ. Meas. Issues Pract. 24 (2), 3 (2005), and house limits, so marked.
Options are made so that they keep these rules; here they are held against what came out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from statistics import median

from ..item import formula
from ..item.item import ChoiceEntry, Item, Math, Option, Paragraph
from .quality import TAXONOMY, Finding

FEWEST, MOST = 3, 5
LONGEST = 1.5  # times the median length
LONG = 40  # letters below which no option looks long beside another
UNEVEN = 0.05  # probability of such places of the key, or of less even ones, if all were equally likely
ENOUGH = 40  # questions below which places of keys are not judged
THREE_OPTIONS = "Rodriguez 2005"
HOUSE = "house limit"
_ALL_OR_NONE = re.compile(r"\b(all|none|both|neither) of (the|these|them)\b", re.IGNORECASE)
_CLUE = re.compile(r"\b(always|never|only|absolutely)\b", re.IGNORECASE)
_NUMBER = re.compile(r"^([−-]?[\d ]*[.]?\d+(?:\s?×\s?10\S*)?)(.*)$")


def findings(item: Item) -> Iterator[Finding]:
    """What the rules find in the choices of an item."""
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            for rule, source, found in _entry(entry):
                yield Finding(item.question_id, rule, source, found)


def _entry(entry: ChoiceEntry) -> Iterator[tuple[str, str, str]]:
    options = entry.options
    if not entry.several and not FEWEST <= len(options) <= MOST:
        yield "M2 three to five options", THREE_OPTIONS, f"{len(options)} options"
    for option in options:
        if not option.right and not option.mistakes:
            yield "M3 a named mistake behind each", HOUSE, f"'{shown(option)}' names none"
        if not option.feedback:
            yield "M15 feedback for each option", HOUSE, f"'{shown(option)}' has none"
        if _ALL_OR_NONE.search(shown(option)):
            yield "M10 no all or none of these", TAXONOMY, f"'{shown(option)}'"
        if _CLUE.search(shown(option)) and not any(each.right for each in options if _CLUE.search(shown(each))):
            yield "M11 no clue words", TAXONOMY, f"'{shown(option)}'"
    yield from _lengths(options)
    yield from _numbers(options)


def _lengths(options: tuple[Option, ...]) -> Iterator[tuple[str, str, str]]:
    """Words only: the length of a formula or of a picture's description is that of what it shows."""
    lengths = [len(shown(each)) for each in options if is_words(each)]
    if lengths and max(lengths) > max(LONG, LONGEST * median(lengths)):
        yield (
            "M8 options of equal length",
            TAXONOMY,
            f"one of {max(lengths)} letters, half of them up to {median(lengths)}",
        )


def _numbers(options: tuple[Option, ...]) -> Iterator[tuple[str, str, str]]:
    """Numbers with units stand in order of size, in one unit and in one notation."""
    found = [_NUMBER.match(shown(each)) for each in options]
    if not all(found) or not all(map(is_words, options)):
        return
    units = {each[2].strip() for each in found if each}
    if len(units) > 1:
        yield "M7 one unit", TAXONOMY, f"units {', '.join(sorted(units))}"
    if len({"×" in each[1] for each in found if each}) > 1:
        yield "M7 one notation", TAXONOMY, "some options have a power of ten and others have none"
    values = [_value(each[1]) for each in found if each]
    if values != sorted(values):
        yield "M5 numbers in order", TAXONOMY, ", ".join(shown(each) for each in options)


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


def is_words(option: Option) -> bool:
    """Whether an option is words alone, no formula and no picture."""
    return isinstance(option.content, tuple) and not any(isinstance(part, Math) for part in option.content)


@dataclass
class KeyPlaces:
    """Where the keys of a bank's choices stand, and how often the key is the longest option."""

    places: dict[tuple[str, int], Counter[int]] = field(default_factory=dict)
    longest: Counter[bool] = field(default_factory=Counter)

    def add(self, item: Item) -> None:
        """Count the choices of an item."""
        for entry in item.entries:
            if isinstance(entry, ChoiceEntry) and not entry.several:
                place = next(number for number, option in enumerate(entry.options) if option.right)
                of = (item.metadata.kind, len(entry.options))
                self.places.setdefault(of, Counter())[place] += 1
                if all(map(is_words, entry.options)):
                    lengths = [len(shown(each)) for each in entry.options]
                    self.longest[lengths[place] == max(lengths) and lengths.count(max(lengths)) == 1] += 1

    def findings(self) -> Iterator[Finding]:
        """What the rules find over all of them."""
        from scipy.stats import chisquare

        for (kind, options), found in sorted(self.places.items()):
            counts = [found[place] for place in range(options)]
            if kind == "choice" and sum(counts) >= ENOUGH and chisquare(counts).pvalue < UNEVEN:
                yield Finding("all choices", "M6, M13 places of the key", HOUSE, f"{options} options: {counts}")
        known = sum(self.longest.values())
        if known >= ENOUGH and self.longest[True] > known / 3:
            found_ = f"it is the longest in {self.longest[True]} of {known}"
            yield Finding("all choices", "M8 the key is not the longest", TAXONOMY, found_)
