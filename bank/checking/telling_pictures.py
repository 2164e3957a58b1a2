"""A picture above a question tells nothing that the question asks for.

A force diagram answers what is asked about forces, and does the first step of most of the rest, so a sketch of the
situation stands there: it tells of no force and no acceleration, and says no right option. The rule is ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..item.drawing import Drawing
from ..item.item import ChoiceEntry, Item
from ..questions.kinds import KIND
from .option_quality import shown

_OF_FORCES = re.compile(r"\b(forces?|weight|tension|friction|lift|velocity|accelerat\w*)\b", re.IGNORECASE)
LEAST = 4  # letters of an option that is looked for in a description


def told_by_picture(item: Item) -> Iterator[str]:
    """What the picture above an item gives away."""
    if item.figure is None:
        return
    kind = next((each for each in KIND if each == item.metadata.kind), None)
    if item.figure.subject == "forces" and kind and KIND[kind].figure == "answers it":
        yield "its force diagram stands above it and answers it"
    if item.figure.subject == "situation" and (found := _OF_FORCES.search(item.figure.description)):
        yield f"its sketch tells of '{found[0]}'"
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry) and not entry.several:
            yield from (f"its picture says the key '{each}'" for each in _said(entry, item.figure))


def _said(entry: ChoiceEntry, figure: Drawing) -> Iterator[str]:
    """The right option where the description says it, in whole words, and no wrong one."""
    told = figure.description.lower()
    options = ((each.right, shown(each).lower()) for each in entry.options)
    said = {right: text for right, text in options if re.search(rf"\b{re.escape(text)}(?!\w)", told)}
    if True in said and False not in said and len(said[True]) >= LEAST:
        yield said[True]
