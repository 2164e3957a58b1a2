"""The texts of an item in which numbers vary from one item of its series to the next.

The numbers in the bytes of an item are counted from 0; a mark in place of one shows where it comes out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from ...strangers.documents import ElementPlace

OPEN, CLOSE = "\ue000", "\ue001"  # of the private use area; an item that has one is the first of no series
MARK = re.compile(f"{OPEN}([0-9]+){CLOSE}")
Numbers = Mapping[int, str]


def mark(number: int) -> str:
    """What stands for a number."""
    return f"{OPEN}{number}{CLOSE}"


@dataclass(frozen=True)
class NumberText:
    """A text with room for numbers: ``pieces`` are what is between them, each second one is a number's place."""

    pieces: tuple[str, ...]
    numbers: tuple[int, ...]

    @staticmethod
    def of(marked: str, form: Callable[[str], str] = str) -> NumberText:
        """The template of a text with marks, each piece of it in some ``form``."""
        pieces = MARK.split(marked)
        numbers = tuple(map(int, pieces[1::2]))
        pieces[::2] = map(form, pieces[::2])
        return NumberText(tuple(pieces), numbers)

    @property
    def marked(self) -> str:
        """The text with marks."""
        return self.filled({each: mark(each) for each in self.numbers})

    def filled(self, numbers: Numbers) -> str:
        """The text with these numbers."""
        if len(self.numbers) < 2:  # most are, and this takes a third of the time
            return "".join([self.pieces[0], *(numbers[each] for each in self.numbers), *self.pieces[2:]])
        pieces = list(self.pieces)
        pieces[1::2] = [numbers[each] for each in self.numbers]
        return "".join(pieces)


@dataclass(frozen=True)
class VaryingText:
    """A text of an item, and what it is with other numbers."""

    place: ElementPlace
    template: NumberText

    @staticmethod
    def of(place: ElementPlace) -> VaryingText:
        """The text at a place of an item with marks."""
        return VaryingText(place, NumberText.of(place.written))

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers that it holds."""
        return self.template.numbers

    def put(self, numbers: Numbers) -> None:
        """Writes the text with these numbers."""
        self.place.put(self.template.filled(numbers))


@contextmanager
def marked(texts: Sequence[VaryingText], numbers: Numbers) -> Iterator[None]:
    """For as long as the block runs, the texts have marks for numbers; then they have these ``numbers`` again."""
    marks = {each: mark(each) for text in texts for each in text.numbers}
    for text in texts:
        text.put(marks)
    try:
        yield
    finally:
        for text in texts:
            text.put(numbers)
