"""Whether a candidate could meet the key before answering, or, in an exam, an explanation at any time."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import FEEDBACK, NOT_STEM, ItemFile

SPOKEN = ("alt", "alttext", "title", "aria-label")
MOST_TEXTS = 200_000
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)*")


def numbers_in(text: str) -> frozenset[str]:
    """All numbers written in ``text``, without sign and with a decimal point."""
    return frozenset(each.replace(",", ".") for each in _NUMBER.findall(text))


@dataclass(frozen=True)
class Secret:
    """A key as it would be read, and the numbers that may stand anywhere: printed in the stem, or mere counting."""

    written: str
    open_numbers: frozenset[str]

    @staticmethod
    def of(key: Decimal, item: ItemFile, counts: frozenset[int]) -> Secret:
        """The key of an item; ``counts`` are the numbers by which the pack counts the item."""
        stem = numbers_in(item.stem())
        written = f"{abs(key):f}" if -12 < key.adjusted() < 16 else str(abs(key)).partition("E")[0]
        counted = written.isdigit() and int(written) in counts
        return Secret(written, stem | {written} if counted else stem)

    def is_in(self, numbers: frozenset[str]) -> bool:
        """Whether the key is among ``numbers`` and nothing else explains it."""
        return self.written in numbers and self.written not in self.open_numbers


def public_texts(item: ItemFile, names: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """What a candidate may see of an item before answering, each with what it is; ``names`` are given by the pack."""
    for name in (item.name.removesuffix(".xml"), item.root.get("identifier"), *names):
        yield "name", name
    for what in ("title", "label"):
        yield what, item.root.get(what)
    for element in item.root.walk(NOT_STEM):
        if element is not item.root:
            yield from ((each, element.attributes[each]) for each in SPOKEN if each in element.attributes)


class Tally:
    """Counts, for each text, how many items show it and how many of their keys it holds.

    A text that several items share gives a key away only where it holds the key of every one; one hit among many is
    chance: a picture says "90 degrees", and one of a hundred answers is 90.
    """

    def __init__(self) -> None:
        self._counts: dict[tuple[str, str, int], list[int]] = {}

    def meet(self, what: str, text: str, numbers: frozenset[str], secret: Secret) -> None:
        """Takes one text that the item with this key shows."""
        place = (what, shown(text), hash(text))
        if numbers and (place in self._counts or len(self._counts) < MOST_TEXTS):
            counts = self._counts.setdefault(place, [0, 0])
            counts[0] += 1
            counts[1] += secret.is_in(numbers)

    def findings(self) -> Iterator[str]:
        """The texts that give a key away."""
        for (what, text, _), (shown_by, hits) in self._counts.items():
            if hits == shown_by:
                yield f"the key stands in the {what} '{text}'"
        if len(self._counts) == MOST_TEXTS:
            yield f"more than {MOST_TEXTS} texts hold numbers; the rest were not searched for keys"


def check_exam_item(item: ItemFile, secret: Secret | None) -> Iterator[str]:
    """What an exam must not carry: feedback, a solution, or a rubric or card with the key."""
    for element in item.all(*FEEDBACK):
        yield f"line {element.line}: {element.name} in an exam"
    for element in item.all("qti-rubric-block"):
        if "solution" in element.get("use").lower() or "solution" in element.get("class").lower():
            yield f"line {element.line}: a solution in an exam"
    for element in item.all("qti-rubric-block", "qti-catalog"):
        spoken = (each.get(name) for each in element.walk() for name in SPOKEN)
        if secret and secret.is_in(numbers_in(" ".join([element.string(), *spoken]))):
            yield f"line {element.line}: {element.name} holds the key in an exam"
