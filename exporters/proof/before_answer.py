"""All that a candidate reads of an item before answering, in a pack that was made here: no word less, and none more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile
from typing import TypeAlias

from turnwright.bank.item import ChoiceEntry, Entry, Item, MatchEntry, Math, NumberEntry, OrderEntry
from turnwright.exporters.asking import how_exact
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import NOT_STEM, ItemFile
from turnwright.exporters.proof.printing import ways
from turnwright.exporters.proof.wording import BOX, expected_words, plain_words, said_by

Ways: TypeAlias = Sequence[str]  # of saying one thing: with MathML, on a line of HTML, as plain text
BEFORE = 20  # letters that a finding quotes before the first that differs


def check_reading(item: ItemFile, expected: Item) -> Iterator[str]:
    """Where the page says something else than it should, or more."""
    body = item.root.child("qti-item-body")
    yield from follow(said_by(body, NOT_STEM) if body else "", _page(expected))


def follow(said: str, pieces: Iterable[Ways]) -> Iterator[str]:
    """Where a page that says ``said`` does not say these pieces one after the other, and then ends."""
    for wanted in pieces:
        found = max((each for each in wanted if said.startswith(each)), key=len, default=None)
        if found is None:
            start = max(len(_shared(said, wanted[0])) - BEFORE, 0)  # so that the difference is seen
            yield f"the page says '{shown(said[start:])}' where '{shown(wanted[0][start:])}' should stand"
            return
        said = said[len(found) :]
    if said:
        yield f"the page says '{shown(said)}' where it should end"


def _shared(one: str, other: str) -> str:
    """How two texts begin, as far as they are alike."""
    return "".join(a for a, _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def _page(item: Item) -> Iterator[Ways]:
    """What follows what."""
    yield from map(ways, item.stem)
    if item.figure:
        yield expected_words(item.figure)
    for number, entry in enumerate(item.entries, 1):
        if len(item.entries) > 1:
            yield (plain_words(f"Part {number}"),)
        yield from _part(entry)


def _part(entry: Entry) -> Iterator[Ways]:
    match entry:
        case NumberEntry(symbol=symbol, unit=unit):
            yield (plain_words(how_exact(entry)),)
            yield ways((Math(symbol),))
            yield (plain_words(f"={BOX}{unit}"),)
        case ChoiceEntry(prompt=prompt, options=options):
            yield from map(expected_words, (prompt, *(each.content for each in options)))
        case OrderEntry(prompt=prompt, options=contents):
            yield from map(expected_words, (prompt, *contents))
        case MatchEntry(prompt=prompt, rows=rows, columns=columns):
            yield from map(expected_words, (prompt, *rows, *columns))
