"""A pack as a content package of one test, an item per variant and the drawings, whatever the version of QTI."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from turnwright.exporters import naming
from turnwright.exporters.adaptation import Adapted
from turnwright.exporters.assessment_item import assessment_item
from turnwright.exporters.assessment_test import write_test
from turnwright.exporters.manifest import write_manifest
from turnwright.exporters.package import Package, package
from turnwright.exporters.pictures import picture
from turnwright.exporters.pieces import Pieces
from turnwright.exporters.version import Version


def write_package(
    version: Version,
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
        contents = naming.contents(adapted.pack, adapted.delivery)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, file, version)
        with box.member(naming.TEST_HREF) as file:
            write_test(contents, file, version)
        for done, (name, content) in enumerate(_items(contents, box, version), start=1):
            box.add(name, content)
            if progress:
                progress(done)


def _items(contents: naming.Contents, box: Package, version: Version) -> Iterator[tuple[str, bytes]]:
    """Name and content of each item; the drawings of a question go into the box before its first item."""
    for question in contents.questions:
        for index, drawing in enumerate(question.section.figures):
            box.add(question.figure_href(index), picture(drawing, contents.delivery.figures))
        for index, drawing in enumerate(question.pictures):
            box.add(question.picture_href(index), picture(drawing, contents.delivery.figures))
        names, pieces = map(naming.item_href, question.items()), Pieces(version.form)
        for index, (name, item) in enumerate(zip(names, question.section.items(), strict=True)):
            question.shape.check(item)
            yield name, pieces.document(assessment_item(item, question, index, pieces))
