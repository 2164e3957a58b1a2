"""Packs in QTI 3.0: a content package of one test, an item per variant and the drawings."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from turnwright.bank.item import Pack
from turnwright.exporters import naming
from turnwright.exporters.adaptation import Adapted, as_is
from turnwright.exporters.assessment_item import assessment_item
from turnwright.exporters.assessment_test import write_test
from turnwright.exporters.delivery import Delivery
from turnwright.exporters.elements import document
from turnwright.exporters.manifest import write_manifest
from turnwright.exporters.package import Package, package
from turnwright.exporters.svg import svg
from turnwright.exporters.templating import with_templates

NAME = "qti-3.0"
SUFFIX = ".zip"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return with_templates(as_is(pack, delivery))


def write(
    adapted: Adapted,
    target: Path,
    check: Callable[[Path], None],
    progress: Callable[[int], None] | None = None,
) -> None:
    """Leaves the pack at ``target`` once ``check`` has accepted it; ``progress`` hears how many items are written.

    Each section is asked for its first item, which tells what the manifest and the test say of all; then items are
    asked for and written one at a time.
    """
    with package(target, check) as box:
        contents = naming.contents(adapted.pack)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, file)
        with box.member(naming.TEST_HREF) as file:
            write_test(contents, file)
        for done, (name, content) in enumerate(_items(contents, box), start=1):
            box.add(name, content)
            if progress:
                progress(done)


def _items(contents: naming.Contents, box: Package) -> Iterator[tuple[str, bytes]]:
    """Name and content of each item; the drawings of a question go into the box before its first item."""
    for question in contents.questions:
        for index, drawing in enumerate(question.section.figures):
            box.add(naming.figure_href(question.figure(index)), svg(drawing))
        for index, drawing in enumerate(question.pictures):
            box.add(naming.figure_href(question.picture(index)), svg(drawing))
        names = map(naming.item_href, question.items())
        for index, (name, item) in enumerate(zip(names, question.section.items(), strict=True)):
            question.shape.check(item)
            yield name, document(assessment_item(item, question, index))
