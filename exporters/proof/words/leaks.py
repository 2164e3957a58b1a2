"""Whether a candidate could meet the key before answering, or in an exam what only its authors should see.

That is ids of the bank, feedback, hints and worked solutions. An id of several words, such as ``over-the-top``, is
looked for in whole files; one that is a common word, such as ``tension``, in names only. What the page says anyway is
no secret.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from ....bank.item.drawing import Drawing
from ....bank.item.item import ChoiceEntry, Given, Item, MatchEntry, NumberEntry, OrderEntry, Paragraph, Words, spoken
from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..reading.item_file import NOT_STEM, ItemFile
from ..report import written_key
from .wording import plain_words

SPOKEN = frozenset({"alt", "alttext", "title", "aria-label"})
MOST_TEXTS = 200_000
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)*")
# with a power of ten as it is printed, typed, or left by markup that raises the exponent
_POWER = re.compile(
    r"([0-9]+(?:[.,][0-9]+)?)(?:[eE]|\s?[×·*]\s?10\^?)([-+−⁻]?[0-9⁰¹²³⁴⁵⁶⁷⁸⁹]{1,2})(?![0-9⁰¹²³⁴⁵⁶⁷⁸⁹.,])", re.ASCII
)
_LEVEL = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹−", "-0123456789-")
SHORTEST = 24  # letters of a sentence that is looked for; a shorter one may stand anywhere by chance
FEW = 16  # ids that may be tried one after the other
_COMPOUND = re.compile(r"[-./]")
_WORD = re.compile(r"[a-z]{3,}")  # a number behind it only counts
_IDENTIFIER = re.compile(rb'(?:identifier|Identifier|id|class)="([^"]*)"')
_TITLE = re.compile(rb' title="[^"]*"')


def numbers_in(text: str) -> frozenset[str]:
    """All numbers written in ``text``, without sign and with a decimal point; one with a power of ten in digits too."""
    return frozenset([*list_numbers(text), *_powers(text)])


def _powers(text: str) -> Iterator[str]:
    """What a number with a power of ten comes to, with its own zeros at the end and without them."""
    for digits, exponent in _POWER.findall(text):
        number = Decimal(digits.replace(",", ".")).scaleb(int(exponent.translate(_LEVEL)))
        yield from (written_key(number), written_key(number.normalize()))


def list_numbers(text: str) -> list[str]:
    """All numbers written in ``text``, as often as they are."""
    return [each.replace(",", ".") for each in _NUMBER.findall(text)]


@dataclass(frozen=True)
class Secret:
    """A key as it would be read, and the numbers that may stand anywhere: printed in the stem, or mere counting."""

    written: str
    open_numbers: frozenset[str]

    @staticmethod
    def of(key: Decimal, stem: frozenset[str], counts: frozenset[int]) -> Secret:
        """A key, the numbers in the stem of its item, and those by which the pack counts the item."""
        written = written_key(key)
        counted = written.isdigit() and int(written) in counts
        return Secret(written, stem | {written} if counted else stem)

    def is_in(self, numbers: frozenset[str]) -> bool:
        """Whether the key is among ``numbers`` and nothing else explains it."""
        return self.written in numbers and self.written not in self.open_numbers


def public_texts(item: ItemFile, names: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """What a candidate may see of an item before answering, each with what it is; ``names`` are given by the pack."""
    yield from (("name", each) for each in (item.name.removesuffix(".xml"), *names))
    yield from own_texts(item)


def own_texts(item: ItemFile) -> Iterator[tuple[str, str]]:
    """Those that stand in its file."""
    yield "name", item.root.get("identifier")
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


def ids_of(item: Item) -> frozenset[str]:
    """The ids by which the bank knows an item: its problem, question, scene, objectives, and the mistakes behind it."""
    facts = item.metadata
    ids = {facts.problem, facts.question, item.question_id, facts.scene, facts.family, *facts.objectives}
    ids.update(name for each in facts.alignment for name in (each.code, each.guid))
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            ids.update(name for option in entry.options for name in option.mistakes)
        elif isinstance(entry, NumberEntry):
            ids.update(name for wrong in entry.recognised for name in wrong.mistakes)
    return frozenset(each.lower() for each in ids if each)


def page_of(item: Item) -> str:
    """All words that a candidate may read of an item, on one line."""
    paragraphs: list[Paragraph | Drawing] = list(item.stem)
    words = []
    for entry in item.entries:
        match entry:
            case NumberEntry(name=name):
                words.append(name)
            case ChoiceEntry(prompt=prompt, options=options):
                paragraphs += [prompt, *(each.content for each in options)]
            case OrderEntry(prompt=prompt, options=contents):
                paragraphs += [prompt, *contents]
            case MatchEntry(prompt=prompt, rows=rows, columns=columns):
                paragraphs += [prompt, *rows, *columns]
    if item.figure:
        paragraphs.append(item.figure)
    return " ".join([*words, *map(_text, paragraphs)]).lower()


def _text(content: Paragraph | Drawing) -> str:
    if isinstance(content, Drawing):
        return f"{content.title} {content.description}"
    return " ".join(part.text for part in spoken(content) if isinstance(part, Words | Given))


class Authors:
    """What the authors of an exam know, gathered item by item; ``findings`` looks for it in what is left."""

    def __init__(self) -> None:
        self._ids: set[str] = set()
        self._said: set[str] = set()

    def check_item(self, file: ItemFile, item: Item, names: Iterable[str]) -> Iterator[str]:
        """What stands in the file of an item, or in its ``names``, that only its authors should see."""
        page, ids = page_of(item), ids_of(item)
        said = {each for each in ids if each in page}
        self._ids |= ids
        self._said |= said
        yield from self._check_names((file.name, *names, *_identifiers(file.data)), ids)
        for each in found_in(file.data, ids - said):
            yield f"the id '{shown(each)}' of the bank stands in an exam"
        yield from _check_sentences(file, item, page)

    def merge(self, other: Authors) -> None:
        """Takes what was gathered of other items."""
        self._ids |= other._ids
        self._said |= other._said

    def _check_names(self, names: Iterable[str], ids: frozenset[str]) -> Iterator[str]:
        words = {word for name in names for word in _WORD.findall(name.lower())}
        for each in sorted(ids):
            if not _COMPOUND.search(each) and each in words:
                yield f"the id '{shown(each)}' of the bank stands in a name of an exam"

    def check_rest(self, name: str, data: bytes) -> Iterator[str]:
        """What stands in another member of the pack; a title is what its maker chose."""
        for each in found_in(_TITLE.sub(b"", data), frozenset(self._ids - self._said)):
            yield f"the id '{shown(each)}' of the bank stands in an exam"
        yield from self._check_names((name,), frozenset(self._ids))


def _identifiers(data: bytes) -> Iterator[str]:
    return (each.decode("utf-8", "replace") for each in _IDENTIFIER.findall(data))


def found_in(data: bytes, ids: frozenset[str]) -> list[str]:
    """Which of the ids of several words stand in the data, in whatever case."""
    compound = frozenset(each for each in ids if _COMPOUND.search(each))
    if not compound:
        return []
    return sorted({each.decode() for each in _any_of(compound).findall(data.lower())})


@lru_cache(maxsize=64)
def _any_of(ids: frozenset[str]) -> re.Pattern[bytes]:
    longest_first = sorted(ids, key=lambda each: (-len(each), each))
    return re.compile(f"(?<![a-z0-9])({_one_of(longest_first)})(?![a-z0-9])".encode())


def _one_of(ids: Sequence[str]) -> str:
    """A pattern for the ids, in their order; of many, letter by letter, so that not all are tried at each place."""
    if len(ids) <= FEW:
        return "|".join(map(re.escape, ids))
    rests: dict[str, list[str]] = {}
    for each in ids:
        rests.setdefault(each[:1], []).append(each[1:])
    return "|".join(f"{re.escape(start)}(?:{_one_of(rest)})" for start, rest in rests.items())


def _check_sentences(file: ItemFile, item: Item, page: str) -> Iterator[str]:
    """Feedback, hints, the caution and the worked solution, word by word."""
    written, open_words = plain_words(file.root.string()).lower(), plain_words(page)
    for what, text in dict.fromkeys(_sentences(item)):
        plain = plain_words(text).lower()
        if len(plain) >= SHORTEST and plain in written and plain not in open_words:
            yield f"{what} of the item stands in an exam: '{shown(text)}'"


def _sentences(item: Item) -> Iterator[tuple[str, str]]:
    for entry in item.entries:
        if isinstance(entry, OrderEntry | MatchEntry):
            yield "feedback", entry.feedback
        elif isinstance(entry, ChoiceEntry):
            yield from (("feedback", each.feedback) for each in entry.options)
        else:
            yield from (("feedback", each.feedback) for each in entry.recognised)
    yield "the caution", item.metadata.caution
    told = [("a hint", each) for each in item.hints]
    told += [("the solution", each) for step in item.solution for each in step.paragraphs]
    for what, paragraph in told:
        yield from ((what, part.text) for part in spoken(paragraph) if isinstance(part, Words))
