"""The manifest of a Common Cartridge 1.3: its record, one organization, assessments or a bank, the drawings.

The record is that of the profile of cartridges 1.1, whose grammar was read: an educational part that says "IMS Common
Cartridge" and has no place for a time, taxon paths of one taxon without a source. That 1.3 keeps it so is from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import IO

from lxml import etree

from ...bank.item.pack import Pack
from ..markup import elements
from ..markup.elements import Element, Vocabulary, emit, opened
from ..packages.delivery import Figures
from ..packages.metadata import LANGUAGE, description, keywords, learning_time, licences, standards
from ..packages.naming import PackNames, figure_href
from ..packages.package import picture_names
from .vocabulary import CARTRIDGE, CARTRIDGE_LOM, CARTRIDGE_LOM_SCHEMA, CARTRIDGE_PACKAGING_SCHEMA

PACKAGING = Vocabulary(CARTRIDGE, {"lom": CARTRIDGE_LOM, "xsi": elements.XSI})
LOM = Vocabulary(CARTRIDGE_LOM)
SCHEMA = "IMS Common Cartridge"
SCHEMAS = f"{CARTRIDGE} {CARTRIDGE_PACKAGING_SCHEMA} {CARTRIDGE_LOM} {CARTRIDGE_LOM_SCHEMA}"


@dataclass(frozen=True)
class CartridgeDocument:
    """A file of questions: its identifier, its resource type, where it lies, its title in the organization, or none."""

    identifier: str
    kind: str
    href: str
    title: str = ""


def write_manifest(
    contents: PackNames, documents: Sequence[CartridgeDocument], figures: Figures, file: IO[bytes]
) -> None:
    """Writes the manifest; every document leans on every drawing, since which it shows is not known yet."""
    root = PACKAGING.root("manifest", identifier=contents.mark)
    root.set(elements.SCHEMA_LOCATION_ATTRIBUTE, SCHEMAS)
    names = picture_names(contents)
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, root, root=True):
            emit(stream, _metadata(contents.pack))
            emit(stream, _organizations(contents, documents))
            with opened(stream, PACKAGING.root("resources")):
                for document in documents:
                    emit(stream, _document(document, names))
                for name in names:
                    emit(stream, _picture(name, figures))


def _metadata(pack: Pack) -> Element:
    metadata = PACKAGING.root("metadata")
    PACKAGING.add(metadata, "schema", SCHEMA)
    PACKAGING.add(metadata, "schemaversion", "1.3.0")
    record = LOM.add(metadata, "lom")
    general = LOM.add(record, "general")
    _add_text(general, "title", pack.title)
    LOM.add(general, "language", LANGUAGE)
    _add_text(general, "description", f"{description(pack)} {learning_time(pack)}")
    for word in keywords(pack):
        _add_text(general, "keyword", word)
    LOM.add(LOM.add(LOM.add(record, "educational"), "learningResourceType"), "value", SCHEMA)
    rights = LOM.add(record, "rights")
    LOM.add(LOM.add(rights, "copyrightAndOtherRestrictions"), "value", "yes")
    _add_text(rights, "description", licences(pack))
    _add_standards(record, pack)
    return metadata


def _add_standards(record: Element, pack: Pack) -> None:
    """What the questions meet in a curriculum, by codes or CASE identifiers: a classification for each framework.

    A path has no source here, so the framework is what the classification is described by.
    """
    found = standards(pack)
    for framework in dict.fromkeys(each.source for each in found):
        classification = LOM.add(record, "classification")
        LOM.add(LOM.add(classification, "purpose"), "value", "educational objective")
        for each in found:
            if each.source == framework:
                taxon = LOM.add(LOM.add(classification, "taxonPath"), "taxon")
                LOM.add(taxon, "id", each.id)
                _add_text(taxon, "entry", each.entry)
        _add_text(classification, "description", framework)


def _add_text(parent: Element, tag: str, text: str) -> None:
    LOM.add(LOM.add(parent, tag), "string", text, language=LANGUAGE)


def _organizations(contents: PackNames, documents: Sequence[CartridgeDocument]) -> Element:
    """One tree, whose root has no title; a bank is not linked from it."""
    holder = PACKAGING.root("organizations")
    tree = PACKAGING.add(
        holder, "organization", identifier=f"{contents.mark}_organization", structure="rooted-hierarchy"
    )
    top = PACKAGING.add(tree, "item", identifier=f"{contents.mark}_root")
    for document in documents:
        if document.title:
            item = PACKAGING.add(
                top, "item", identifier=f"{document.identifier}_item", identifierref=document.identifier
            )
            PACKAGING.add(item, "title", document.title)
    return holder


def _document(document: CartridgeDocument, names: Sequence[str]) -> Element:
    resource = PACKAGING.root("resource", identifier=document.identifier, type=document.kind)
    PACKAGING.add(resource, "file", href=document.href)
    for name in names:
        PACKAGING.add(resource, "dependency", identifierref=name)
    return resource


def _picture(name: str, figures: Figures) -> Element:
    href = figure_href(name, f".{figures}")
    resource = PACKAGING.root("resource", identifier=name, type=elements.WEB_CONTENT_TYPE, href=href)
    PACKAGING.add(resource, "file", href=href)
    return resource
