"""The manifest of a package (IMS Content Packaging): every file once, with what it needs and what it is about."""

from __future__ import annotations

from typing import IO, Any

from lxml import etree
from turnwright.exporters import namespaces
from turnwright.exporters.elements import Element, Vocabulary, emit, opened
from turnwright.exporters.metadata import add_qti_metadata, add_record
from turnwright.exporters.naming import TEST_HREF, Contents, Question, figure_href, item_href

PREFIXES = {"imsmd": namespaces.LOM, "imsqti": namespaces.QTI_METADATA}
PACKAGING = Vocabulary(namespaces.CONTENT_PACKAGING, {**PREFIXES, "xsi": namespaces.XSI})


def write_manifest(contents: Contents, file: IO[bytes]) -> None:
    """Writes the manifest one resource at a time. It needs no item: a section tells of them."""
    root = PACKAGING.root("manifest", identifier=contents.mark)
    spaces = (namespaces.CONTENT_PACKAGING, namespaces.LOM, namespaces.QTI_METADATA)
    root.set(namespaces.SCHEMA_LOCATION_ATTRIBUTE, namespaces.schema_location(*spaces))
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, root, root=True):
            emit(stream, _schema())
            emit(stream, PACKAGING.root("organizations"))
            with opened(stream, PACKAGING.root("resources")):
                _write_resources(stream, contents)


def _schema() -> Element:
    metadata = PACKAGING.root("metadata")
    PACKAGING.add(metadata, "schema", "QTI Package")
    PACKAGING.add(metadata, "schemaversion", "3.0.0")
    return metadata


def _write_resources(stream: Any, contents: Contents) -> None:
    _write_test(stream, contents)
    for question in contents.questions:
        for index in range(len(question.section.figures)):
            emit(stream, _figure(question.figure(index)))
        for index in range(len(question.pictures)):
            emit(stream, _figure(question.picture(index)))
        for index in range(len(question.section)):
            emit(stream, _item(question, index))


def _write_test(stream: Any, contents: Contents) -> None:
    """The test leans on every item, so that its resource is as long as the pack."""
    with opened(stream, _resource(contents.test, namespaces.TEST_TYPE, TEST_HREF)):
        emit(stream, _file(TEST_HREF))
        for question in contents.questions:
            for item in question.items():
                emit(stream, _dependency(item))


def _figure(identifier: str) -> Element:
    href = figure_href(identifier)
    resource = _resource(identifier, namespaces.WEB_CONTENT_TYPE, href)
    resource.append(_file(href))
    return resource


def _item(question: Question, index: int) -> Element:
    """An item leans on its figure, and on all option drawings of its question: which it shows is not known yet."""
    identifier = question.item(index)
    href = item_href(identifier)
    resource = _resource(identifier, namespaces.ITEM_TYPE, href)
    metadata = PACKAGING.add(resource, "metadata")
    add_qti_metadata(metadata, question, index)
    add_record(metadata, question, index)
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
