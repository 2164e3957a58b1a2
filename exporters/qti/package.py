"""A pack as a content package of one test, an item per variant and the drawings, whatever the version of QTI."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import chain, islice
from pathlib import Path

from ...bank.item.item import Item
from ..adapting.adaptation import Adapted, Remaking
from ..adapting.templating import with_templates
from ..packages import naming
from ..packages.package import Packed, package, packed, picture
from ..workers import in_order
from .assessment_item import assessment_item
from .assessment_test import write_test
from .content import Pieces
from .manifest import QtiVersion, write_manifest

ITEMS = 200  # of a block at most: what a question's items share is set once a block


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
    asked for and written block by block.
    """
    with package(target, check) as box:
        contents = naming.contents(adapted.pack, adapted.delivery)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, file, version)
        with box.member(naming.TEST_HREF) as file:
            write_test(contents, file, version)
        done = 0
        for member in _members(adapted, contents, version):
            box.put(member)
            done += member.name.startswith(naming.ITEMS)
            if progress and member.name.startswith(naming.ITEMS):
                progress(done)


def _members(adapted: Adapted, contents: naming.PackNames, version: QtiVersion) -> Iterator[Packed]:
    """The drawings and items of all questions, block by block, whoever makes them."""
    portable = partial(_Writing, version, adapted.making) if adapted.making else None
    blocks = in_order(_blocks(contents), _Writer(contents, version).members, adapted.workers, portable)
    return chain.from_iterable(blocks)


@dataclass(frozen=True)
class _Writing:
    """What a process needs that makes members of the pack and has nothing of this one."""

    version: QtiVersion
    making: Remaking

    def prepare(self) -> Callable[[_Block], list[Packed]]:
        """What makes the members of a block."""
        adapted = self.making.adapted()
        return _Writer(naming.contents(adapted.pack, adapted.delivery), self.version).members


@dataclass(frozen=True)
class _Block:
    """Items of one question, from ``start`` up to ``stop``."""

    question: int
    start: int
    stop: int


def _blocks(contents: naming.PackNames) -> Iterator[_Block]:
    """All items; those of a question are in one block where none can be made without those before it."""
    for number, question in enumerate(contents.questions):
        size = len(question.section)
        step = ITEMS if question.section.starts_anywhere else size
        yield from (_Block(number, start, min(start + step, size)) for start in range(0, size, step))


class _Writer:
    """Makes the members of blocks; what the items of a question have in common is kept from block to block."""

    def __init__(self, contents: naming.PackNames, version: QtiVersion) -> None:
        self._contents, self._version = contents, version
        self._pieces: dict[int, Pieces] = {}

    def members(self, block: _Block) -> list[Packed]:
        """The members of a block; the drawings of a question come before its first item."""
        question = self._contents.questions[block.question]
        if block.question not in self._pieces:
            self._pieces = {block.question: Pieces(self._version.form)}
        items = question.section.items_from(block.start)
        if block.stop < len(question.section):
            items = islice(items, block.stop - block.start)
        made = zip(range(block.start, block.stop), items, strict=True)
        written = (self._item(question, index, item, self._pieces[block.question]) for index, item in made)
        return [*(() if block.start else _drawings(question)), *written]

    def _item(self, question: naming.QuestionNames, index: int, item: Item, pieces: Pieces) -> Packed:
        question.shape.check(item)
        name = naming.item_href(question.item(index))
        return packed(name, pieces.document(assessment_item(item, question, index, pieces)))


def _drawings(question: naming.QuestionNames) -> Iterator[Packed]:
    for index, drawing in enumerate(question.section.figures):
        yield packed(question.figure_href(index), picture(drawing, question.delivery.figures))
    for index, drawing in enumerate(question.pictures):
        yield packed(question.picture_href(index), picture(drawing, question.delivery.figures))
