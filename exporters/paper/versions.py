"""A pack as versions of one paper: the same questions in each, with other numbers and stories."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

from ...bank.item.draw import lot
from ...bank.item.item import ChoiceEntry, Entry, Item
from ...bank.item.pack import Pack
from ..qti.options import letter
from .marks import item_marks


@dataclass(frozen=True)
class PaperQuestion:
    """A question of a version: its number there, and which question of the pack it is (``section`` counts from 0)."""

    number: int
    section: int
    item: Item


@dataclass(frozen=True)
class PaperVersion:
    """One version of the paper."""

    name: str
    questions: tuple[PaperQuestion, ...]

    @property
    def marks(self) -> int:
        """The most that it can earn."""
        return sum(item_marks(question.item) for question in self.questions)

    @property
    def minutes(self) -> int:
        """About how long it takes."""
        return sum(question.item.metadata.minutes for question in self.questions)


def versions(pack: Pack, count: int, *, shuffle: bool = False) -> tuple[PaperVersion, ...]:
    """``count`` versions, A, B, C and so on: the version at place k has item k of each section.

    A section with fewer items starts again from its first. With ``shuffle`` each version has an order of its own, of
    its questions and of the options that may stand in any order; the seed of the pack decides it.
    """
    series = [list(islice(section.items(), count)) for section in pack.sections]
    return tuple(_version(pack.seed, letter(place), place, series, shuffle) for place in range(count))


def repeated(pack: Pack, count: int) -> dict[str, int]:
    """The questions that have fewer items than there are versions, with how many they have."""
    return {each.question_id: len(each) for each in pack.sections if len(each) < count}


def _version(seed: int, name: str, place: int, series: Sequence[list[Item]], shuffle: bool) -> PaperVersion:
    items = [each[place % len(each)] for each in series]
    order = list(range(len(items)))
    if shuffle:
        order.sort(key=lambda section: lot(seed, name, section, items[section].question_id))
        items = [_with_other_order(item, f"{seed} {name}") for item in items]
    return PaperVersion(name, tuple(PaperQuestion(number, at, items[at]) for number, at in enumerate(order, 1)))


def _with_other_order(item: Item, draw: str) -> Item:
    return replace(item, entries=tuple(_shuffled(entry, f"{draw} {item.question_id}") for entry in item.entries))


def _shuffled(entry: Entry, draw: str) -> Entry:
    if not isinstance(entry, ChoiceEntry) or not entry.shuffle:
        return entry
    places = sorted(range(len(entry.options)), key=lambda place: lot(draw, place))
    return replace(entry, options=tuple(entry.options[place] for place in places))
