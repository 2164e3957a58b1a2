"""Whether a candidate could meet the key before answering, or, in an exam, an explanation at any time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import FEEDBACK, NOT_STEM, ItemFile
from turnwright.exporters.proof.report import written_key

SPOKEN = frozenset({"alt", "alttext", "title", "aria-label"})
MOST_TEXTS = 200_000
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)*")


def numbers_in(text: str) -> frozenset[str]:
    """All numbers written in ``text``, without sign and with a decimal point."""
    return frozenset(list_numbers(text))


def list_numbers(text: str) -> list[str]:
    """All numbers written in ``text``, as often as they are."""
    return [each.replace(",", ".") for each in _NUMBER.findall(text)]


@dataclass(frozen=True)
class Secret:
    """A key as it would be read, and the numbers that may stand anywhere: printed in the stem, or mere counting."""

    written: str
    open_numbers: frozenset[str]

    @staticmethod
    def of(key: Decimal, item: ItemFile, counts: frozenset[int]) -> Secret:
        """The key of an item; ``counts`` are the numbers by which the pack counts the item."""
        stem = numbers_in(item.stem())
        written = written_key(key)
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
    for element in item.keep("spoken", lambda: _spoken(item)):
        yield from ((name, value) for name, value in element.attributes.items() if name in SPOKEN)


def _spoken(item: ItemFile) -> list[Element]:
    """The elements below the root, outside feedback and rubrics, that have words for a screen reader."""
    below = (each for each in item.root.walk(NOT_STEM) if each is not item.root)
    return [each for each in below if not SPOKEN.isdisjoint(each.attributes)]


class Tally:
    """Texts that hold the key of every item that shows them, out of all that were met.

    A text that several items share gives a key away only where it holds the key of every one; one hit among many is
    chance: a picture says "90 degrees", and one of a hundred answers is 90. So a text is cleared by its first miss, and
    of a cleared text, of which a pack has some for each item, only a hash is kept.
    """

    def __init__(self) -> None:
        self._suspects: dict[int, tuple[str, str]] = {}
        self._cleared: set[int] = set()

    def meet(self, what: str, text: str, numbers: frozenset[str], secret: Secret, part: int = 0) -> None:
        """Takes one text that the item with this key shows; an item with several keys brings each as a ``part``."""
        place = hash((what, text, part))
        is_known = place in self._suspects
        if not numbers or place in self._cleared or (self._is_full() and not is_known):
            return
        if secret.is_in(numbers):
            self._suspects.setdefault(place, (what, shown(text)))
        else:
            self._suspects.pop(place, None)
            self._cleared.add(place)

    def merge(self, later: Tally) -> None:
        """Takes the texts that later items show, as far as there is room for them."""
        for place, suspect in later._suspects.items():
            if place not in self._cleared and not self._is_full():
                self._suspects.setdefault(place, suspect)
        for place in later._cleared:
            if place in self._suspects or not self._is_full():
                self._suspects.pop(place, None)
                self._cleared.add(place)

    def _is_full(self) -> bool:
        return len(self._suspects) + len(self._cleared) >= MOST_TEXTS

    def findings(self) -> Iterator[str]:
        """The texts that give a key away."""
        for what, text in self._suspects.values():
            yield f"the key stands in the {what} '{text}'"
        if self._is_full():
            yield f"more than {MOST_TEXTS} texts hold numbers; the rest were not searched for keys"


def check_exam_item(item: ItemFile, secrets: Sequence[Secret]) -> Iterator[str]:
    """What an exam must not carry: feedback, a solution, or a rubric or card with the key."""
    for element in item.all(*FEEDBACK):
        yield f"line {element.line}: {element.name} in an exam"
    for element in item.all("qti-rubric-block"):
        if "solution" in element.get("use").lower() or "solution" in element.get("class").lower():
            yield f"line {element.line}: a solution in an exam"
    for element in item.all("qti-rubric-block", "qti-catalog"):
        spoken = (each.get(name) for each in element.walk() for name in SPOKEN)
        numbers = numbers_in(" ".join([element.string(), *spoken]))
        if any(secret.is_in(numbers) for secret in secrets):
            yield f"line {element.line}: {element.name} holds the key in an exam"
