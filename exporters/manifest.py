"""The manifest of a package (IMS Content Packaging): every file once, with what it needs and what it is about."""

from __future__ import annotations

from collections.abc import Iterator
from typing import IO, Any

from lxml import etree
from turnwright.bank.drawing import Drawing
from turnwright.exporters import namespaces
from turnwright.exporters.curriculum import add_standards, has_case
from turnwright.exporters.elements import Element, Vocabulary, emit, opened
from turnwright.exporters.metadata import add_drawing_record, add_item_record, add_qti_metadata, add_test_record
from turnwright.exporters.naming import TEST_HREF, Contents, Question, item_href
from turnwright.exporters.version import QTI_30, Version

PREFIXES = {"imsmd": namespaces.LOM, "imsqti": namespaces.QTI_METADATA}
PACKAGING = Vocabulary(namespaces.CONTENT_PACKAGING, {**PREFIXES, "xsi": namespaces.XSI})
ALIGNED = Vocabulary(namespaces.CONTENT_PACKAGING, {**PREFIXES, "csm": namespaces.STANDARDS, "xsi": namespaces.XSI})


def write_manifest(contents: Contents, file: IO[bytes], version: Version = QTI_30) -> None:
    """Writes the manifest one resource at a time. It needs no item: a section tells of them."""
    aligned = version.names_standards and any(map(_is_aligned, contents.questions))
    root = (ALIGNED if aligned else PACKAGING).root("manifest", identifier=contents.mark)
    spaces = [namespaces.CONTENT_PACKAGING, namespaces.LOM, namespaces.QTI_METADATA]
    spaces += [namespaces.STANDARDS] if aligned else []
    root.set(namespaces.SCHEMA_LOCATION_ATTRIBUTE, namespaces.schema_location(*spaces))
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, version.form(root), root=True):
            emit(stream, version.form(_schema(version)))
            emit(stream, version.form(PACKAGING.root("organizations")))
            with opened(stream, version.form(PACKAGING.root("resources"))):
                _write_test(stream, contents, version)
                for resource in _resources(contents, version):
                    emit(stream, version.form(resource))


def _is_aligned(question: Question) -> bool:
    """Whether an item of the question names a standard by its identifier in CASE."""
    return question.purpose == "practice" and has_case(question.section.metadata.alignment)


def _schema(version: Version) -> Element:
    metadata = PACKAGING.root("metadata")
    PACKAGING.add(metadata, "schema", version.schema)
    PACKAGING.add(metadata, "schemaversion", version.schema_version)
    return metadata


def _write_test(stream: Any, contents: Contents, version: Version) -> None:
    """The test leans on every item, so that its resource is as long as the pack."""
    with opened(stream, version.form(_resource(contents.test, version.test_type, TEST_HREF))):
        metadata = PACKAGING.root("metadata")
        add_test_record(metadata, contents)
        emit(stream, version.form(metadata))
        emit(stream, version.form(_file(TEST_HREF)))
        for question in contents.questions:
            for item in question.items():
                emit(stream, version.form(_dependency(item)))


def _resources(contents: Contents, version: Version) -> Iterator[Element]:
    """The drawings and the items of each question."""
    for question in contents.questions:
        for index, drawing in enumerate(question.section.figures):
            yield _figure(question, drawing, question.figure(index), question.figure_href(index))
        for index, drawing in enumerate(question.pictures):
            yield _figure(question, drawing, question.picture(index), question.picture_href(index))
        for index in range(len(question.section)):
            yield _item(question, index, version)


def _figure(question: Question, drawing: Drawing, identifier: str, href: str) -> Element:
    resource = _resource(identifier, namespaces.WEB_CONTENT_TYPE, href)
    add_drawing_record(PACKAGING.add(resource, "metadata"), question, drawing)
    resource.append(_file(href))
    return resource


def _item(question: Question, index: int, version: Version) -> Element:
    """An item leans on its figure, and on all option drawings of its question: which it shows is not known yet."""
    identifier = question.item(index)
    href = item_href(identifier)
    resource = _resource(identifier, version.item_type, href)
    metadata = PACKAGING.add(resource, "metadata")
    add_qti_metadata(metadata, question, index)
    if version.names_standards and _is_aligned(question):
        add_standards(metadata, question.section.metadata.alignment)
    add_item_record(metadata, question, index, standards=version.names_standards)
    resource.append(_file(href))
    figure = question.section.figure_of[index]
    if figure is not None:
        resource.append(_dependency(question.figure(figure)))
    for place in range(len(question.pictures)):
        resource.append(_dependency(question.picture(place)))
    return resource


def _resource(identifier: str, kind: str, href: str) -> Element:
    return PACKAGING.root("resource", identifier=identifier, type=kind, href=href)


def _file(href: str) -> Element:
    return PACKAGING.root("file", href=href)


def _dependency(identifier: str) -> Element:
    return PACKAGING.root("dependency", identifierref=identifier)
