"""How standards of a curriculum are named in a manifest: by CASE identifiers in QTI 3.0, by taxon paths anywhere.

The record of 3.0 is written after a skeleton from an official package; that it may do without the region and version of
a framework, which no problem file gives, is from memory of its schema.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from ...bank.item.curriculum import Alignment
from ...bank.item.item import Pack
from ...bank.language import count
from ..markup import elements
from ..markup.elements import Element, Vocabulary

STANDARDS = Vocabulary(elements.STANDARDS)


class Taxon(NamedTuple):
    """One step of a classification: whose it is, its id there, and what it says."""

    source: str
    id: str
    entry: str


def has_case(alignments: Iterable[Alignment]) -> bool:
    """Whether any of them has an identifier in CASE."""
    return any(each.case for each in alignments)


def add_standards(parent: Element, alignments: Sequence[Alignment]) -> None:
    """Adds the record of all alignments that CASE knows, framework by framework; nothing where there is none."""
    frameworks = dict.fromkeys(each.framework for each in alignments if each.case)
    if not frameworks:
        return
    record = STANDARDS.add(parent, "curriculumStandardsMetadataSet")
    for framework in frameworks:
        provided = STANDARDS.add(record, "curriculumStandardsMetadata")
        provided.set("providerId", framework)
        guids = STANDARDS.add(provided, "setOfGUIDs")
        for each in alignments:
            if each.case and each.framework == framework:
                _add_standard(guids, each)


def _add_standard(guids: Element, alignment: Alignment) -> None:
    labelled = STANDARDS.add(guids, "labelledGUID")
    STANDARDS.add(labelled, "label", alignment.label)
    if alignment.address:
        STANDARDS.add(labelled, "caseItemURI", alignment.address)
    STANDARDS.add(labelled, "GUID", alignment.guid)


def taxons(alignments: Sequence[Alignment], *, standards: bool) -> Iterator[Taxon]:
    """The alignments as taxons: plain codes, and CASE identifiers unless they are among the ``standards``."""
    for each in alignments:
        if each.code:
            yield Taxon(each.framework, each.code, each.label)
        if each.case and not standards:
            yield Taxon(each.framework, each.guid, f"{each.code} {each.label}".strip())


# --- what a record says of a whole pack ---


LANGUAGE = "en"


def keywords(pack: Pack) -> tuple[str, ...]:
    """Families and objectives of the questions, each once; an exam has none, for they lead back to the bank."""
    if pack.purpose == "exam":
        return ()
    words = (word for each in pack.sections for word in (each.metadata.family, *each.metadata.objectives))
    return tuple(dict.fromkeys(word for word in words if word))


def licences(pack: Pack) -> str:
    """The licences of the questions, each once."""
    return ", ".join(dict.fromkeys(each.metadata.licence for each in pack.sections))


def description(pack: Pack) -> str:
    """What the pack is, in a sentence."""
    return f"{count(len(pack.sections), 'question').capitalize()} on circular motion, in variants with other numbers."


def minutes(pack: Pack) -> int:
    """How long the questions take together: the limit of the sitting, or the sum of what each takes."""
    return pack.sitting.minutes or sum(each.metadata.minutes for each in pack.sections)


def standards(pack: Pack) -> tuple[Taxon, ...]:
    """What the questions meet in a curriculum, each once; an exam tells none."""
    if pack.purpose == "exam":
        return ()
    found = (taxon for each in pack.sections for taxon in taxons(each.metadata.alignment, standards=False))
    return tuple(dict.fromkeys(found))
