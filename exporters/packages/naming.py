"""What a package tells of its questions before any item is written: their shape, and the names that all things bear.

Names are numbers behind a mark of the pack: they give nothing away, and two packs imported side by side never share
one.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, TypeAlias

from ...bank.errors import TurnwrightError
from ...bank.item.drawing import Drawing
from ...bank.item.item import ChoiceEntry, Entry, Item, NumberEntry, OrderEntry
from ...bank.item.pack import Pack, Section
from ...bank.item.sitting import PRACTICE, Purpose, Sitting
from ..markup.svg import svg
from .delivery import PLAIN, Delivery

Kind: TypeAlias = Literal["number", "choice", "several", "order", "match"]

# The names that QTI metadata has for them.
INTERACTIONS: dict[Kind, str] = {
    "number": "textEntryInteraction",
    "choice": "choiceInteraction",
    "several": "choiceInteraction",
    "order": "orderInteraction",
    "match": "matchInteraction",
}
HINT_INTERACTION = "endAttemptInteraction"
MANIFEST = "imsmanifest.xml"
TEST_HREF = "test.xml"
ITEMS = "items/"
LETTERS = str.maketrans("0123456789", "ghjkmnrstv")
MARK_LETTERS, DRAWING_LETTERS = 7, 12


class SectionError(TurnwrightError):
    """A section whose items are not what it tells of them."""

    def __init__(self, question: str, wrong: str, right: str) -> None:
        self.question, self.wrong, self.right = question, wrong, right
        super().__init__(question, wrong, right)

    def __str__(self) -> str:
        return f"{self.question}: {self.wrong}; {self.right}"


@dataclass(frozen=True)
class QuestionShape:
    """What all variants of a question have in common: the kinds of their entries, their marks, whether hints help."""

    kinds: tuple[Kind, ...]
    marks: int
    hinted: bool

    def interactions(self, *, hints: bool) -> tuple[str, ...]:
        """The kinds of interaction by the names of QTI metadata, each once, with those of hints if there are any."""
        names = [INTERACTIONS[kind] for kind in self.kinds]
        return tuple(dict.fromkeys([*names, HINT_INTERACTION] if hints and self.hinted else names))

    def check(self, item: Item) -> None:
        """Raises SectionError for an item of another shape: totals would differ between candidates."""
        own = _shape(item)
        if own.marks != self.marks:
            wrong = f"variant {item.variant} is worth {own.marks}, the first is worth {self.marks}"
            raise SectionError(item.question_id, wrong, "all variants of a question need the same marks")
        if own != self:
            wrong = f"variant {item.variant} is not answered in the way that the first is"
            raise SectionError(item.question_id, wrong, "all variants of a question need entries of the same kinds")


def shape(section: Section) -> QuestionShape:
    """The shape of the first item. Raises SectionError if there is none."""
    first = next(section.items(), None)
    if first is None:
        raise SectionError(section.question_id, "it has no variant", "leave the question out")
    return _shape(first)


def _shape(item: Item) -> QuestionShape:
    return QuestionShape(tuple(_kind(entry) for entry in item.entries), item.marks, bool(item.hints))


def _kind(entry: Entry) -> Kind:
    if isinstance(entry, ChoiceEntry):
        return "several" if entry.several else "choice"
    if isinstance(entry, NumberEntry):
        return "number"
    return "order" if isinstance(entry, OrderEntry) else "match"


@dataclass(frozen=True)
class QuestionNames:
    """A section under its name and title in the package. In an exam, the title is a number as well.

    ``cautions`` are those of its stories that no section before it has.
    """

    identifier: str
    title: str
    purpose: Purpose
    section: Section
    shape: QuestionShape
    width: int
    sitting: Sitting = PRACTICE
    delivery: Delivery = PLAIN
    cautions: tuple[str, ...] = ()

    def item(self, index: int) -> str:
        """The identifier of the item at ``index``, which counts from 0 inside its section."""
        return f"{self.identifier}_v{index + 1:0{self.width}}"

    def is_template(self, index: int) -> bool:
        """Whether the item at ``index`` holds several variants."""
        return bool(self.section.held) and self.section.held[index] > 1

    def figure(self, index: int) -> str:
        """The identifier of the figure at ``index``."""
        return self._named(self.section.figures[index], f"f{index + 1}")

    def figure_href(self, index: int) -> str:
        """Where the file of the figure at ``index`` lies in the package."""
        return figure_href(self.figure(index), f".{self.delivery.figures}")

    @cached_property
    def pictures(self) -> Mapping[Drawing, str]:
        """The drawings of options, and of solutions where these are shown, with their identifiers.

        Their order comes from their digests. So no name tells anything of the key.
        """
        shown = dict.fromkeys((*self.section.pictures, *(self.section.plots if self.sitting.solution else ())))
        ordered = sorted(shown, key=lambda drawing: hashlib.sha256(svg(drawing)).digest())
        return {each: self._named(each, f"o{number}") for number, each in enumerate(ordered, start=1)}

    def _named(self, drawing: Drawing, counted: str) -> str:
        """The identifier of a drawing: what looks alike, and has one licence, is one file of a pack for practice.

        In an exam it is ``counted`` among those of its question: of a drawing that two questions offer, a shared name
        would tell that it is right in both.
        """
        if self.purpose == "exam":
            return f"{self.identifier}_{counted}"
        mark = self.identifier.partition("_")[0]
        facts = f"{mark} {self.section.metadata.licence}\n".encode()
        return f"{mark}_d{_lettered(facts + svg(drawing), DRAWING_LETTERS)}"

    def picture_source(self, drawing: Drawing) -> str:
        """Where the file of an option's drawing lies, seen from an item. Raises SectionError if it is not announced."""
        return f"../{figure_href(self.picture_name(drawing), f'.{self.delivery.figures}')}"

    def picture_name(self, drawing: Drawing) -> str:
        """The identifier of an option's drawing. Raises SectionError if it is not announced."""
        name = self.pictures.get(drawing)
        if name is None:
            wrong = f"an option shows a drawing that the section does not list ('{drawing.title}')"
            raise SectionError(self.section.question_id, wrong, "list every option drawing as a picture of the section")
        return name

    def drawings(self) -> dict[str, Drawing]:
        """All drawings by their identifiers, figures first."""
        figures = {self.figure(index): each for index, each in enumerate(self.section.figures)}
        return figures | {name: each for each, name in self.pictures.items()}

    def drawings_of(self, figure: int | None) -> Iterable[str]:
        """The identifiers of the drawings that items with this figure may show."""
        first = () if figure is None else (self.figure(figure),)
        return dict.fromkeys((*first, *self.pictures.values()))

    def items(self) -> Iterator[str]:
        """The identifiers of all items."""
        return (self.item(index) for index in range(len(self.section)))


