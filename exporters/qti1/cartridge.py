"""Assessments in a Common Cartridge 1.3: the first holds the first variant of each question, and so on.

Its metadata are those that the profile of cartridges 1.1 names, whose grammar was read: no attempts, or one to five, or
"unlimited", minutes, and what may be told. That 1.3 keeps them so is from memory, as is what a platform makes of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import IO

from lxml import etree

from ...bank.item.item import Item
from ...bank.item.pack import Pack
from ..adapting.adaptation import Adapted, adapted
from ..markup.elements import Element, emit, opened
from ..packages import naming
from ..packages.delivery import Delivery
from ..packages.naming import PackNames
from ..packages.package import Package, add_pictures, package
from . import cartridge_profile
from .cartridge_manifest import CartridgeDocument, write_manifest
from .item import Profile, item_element
from .vocabulary import ASSESSMENT_TYPE, CARTRIDGE_SCHEMA, QTI1, fields, put_item, root, yes_or_no

NAME = "common-cartridge-1.3"
SUFFIX = ".imscc"
TITLE = "Common Cartridge 1.3 (assessments)"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as this format can carry it."""
    return adapted(pack, delivery, cartridge_profile.capacity("one each"))


def write(
    adapted: Adapted,
    target: Path,
    check: Callable[[Path], None],
    progress: Callable[[int], None] | None = None,
) -> None:
    """Leaves the cartridge at ``target`` once ``check`` has accepted it; items are asked for and written singly."""
    figures = adapted.delivery.figures
    with package(target, check) as box:
        contents = naming.contents(adapted.pack)
        documents = _documents(contents)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, documents, figures, file)
        add_pictures(box, contents, figures)
        for done, _ in enumerate(_write_all(adapted, contents, documents, box), start=1):
            if progress:
                progress(done)


def _documents(contents: PackNames) -> list[CartridgeDocument]:
    """An assessment for each variant that some question has."""
    forms = max(len(section) for section in contents.pack.sections)
    title = contents.pack.title
    return [
        CartridgeDocument(
            f"{contents.mark}_a{number}",
            ASSESSMENT_TYPE,
            f"assessment-{number}.xml",
            title if forms == 1 else f"{title}, form {number}",
        )
        for number in range(1, forms + 1)
    ]


def _write_all(
    adapted: Adapted, contents: PackNames, documents: list[CartridgeDocument], box: Package
) -> Iterator[Item]:
    profile = cartridge_profile.profile(f".{adapted.delivery.figures}", cartridge_profile.facts)
    for document, form in zip(documents, adapted.forms(), strict=True):
        with box.member(document.href) as file:
            yield from _write_assessment(contents, document, form, profile, file)


def _write_assessment(
    contents: PackNames,
    document: CartridgeDocument,
    form: Iterable[tuple[int, int, Item]],
    profile: Profile,
    file: IO[bytes],
) -> Iterator[Item]:
    """Writes one assessment; gives each item after it was written."""
    assessment = QTI1.root("assessment", ident=document.identifier, title=document.title)
    section = QTI1.root("section", ident=f"{document.identifier}_section")
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, root(CARTRIDGE_SCHEMA), root=True), opened(stream, assessment):
            emit(stream, _facts(contents))
            with opened(stream, section):
                for place, index, item in form:
                    question = contents.questions[place]
                    question.shape.check(item)
                    put_item(stream, file, item_element(item, question, index, profile, question.title))
                    yield item


def _facts(contents: PackNames) -> Element:
    rules = contents.pack.sitting
    return fields(
        (
            ("cc_profile", "cc.exam.v0p1"),
            ("qmd_assessmenttype", "Examination"),
            ("qmd_scoretype", "Percentage"),
            ("cc_maxattempts", str(rules.attempts or "unlimited")),
            *([("qmd_timelimit", str(rules.minutes))] if rules.minutes else []),
            ("qmd_feedbackpermitted", yes_or_no(rules.feedback)),
            ("qmd_hintspermitted", yes_or_no(rules.feedback and rules.hints)),
            ("qmd_solutionspermitted", yes_or_no(rules.feedback and rules.solution)),
        )
    )
