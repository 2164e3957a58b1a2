"""Whether a question about a limit tells what changes and what is seen, in words of its story."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..item.item import ChoiceEntry, Item
from .note import Note
from .option_quality import line, shown

_EMPTY = re.compile(r"\b(its bounds?|a value a little|least possible|greatest possible|smallest possible)\b")


def limit_notes(item: Item) -> Iterator[Note]:
    """What says nothing in the question and the options of an item about a limit."""
    if item.metadata.kind != "limit":
        return
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            for text in (line(entry.prompt), *map(shown, entry.options)):
                for found in _EMPTY.finditer(text):
                    yield Note("empty-limit", item.question_id, f"'{found[0]}' in '{text}'")
