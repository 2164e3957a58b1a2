"""What an item says in plain text: its stem, its key, and whether it gives another one's key away."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from typing import Any

from ..item import formula
from ..item.drawing import Drawing
from ..item.item import ChoiceEntry, Entry, Item, Math, NumberEntry, OrderEntry, Paragraph
from ..quantities.quantity import print_figures

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_DIGIT = re.compile(r"[0-9]")


def plain(content: Paragraph | Drawing) -> str:
    """The content on one line with ordinary spaces; a drawing by its text alternative."""
    if isinstance(content, Drawing):
        return content.alternative
    parts = (formula.text(part.node) if isinstance(part, Math) else part.text for part in content)
    return "".join(parts).replace("\u00a0", " ")


def shown(item: Item) -> str:
    """What a candidate sees of an item before answering, but for options: stem, figure and prompts."""
    prompts = [entry.prompt for entry in item.entries if not isinstance(entry, NumberEntry)]
    figure = [item.figure.description] if item.figure else []
    return " \n".join([*map(plain, (*item.stem, *prompts)), *figure])


def key_of(entry: Entry) -> dict[str, Any]:
    """The key of an entry: a number with its half-width and unit, letters of options, or pairs.

    Numbers are plain decimals here, however small: a manifest is read by programs, and its schema wants digits only.
    """
    if isinstance(entry, NumberEntry):
        return {"number": f"{entry.key:f}", "half_width": f"{entry.half_width:f}", "unit": entry.unit}
    if isinstance(entry, ChoiceEntry):
        return {"options": [_LETTERS[place] for place, option in enumerate(entry.options) if option.right]}
    if isinstance(entry, OrderEntry):
        return {"order": [_LETTERS[place] for place in entry.ranking]}
    return {"pairs": [[row + 1, _LETTERS[column]] for row, column in enumerate(entry.partners)]}


def key_letter(item: Item) -> str:
    """The letter of the one right option; nothing where there is no such key."""
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry) and not entry.several:
            return str(key_of(entry)["options"][0])
    return ""


def options_of(entry: Entry) -> list[dict[str, Any]]:
    """The options of a choice entry: letter, whether it is right, and the mistakes behind it."""
    found = entry.options if isinstance(entry, ChoiceEntry) else ()
    return [
        {"name": _LETTERS[place], "right": each.right, "mistakes": list(each.mistakes)}
        for place, each in enumerate(found)
    ]


def recognised_of(entry: Entry) -> list[dict[str, Any]]:
    """The wrong numbers that are known, with the mistakes behind them."""
    found = entry.recognised if isinstance(entry, NumberEntry) else ()
    return [
        {"value": f"{each.value:f}", "half_width": f"{each.half_width:f}", "mistakes": list(each.mistakes)}
        for each in found
    ]


def answers_of(entries: Sequence[Entry]) -> dict[str, Any]:
    """Key, options and known wrong numbers of an item; of one with several entries part by part, with their marks."""
    parts: list[dict[str, Any]] = [
        {"key": key_of(each), "options": options_of(each), "recognised": recognised_of(each)} for each in entries
    ]
    if len(parts) == 1:
        return parts[0]
    for part, entry in zip(parts, entries, strict=True):
        part |= {"marks": entry.marks, "carried": _carried_of(entry)}
    return {"key": {"parts": [each["key"] for each in parts]}, "options": [], "recognised": [], "parts": parts}


def _carried_of(entry: Entry) -> list[dict[str, Any]]:
    """The numbers that are right after a wrong choice in an earlier part, which counts from 1."""
    found = entry.carried if isinstance(entry, NumberEntry) else ()
    return [
        {
            "part": each.entry + 1,
            "option": _LETTERS[each.option],
            "value": f"{each.value:f}",
            "half_width": f"{each.half_width:f}",
        }
        for each in found
    ]


def shared(item: Item) -> float:
    """Of the wrong answers that are known, the share from which several mistakes can't be told apart; 0 for none."""
    known = [
        each["mistakes"]
        for entry in item.entries
        for each in (*options_of(entry), *recognised_of(entry))
        if each["mistakes"]
    ]
    return sum(len(each) > 1 for each in known) / len(known) if known else 0.0


def fingerprint(item: Item) -> str:
    """SHA-256 of stem, entries and keys: the same where a candidate sees the same and the same is right."""
    told = [shown(item), [[key_of(entry), [plain(each) for each in _contents(entry)]] for entry in item.entries]]
    return hashlib.sha256(json.dumps(told, ensure_ascii=False).encode()).hexdigest()


def _contents(entry: Entry) -> Iterator[Paragraph | Drawing]:
    if isinstance(entry, ChoiceEntry):
        yield from (option.content for option in entry.options)
    elif isinstance(entry, OrderEntry):
        yield from entry.options
    elif not isinstance(entry, NumberEntry):
        yield from (*entry.rows, *entry.columns)


# --- giving away --------------------------------------------------------------------------------------


def amounts(item: Item) -> frozenset[str]:
    """The keys of an item that are amounts, as they would be printed: number and unit."""
    return frozenset(text for entry in item.entries for text in _amounts(entry) if _DIGIT.search(text))


def _amounts(entry: Entry) -> Iterator[str]:
    if isinstance(entry, NumberEntry):
        number = print_figures(entry.key, entry.figures)
        yield f"{number}{entry.unit}" if entry.unit == "°" else f"{number} {entry.unit}".strip()
    elif isinstance(entry, ChoiceEntry):
        yield from (plain(option.content) for option in entry.options if option.right and _is_amount(option.content))


def _is_amount(content: Paragraph | Drawing) -> bool:
    """Whether an option is a number with its unit; words such as "twice what it was" are none."""
    return not isinstance(content, Drawing) and bool(re.match(r"−?[0-9]", plain(content)))


def gives_away(telling: str, keys: frozenset[str]) -> bool:
    """Whether a text (as ``shown`` gives it) holds one of some amounts, digit for digit and with its unit."""
    held = [key for key in keys if key in telling]
    return any(re.search(rf"(?<![0-9.,−]){re.escape(key)}(?![0-9A-Za-z/²³·^]|[.,][0-9])", telling) for key in held)
