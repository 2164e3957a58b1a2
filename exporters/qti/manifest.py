"""The manifest of a package (IMS Content Packaging): every file once, with what it needs and what it is about."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import IO, Any

from lxml import etree

from ...bank.item.drawing import Drawing
from ..markup import elements
from ..markup.elements import Element, Pattern, Vocabulary, emit, emitted, opened, put
from ..packages.metadata import (
    add_drawing_record,
    add_item_record,
    add_qti_metadata,
    add_standards,
    add_test_record,
    entry,
    has_case,
)
from ..packages.naming import TEST_HREF, PackNames, QuestionNames, figure_href, item_href

PREFIXES = {"imsmd": elements.LOM, "imsqti": elements.QTI_METADATA}
PACKAGING = Vocabulary(elements.CONTENT_PACKAGING, {**PREFIXES, "xsi": elements.XSI})
ALIGNED = Vocabulary(elements.CONTENT_PACKAGING, {**PREFIXES, "csm": elements.STANDARDS, "xsi": elements.XSI})


@dataclass(frozen=True)
class QtiVersion:
    """What a manifest says of its version; ``form`` gives a tree with 3.0's names the names of the version.

    ``names_standards``: the standards of a curriculum have a record of their own, by their identifiers in CASE.
    """

    schema: str
    schema_version: str
    item_type: str
    test_type: str
    form: Callable[[Element], Element]
    names_standards: bool = False


def write_manifest(contents: PackNames, file: IO[bytes], version: QtiVersion) -> None:
    """Writes the manifest one resource at a time. It needs no item: a section tells of them."""
    aligned = version.names_standards and any(map(_is_aligned, contents.questions))
    root = (ALIGNED if aligned else PACKAGING).root("manifest", identifier=contents.mark)
    spaces = [elements.CONTENT_PACKAGING, elements.LOM, elements.QTI_METADATA]
    spaces += [elements.STANDARDS] if aligned else []
    root.set(elements.SCHEMA_LOCATION_ATTRIBUTE, elements.schema_location(*spaces))
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, version.form(root), root=True):
            emit(stream, version.form(_schema(version)))
            emit(stream, version.form(PACKAGING.root("organizations")))
            with opened(stream, version.form(PACKAGING.root("resources"))):
                _write_test(stream, file, contents, version, root)
                for written in _resources(contents, version, root):
                    put(stream, file, written)


def _is_aligned(question: QuestionNames) -> bool:
    """Whether an item of the question names a standard by its identifier in CASE."""
    return question.purpose == "practice" and has_case(question.section.metadata.alignment)


def _schema(version: QtiVersion) -> Element:
    metadata = PACKAGING.root("metadata")
    PACKAGING.add(metadata, "schema", version.schema)
    PACKAGING.add(metadata, "schemaversion", version.schema_version)
    return metadata


def _write_test(stream: Any, file: IO[bytes], contents: PackNames, version: QtiVersion, root: Element) -> None:
    """The test leans on every item, so that its resource is as long as the pack."""
    with opened(stream, version.form(_resource(contents.test, version.test_type, TEST_HREF))):
        metadata = PACKAGING.root("metadata")
        add_test_record(metadata, contents)
        emit(stream, version.form(metadata))
        emit(stream, version.form(_file(TEST_HREF)))
        needed = Pattern(version.form(root), 1, lambda item: version.form(_dependency(item)))
        for question in contents.questions:
            for item in question.items():
                put(stream, file, needed.filled(item))


def _resources(contents: PackNames, version: QtiVersion, root: Element) -> Iterator[bytes]:
    """The drawings and the items of each question; a drawing that several show comes with the first."""
    for question, drawings in contents.drawings():
        for name, drawing in drawings.items():
            figure = _figure(question, drawing, name, figure_href(name, f".{question.delivery.figures}"))
            yield emitted(version.form(root), version.form(figure))
        yield from _items(question, version, root)


def _figure(question: QuestionNames, drawing: Drawing, identifier: str, href: str) -> Element:
    resource = _resource(identifier, elements.WEB_CONTENT_TYPE, href)
    add_drawing_record(PACKAGING.add(resource, "metadata"), question, drawing)
    resource.append(_file(href))
    return resource


def _items(question: QuestionNames, version: QtiVersion, root: Element) -> Iterator[bytes]:
    """The items of a question; those with one figure that are both templates or both not differ in their names."""
    known: dict[tuple[int | None, bool], Pattern] = {}
    for index, figure in enumerate(question.section.figure_of):
        kind = (figure, question.is_template(index))
        if kind not in known:
            make = partial(_item, question, version, *kind)
            known[kind] = Pattern(version.form(root), 3, lambda *names, make=make: version.form(make(*names)))
        identifier = question.item(index)
        yield known[kind].filled(identifier, item_href(identifier), entry(question, index))


def _item(
    question: QuestionNames,
    version: QtiVersion,
    figure: int | None,
    template: bool,
    identifier: str,
    href: str,
    called: str,
) -> Element:
    """An item leans on its figure, and on all option drawings of its question: which it shows is not known yet."""
    resource = _resource(identifier, version.item_type, href)
    metadata = PACKAGING.add(resource, "metadata")
    add_qti_metadata(metadata, question, template=template)
    if version.names_standards and _is_aligned(question):
        add_standards(metadata, question.section.metadata.alignment)
    add_item_record(metadata, question, called, standards=version.names_standards)
    resource.append(_file(href))
    for name in question.drawings_of(figure):
        resource.append(_dependency(name))
    return resource


def _resource(identifier: str, kind: str, href: str) -> Element:
    return PACKAGING.root("resource", identifier=identifier, type=kind, href=href)


def _file(href: str) -> Element:
    return PACKAGING.root("file", href=href)


def _dependency(identifier: str) -> Element:
    return PACKAGING.root("dependency", identifierref=identifier)
