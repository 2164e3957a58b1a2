"""A pack as a content package of one test, an item per variant and the drawings, whatever the version of QTI."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import chain, islice
from operator import itemgetter
from pathlib import Path
from typing import Any

from ...bank.item.item import Item
from ...bank.item.pack import ItemSeries, Section
from ..adapting.adaptation import Adapted, Remaking, Witness
from ..adapting.templating import with_templates
from ..packages import naming
from ..packages.package import Packed, package, packed, picture
from ..workers import in_order
from .alike import Documents
from .assessment_test import write_test
from .content import Pieces
from .manifest import QtiVersion, write_manifest

ITEMS = 200  # of a block at most: what a question's items share is set once a block
MOST = 1000  # items of a stretch, which are held until all of it is made


def varied(adapted: Adapted) -> Adapted:
    """The pack as its delivery wants the variants: an item for each, or template items where they are possible."""
    return adapted if adapted.delivery.variants == "static" else with_templates(adapted)


def write_package(
    version: QtiVersion,
    adapted: Adapted,
    target: Path,
    check: Callable[[Path], None],
    progress: Callable[[int], None] | None = None,
) -> None:
    """Leaves the pack at ``target`` once ``check`` has accepted it; ``progress`` hears how many items are written.

    Each section is asked for its first item, which tells what the manifest and the test say of all; then items are
    asked for and written block by block, each once, before the eyes of the pack's witness.
    """
    with package(target, check) as box:
        contents = naming.contents(adapted.pack, adapted.delivery)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, file, version)
        with box.member(naming.TEST_HREF) as file:
            write_test(contents, file, version)
        if adapted.witness:
            adapted.witness.begin(list(box.members()))
        done, drawn = 0, set[str]()
        for row in _rows(_made(adapted, contents, version)):
            for drawing in row[0].drawings:
                if drawing.name not in drawn:
                    drawn.add(drawing.name)
                    box.put(drawing)
            for _, member in sorted(chain.from_iterable(each.items for each in row), key=itemgetter(0)):
                box.put(member)
                done += 1
                if progress:
                    progress(done)
            if adapted.witness:
                adapted.witness.take([seen for each in row for seen in each.seen])


def _rows(blocks: Iterable[_Made]) -> Iterator[list[_Made]]:
    """The blocks that share a stretch of items, together."""
    row: list[_Made] = []
    for each in blocks:
        row.append(each)
        if each.is_last:
            yield row
            row = []


def _made(adapted: Adapted, contents: naming.PackNames, version: QtiVersion) -> Iterator[_Made]:
    """The drawings and items of all questions, block by block, whoever makes them."""
    portable = partial(_Writing, version, adapted.making) if adapted.making else None
    return in_order(_blocks(contents), _Writer(contents, version, adapted.witness).made, adapted.workers, portable)


@dataclass(frozen=True)
class _Writing:
    """What a process needs that makes members of the pack and has nothing of this one."""

    version: QtiVersion
    making: Remaking

    def prepare(self) -> Callable[[_Block], _Made]:
        """What makes the members of a block."""
        adapted = self.making.adapted()
        return _Writer(naming.contents(adapted.pack, adapted.delivery), self.version).made


@dataclass(frozen=True)
class _Block:
    """Items of one question by their ``places``; ``before`` its first there are so many of other questions.

    Those of a stretch that stand in one scene are one block, for they have more in common: ``alike`` says what.
    ``is_first`` of its question, ``is_last`` of its stretch.
    """

    question: int
    before: int
    places: Sequence[int]
    scene: str
    is_first: bool
    is_last: bool

    @property
    def alike(self) -> Hashable:
        """What it has in common with other blocks."""
        return self.question, self.scene


@dataclass(frozen=True)
class _Made:
    """The items of a block by their places, the ``drawings`` that come before, and what a witness has seen."""

    drawings: Sequence[Packed]
    items: Sequence[tuple[int, Packed]]
    seen: Sequence[Any]
    is_last: bool


def _blocks(contents: naming.PackNames) -> Iterator[_Block]:
    """All items; those of a question are in one block where none can be made without those before it."""
    before = 0
    for number, question in enumerate(contents.questions):
        for start, stretch in _stretches(question.section):
            last = len(stretch) - 1
            for place, (scene, places) in enumerate(stretch.items()):
                yield _Block(number, before, places, scene, start + place == 0, place == last)
        before += len(question.section)


def _stretches(section: Section) -> Iterator[tuple[int, Mapping[str, Sequence[int]]]]:
    """Where stretches of the items of a question start, each with its places by their scenes."""
    size, series = len(section), section.items
    if not isinstance(series, ItemSeries):
        yield 0, {"": range(size)}
        return
    step = min(len(set(series.scenes)) * ITEMS, MOST)
    for start in range(0, size, step):
        found: dict[str, list[int]] = {}
        for place in range(start, min(start + step, size)):
            found.setdefault(series.scenes[place], []).append(place)
        yield start, found


class _Writer:
    """Makes the members of blocks; what the items of a question have in common is kept from block to block."""

    def __init__(self, contents: naming.PackNames, version: QtiVersion, witness: Witness | None = None) -> None:
        self._contents, self._version, self._witness = contents, version, witness
        self._question: tuple[int, _Question] | None = None

    def made(self, block: _Block) -> _Made:
        """The members of a block; the drawings of a question come before its first item."""
        if self._question is None or self._question[0] != block.question:
            names = self._contents.questions[block.question]
            self._question = block.question, _Question(names, Documents(names, Pieces(self._version.form)))
        question = self._question[1]
        items = question.items(block.places)
        written: list[tuple[int, Packed]] = []
        seen: list[Any] = []
        for start in range(0, len(block.places), ITEMS):
            places = block.places[start : start + ITEMS]
            some = list(islice(items, len(places)))
            members = [question.written(place, item) for place, item in zip(places, some, strict=True)]
            written += zip(places, members, strict=True)
            if self._witness:
                numbers = [block.before + each for each in places]
                seen.append(self._witness.look(numbers, some, (*question.drawings, *members)))
        return _Made(question.drawings if block.is_first else (), written, seen, block.is_last)


@dataclass(frozen=True)
class _Question:
    """What makes the members of a question."""

    names: naming.QuestionNames
    documents: Documents

    def items(self, places: Sequence[int]) -> Iterator[Item]:
        """The items at some places, or all of them."""
        series = self.names.section.items
        return map(series.make, places) if isinstance(series, ItemSeries) else series()

    def written(self, index: int, item: Item) -> Packed:
        """The file of an item."""
        self.names.shape.check(item)
        return packed(naming.item_href(self.names.item(index)), self.documents.written(item, index))

    @cached_property
    def drawings(self) -> tuple[Packed, ...]:
        """All that its items show."""
        form = self.names.delivery.figures
        drawn = ((naming.figure_href(name, f".{form}"), each) for name, each in self.names.drawings().items())
        return tuple(packed(href, picture(drawing, form)) for href, drawing in drawn)