@dataclass(frozen=True)
class PackNames:
    """A pack with the names of all that it holds; ``mark`` stands in front of each."""

    pack: Pack
    mark: str
    questions: tuple[QuestionNames, ...]
    delivery: Delivery = PLAIN

    @property
    def test(self) -> str:
        """The identifier of the test."""
        return f"{self.mark}_test"

    def drawings(self) -> Iterator[tuple[QuestionNames, Mapping[str, Drawing]]]:
        """Each question with those of its drawings, by their identifiers, that none before it has."""
        told: set[str] = set()
        for question in self.questions:
            new = {name: each for name, each in question.drawings().items() if name not in told}
            told |= new.keys()
            yield question, new


def contents(pack: Pack, delivery: Delivery = PLAIN) -> PackNames:
    """The pack, named; numbers are padded to one width, so that names sort as numbers do.

    It asks each section for its first item, which tells the shape of all. Raises SectionError for an empty section.
    """
    mark = _mark(pack)
    digits = max(2, len(str(len(pack.sections))))
    width = max([3, *(len(str(len(section))) for section in pack.sections)])
    questions = tuple(
        QuestionNames(
            identifier=f"{mark}_q{number:0{digits}}",
            title=section.metadata.title if pack.purpose == "practice" else f"Question {number}",
            purpose=pack.purpose,
            section=section,
            shape=shape(section),
            width=width,
            sitting=pack.sitting,
            delivery=delivery,
            cautions=new,
        )
        for number, (section, new) in enumerate(zip(pack.sections, _new_cautions(pack), strict=True), start=1)
    )
    return PackNames(pack, mark, questions, delivery)


def _new_cautions(pack: Pack) -> Iterator[tuple[str, ...]]:
    """For each section the cautions that none before it has."""
    told: set[str] = set()
    for section in pack.sections:
        yield tuple(each for each in section.cautions if each not in told)
        told.update(section.cautions)


def _mark(pack: Pack) -> str:
    """The mark of a pack: a digest of what it is made of, so the same pack has the same mark on every machine.

    It is letters only: a digit in it could happen to be somebody's key.
    """
    sections = [f"{each.question_id} {each.metadata.version} {len(each)}" for each in pack.sections]
    facts = "\n".join((pack.title, pack.purpose, repr(pack.sitting), pack.gravity, str(pack.seed), *sections))
    return "p" + _lettered(facts.encode(), MARK_LETTERS)


def _lettered(facts: bytes, letters: int) -> str:
    """A digest in so many letters."""
    return hashlib.sha256(facts).hexdigest()[:letters].translate(LETTERS)


def item_href(identifier: str) -> str:
    """Where an item lies in the package; inside it, the mark says nothing."""
    return f"{ITEMS}{_unmarked(identifier)}.xml"


def figure_href(identifier: str, suffix: str = ".svg") -> str:
    """Where a figure or an option's drawing lies in the package."""
    return f"media/{_unmarked(identifier)}{suffix}"


def _unmarked(identifier: str) -> str:
    return identifier.partition("_")[2]
