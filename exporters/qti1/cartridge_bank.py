"""A question bank in a Common Cartridge 1.3: all variants of all questions, for a teacher to draw from.

By the profile's grammar it is an ``objectbank`` of items and nothing else: it has no rules of a sitting.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import IO

from lxml import etree

from ...bank.item.item import Item
from ...bank.item.pack import Pack
from ..adapting.adaptation import Adapted, adapted
from ..markup.elements import opened
from ..packages import naming
from ..packages.delivery import Delivery
from ..packages.naming import PackNames
from ..packages.package import add_pictures, package
from . import cartridge_profile
from .cartridge_manifest import CartridgeDocument, write_manifest
from .item import Profile, item_element
from .vocabulary import BANK_TYPE, CARTRIDGE_SCHEMA, QTI1, put_item, root

NAME = "common-cartridge-1.3-bank"
SUFFIX = ".imscc"
TITLE = "Common Cartridge 1.3 (question bank)"
HREF = "question-bank.xml"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as this format can carry it."""
    return adapted(pack, delivery, cartridge_profile.capacity("bank"))


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
        document = CartridgeDocument(f"{contents.mark}_bank", BANK_TYPE, HREF)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, [document], figures, file)
        add_pictures(box, contents, figures)
        profile = cartridge_profile.profile(f".{figures}", cartridge_profile.facts_in_bank)
        with box.member(HREF) as file:
            for done, _ in enumerate(_write_bank(contents, document, profile, file), start=1):
                if progress:
                    progress(done)


def _write_bank(contents: PackNames, document: CartridgeDocument, profile: Profile, file: IO[bytes]) -> Iterator[Item]:
    """Writes the bank; gives each item after it was written."""
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        bank = QTI1.root("objectbank", ident=document.identifier)
        with opened(stream, root(CARTRIDGE_SCHEMA), root=True), opened(stream, bank):
            for question in contents.questions:
                for index, item in enumerate(question.section.items()):
                    question.shape.check(item)
                    title = f"{question.title}, variant {index + 1}"
                    put_item(stream, file, item_element(item, question, index, profile, title))
                    yield item
