"""Things to be put in order become a choice between whole orders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from string import ascii_uppercase

from ...bank.item.draw import lot
from ...bank.item.item import ChoiceEntry, Item, Option, OrderEntry, Paragraph, Words, neighbours_exchanged
from ...bank.item.pack import Section
from ...bank.thinking.options import RIGHT, mixed
from ...bank.writing import instructions
from .converted import Converted, mapped

TOLD = "a choice between whole orders, all or nothing: no half of the marks where two neighbours are exchanged"
FIRST_LETTER = ascii_uppercase.index("P")  # P, Q, R, S: options may be called A, B, C on a page


def as_choice(section: Section) -> Converted:
    """The section with each order entry as a choice."""
    return Converted((mapped(section, _chosen),), (TOLD,))


def _chosen(item: Item) -> Item:
    (entry,) = item.entries
    assert isinstance(entry, OrderEntry)
    named: tuple[Paragraph, ...] = tuple(
        (Words(f"{_letter(place)}: "), *content) for place, content in enumerate(entry.options)
    )
    choice = ChoiceEntry((Words(instructions.WHICH_ORDER),), _orders(entry, item), marks=entry.marks)
    return replace(item, stem=(*item.stem, entry.prompt, *named), entries=(choice,))


def _letter(place: int) -> str:
    rounds, position = divmod(place + FIRST_LETTER, len(ascii_uppercase))
    return f"{ascii_uppercase[position]}{rounds or ''}"


def _orders(entry: OrderEntry, item: Item) -> tuple[Option, ...]:
    draw = f"{item.question_id} {item.variant} {item.metadata.scene}"
    options = [
        Option(_written(order), order == entry.ranking, RIGHT if order == entry.ranking else f"{said} {entry.feedback}")
        for order, said in _plausible(entry.ranking, _pair(draw, len(entry.ranking)))
    ]
    return mixed(options, draw)


def _written(order: Sequence[int]) -> Paragraph:
    return (Words(", ".join(map(_letter, order))),)


def _plausible(ranking: tuple[int, ...], pair: int) -> Iterator[tuple[tuple[int, ...], str]]:
    """The right order and its reverse, each also with two neighbours exchanged: none looks like the odd one out."""
    around = tuple(reversed(ranking))
    near, near_around = (list(neighbours_exchanged(each))[pair] for each in (ranking, around))
    seen = set()
    for order, said in (
        (ranking, ""),
        (around, instructions.REVERSED),
        (near, instructions.EXCHANGED),
        (near_around, instructions.REVERSED_AND_EXCHANGED),
    ):
        if order not in seen:
            seen.add(order)
            yield order, said


def _pair(draw: str, count: int) -> int:
    return lot(draw)[0] % (count - 1)
