"""Whole sentences with named gaps, and what fills them: words, formulas and printed quantities.

A sentence stands in this room as one text, such as ``"Which forces act on {body} {place}?"``, so that it can be read,
edited and translated as one. Other rooms say what goes into its gaps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from string import Formatter

from ..item.formula import Node
from ..item.item import Given, Inline, Math, Paragraph, Words

__all__ = ["filled", "joined"]


def filled(sentence: str, **gaps: str | int | Node | Given) -> Paragraph:
    """The sentence with its gaps filled. Raises KeyError for a gap that nothing is given for."""
    return tuple(joined(_parts(sentence, gaps)))


def _parts(sentence: str, gaps: dict[str, str | int | Node | Given]) -> Iterator[Inline]:
    for text, name, _, _ in Formatter().parse(sentence):
        if text:
            yield Words(text)
        if name is not None:
            yield _part(gaps[name])


def _part(gap: str | int | Node | Given) -> Inline:
    if isinstance(gap, str | int):
        return Words(str(gap))
    return gap if isinstance(gap, Given) else Math(gap)


def joined(parts: Iterable[Inline]) -> Iterator[Inline]:
    """The parts with neighbouring words run together."""
    words = ""
    for part in parts:
        if isinstance(part, Words):
            words += part.text
            continue
        if words:
            yield Words(words)
            words = ""
        yield part
    if words:
        yield Words(words)
