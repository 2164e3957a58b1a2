"""The names that questions, variants and figures bear in a package.

They are numbers behind a mark of the pack: they give nothing away, and two packs imported side by side never share one.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from turnwright.bank.item import Pack, Purpose, Section

MANIFEST = "imsmanifest.xml"
TEST_HREF = "test.xml"


@dataclass(frozen=True)
class Question:
    """A section under its name and title in the package. In an exam, the title is a number as well."""

    identifier: str
    title: str
    purpose: Purpose
    section: Section
    width: int

    def item(self, index: int) -> str:
        """The identifier of the item at ``index``, which counts from 0 inside its section."""
        return f"{self.identifier}_v{index + 1:0{self.width}}"

    def figure(self, index: int) -> str:
        """The identifier of the figure at ``index``."""
        return f"{self.identifier}_f{index + 1}"

    def items(self) -> Iterator[str]:
        """The identifiers of all items."""
        return (self.item(index) for index in range(len(self.section)))


def mark(pack: Pack) -> str:
    """The mark of a pack: a digest of what it is made of, so the same pack has the same mark on every machine."""
    sections = [f"{each.question_id} {each.metadata.version} {len(each)}" for each in pack.sections]
    facts = "\n".join((pack.title, pack.purpose, pack.gravity, str(pack.seed), *sections))
    return f"p{hashlib.sha256(facts.encode()).hexdigest()[:7]}"


def test_identifier(pack: Pack) -> str:
    """The identifier of the test."""
    return f"{mark(pack)}_test"


def questions(pack: Pack) -> tuple[Question, ...]:
    """The sections of a pack, named; numbers are padded to one width, so that names sort as numbers do."""
    digits = max(2, len(str(len(pack.sections))))
    width = max([3, *(len(str(len(section))) for section in pack.sections)])
    prefix = mark(pack)
    return tuple(
        Question(
            identifier=f"{prefix}_q{number:0{digits}}",
            title=section.metadata.title if pack.purpose == "practice" else f"Question {number}",
            purpose=pack.purpose,
            section=section,
            width=width,
        )
        for number, section in enumerate(pack.sections, start=1)
    )


def item_href(identifier: str) -> str:
    """Where an item lies in the package; inside it, the mark says nothing."""
    return f"items/{_unmarked(identifier)}.xml"


def figure_href(identifier: str) -> str:
    """Where a figure lies in the package."""
    return f"media/{_unmarked(identifier)}.svg"


def _unmarked(identifier: str) -> str:
    return identifier.partition("_")[2]
