"""The manifest of a plain QTI 1.2.1 package (Content Packaging 1.1.4, with a Meta-data 1.2 record)."""

from __future__ import annotations

from typing import IO

from lxml import etree

from ...bank.item.pack import Pack
from ..markup import elements
from ..markup.elements import Element, Vocabulary, emit, opened
from ..packages.delivery import Figures
from ..packages.metadata import LANGUAGE, description, keywords, licences, minutes, standards
from ..packages.naming import PackNames, figure_href
from ..packages.package import picture_names
from .vocabulary import PLAIN_METADATA, PLAIN_PACKAGING, PLAIN_TYPE

HREF = "assessment.xml"
PACKAGING = Vocabulary(PLAIN_PACKAGING, {"imsmd": PLAIN_METADATA, "xsi": elements.XSI})
METADATA = Vocabulary(PLAIN_METADATA)


def write_manifest(contents: PackNames, figures: Figures, file: IO[bytes]) -> None:
    """Writes the manifest: one assessment that leans on every drawing."""
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, PACKAGING.root("manifest", identifier=contents.mark), root=True):
            stream.write(_metadata(contents))
            emit(stream, PACKAGING.root("organizations"))
            with opened(stream, PACKAGING.root("resources")):
                emit(stream, _assessment(contents))
                for name in picture_names(contents):
                    emit(stream, _picture(name, figures))


def _metadata(contents: PackNames) -> Element:
    metadata = PACKAGING.root("metadata")
    PACKAGING.add(metadata, "schema", "IMS Content")
    PACKAGING.add(metadata, "schemaversion", "1.1.4")
    record = METADATA.add(metadata, "lom")
    general = METADATA.add(record, "general")
    _add_text(METADATA.add(general, "title"), contents.pack.title)
    METADATA.add(general, "language", LANGUAGE)
    _add_text(METADATA.add(general, "description"), description(contents.pack))
    for word in keywords(contents.pack):
        _add_text(METADATA.add(general, "keyword"), word)
    time = METADATA.add(METADATA.add(record, "educational"), "typicallearningtime")
    METADATA.add(time, "datetime", f"PT{minutes(contents.pack)}M")
    rights = METADATA.add(record, "rights")
    restricted = METADATA.add(rights, "copyrightandotherrestrictions")
    _add_text(METADATA.add(restricted, "source"), "LOMv1.0", "x-none")
    _add_text(METADATA.add(restricted, "value"), "yes", "x-none")
    _add_text(METADATA.add(rights, "description"), licences(contents.pack))
    _add_standards(record, contents.pack)
    etree.cleanup_namespaces(metadata)
    return metadata


def _add_standards(record: Element, pack: Pack) -> None:
    """What the questions meet in a curriculum, by codes or CASE identifiers, as paths of one classification."""
    found = standards(pack)
    if not found:
        return
    classification = METADATA.add(record, "classification")
    purpose = METADATA.add(classification, "purpose")
    _add_text(METADATA.add(purpose, "source"), "LOMv1.0", "x-none")
    _add_text(METADATA.add(purpose, "value"), "Educational Objective", "x-none")
    for each in found:
        path = METADATA.add(classification, "taxonpath")
        _add_text(METADATA.add(path, "source"), each.source)
        taxon = METADATA.add(path, "taxon")
        METADATA.add(taxon, "id", each.id)
        _add_text(METADATA.add(taxon, "entry"), each.entry)


def _add_text(parent: Element, text: str, language: str = LANGUAGE) -> None:
    METADATA.add(parent, "langstring", text).set(elements.LANGUAGE_ATTRIBUTE, language)


def _assessment(contents: PackNames) -> Element:
    resource = PACKAGING.root("resource", identifier=contents.test, type=PLAIN_TYPE, href=HREF)
    PACKAGING.add(resource, "file", href=HREF)
    for name in picture_names(contents):
        PACKAGING.add(resource, "dependency", identifierref=name)
    return resource


def _picture(name: str, figures: Figures) -> Element:
    href = figure_href(name, f".{figures}")
    resource = PACKAGING.root("resource", identifier=name, type=elements.WEB_CONTENT_TYPE, href=href)
    PACKAGING.add(resource, "file", href=href)
    return resource
