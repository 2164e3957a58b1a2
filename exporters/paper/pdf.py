"""A pack as one or two papers: what candidates see, and what only those who mark may see; as PDF, and to be edited."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from ...bank.errors import UnknownNameError, UsageError
from ...bank.item.formula import Symbol
from ...bank.item.item import ChoiceEntry, Item, MatchEntry, Math, NumberEntry, OrderEntry, Paragraph, Words
from ...bank.item.pack import Pack
from ...bank.language import count
from ...bank.writing import instructions
from ...bank.writing.laws import Law
from .content import Data, paragraph_data, words
from .editable import editable_marking, editable_questions
from .figures import PaperFigures
from .guide import guide_data, key_data
from .heading import Heading
from .questions import question_data
from .typesetting import typeset
from .versions import PaperVersion, versions

PaperPart: TypeAlias = Literal["questions", "key", "guide", "formulas"]
Size: TypeAlias = Literal["a4", "letter"]
Sheet: TypeAlias = Callable[[Sequence[Item]], Sequence[Law]]

PARTS: tuple[PaperPart, ...] = ("questions", "key", "guide", "formulas")

NOTES = {
    "number": instructions.MARKS_OF_NUMBER,
    "several": (instructions.MARKS_OF_SEVERAL,),
    "order": (instructions.ORDER_MARKS,),
    "match": (instructions.MATCH_MARKS,),
}


@dataclass(frozen=True)
class PaperLayout:
    """What a user decides about the paper: how many versions, on which sheets, with which parts, in which order.

    ``name`` is what a single version is called, in place of A. With ``editable`` each paper comes as a document, too.
    """

    versions: int = 1
    size: Size = "a4"
    parts: tuple[PaperPart, ...] = ("questions", "key", "guide")
    shuffle: bool = False
    name: str = ""
    editable: bool = False
    heading: Heading = field(default_factory=Heading)

    @property
    def for_candidates(self) -> bool:
        """Whether there is a file for candidates."""
        return bool({"questions", "formulas"} & set(self.parts))

    @property
    def for_markers(self) -> bool:
        """Whether there is a file for those who mark."""
        return bool({"key", "guide"} & set(self.parts))


def parts_of(text: str) -> tuple[PaperPart, ...]:
    """The parts named in a list with commas; ``all`` for all. Raises UnknownNameError or UsageError."""
    wanted = [each.strip() for each in text.split(",") if each.strip()]
    for each in wanted:
        if each not in (*PARTS, "all"):
            raise UnknownNameError("part of a paper", each, difflib.get_close_matches(each, PARTS, n=2))
    if not wanted:
        raise UsageError(f"no part is named; name some of {', '.join(PARTS)}, or all")
    return PARTS if "all" in wanted else tuple(each for each in PARTS if each in wanted)


@dataclass(frozen=True)
class Papers:
    """The files as bytes, None where no part of one was wanted; and the versions that they hold.

    The editable documents are there only where the layout asks for them.
    """

    versions: tuple[PaperVersion, ...]
    questions: bytes | None
    marking: bytes | None
    editable_questions: bytes | None = None
    editable_marking: bytes | None = None


def papers(pack: Pack, layout: PaperLayout, sheet: Sheet, done: Callable[[int], None] = lambda _: None) -> Papers:
    """The papers of a pack. ``sheet`` gives the laws that some items rest on; ``done`` hears of each file made.

    Raises UsageError for a call that can't be met.
    """
    if not pack.sections:
        raise UsageError("no question of these kinds is there; name other questions or kinds")
    made = versions(pack, layout.versions, shuffle=layout.shuffle)
    if layout.name:
        made = tuple(replace(each, name=layout.name) for each in made)
    questions = marking = open_questions = open_marking = None
    if layout.for_candidates:
        figures = PaperFigures()
        data = _shared(pack, layout) | _questions(pack, made, layout, sheet, figures)
        data |= {"figures": figures.data()}
        questions = typeset("questions.typ", data, figures.owners())
        open_questions = editable_questions(data) if layout.editable else None
    done(1)
    if layout.for_markers:
        drawn = PaperFigures()
        data = _shared(pack, layout) | _marking(pack, made, layout, drawn)
        data |= {"figures": drawn.data()}
        marking = typeset("marking.typ", data, drawn.owners())
        open_marking = editable_marking(data) if layout.editable else None
    done(1)
    return Papers(made, questions, marking, open_questions, open_marking)


def _shared(pack: Pack, layout: PaperLayout) -> Data:
    return {"title": words(pack.title), "size": layout.size, "language": "en"}


def _questions(
    pack: Pack, made: Sequence[PaperVersion], layout: PaperLayout, sheet: Sheet, figures: PaperFigures
) -> Data:
    return {
        "document": words(pack.title),
        "heading": _heading(layout.heading),
        "instructions": [paragraph_data(each) for each in _instructions(pack, made, layout.heading)],
        "versions": [_version(version, layout, sheet, figures) for version in made],
    }


def _heading(heading: Heading) -> Data:
    """What stands on top of each version."""
    above = [words(each) for each in (heading.school, heading.course, heading.date) if each]
    fields = [words(each) for each in heading.fields]
    return {"above": above, "fields": fields, "lines-fixed": heading.lines is not None}


def _instructions(pack: Pack, made: Sequence[PaperVersion], heading: Heading) -> Iterator[Paragraph]:
    yield from ((Words(each),) for each in heading.instructions)
    yield (Words("Throughout, "), Math(Symbol("g")), Words(f" = {_kept_together(pack.gravity)}."))
    if "number" in _shapes(made):
        yield (Words(instructions.SHOW_WORKING),)


def _kept_together(amount: str) -> str:
    return amount.replace(" ", "\u00a0")


def _shapes(made: Sequence[PaperVersion]) -> frozenset[str]:
    """The ways of answering that come up."""
    names = {NumberEntry: "number", OrderEntry: "order", MatchEntry: "match"}
    entries = [entry for version in made for question in version.questions for entry in question.item.entries]
    several = {"several" for entry in entries if isinstance(entry, ChoiceEntry) and entry.several}
    return frozenset(several | {names.get(type(entry), "choice") for entry in entries})


def _version(version: PaperVersion, layout: PaperLayout, sheet: Sheet, figures: PaperFigures) -> Data:
    shown = version.questions if "questions" in layout.parts else ()
    laws = sheet([question.item for question in version.questions]) if "formulas" in layout.parts else ()
    return {
        "name": version.name,
        "marks": version.marks,
        "summary": f"{count(len(version.questions), 'question')} · {count(version.marks, 'mark')} · "
        f"about {version.minutes} minutes",
        "questions": [question_data(question, figures, layout.heading.lines) for question in shown],
        "formulas": [{"name": words(law.name), "formula": paragraph_data((Math(law.node),))} for law in laws],
    }


def _marking(pack: Pack, made: Sequence[PaperVersion], layout: PaperLayout, drawn: PaperFigures) -> Data:
    shapes = _shapes(made)
    notes = [note for shape, told in NOTES.items() if shape in shapes for note in told]
    guide = "guide" in layout.parts
    facts = f"g = {_kept_together(pack.gravity)}, seed {pack.seed}. Keep this file apart from the question papers."
    return {
        "document": f"{words(pack.title)}: marking",
        "notes": [facts, *(notes if guide else ()), instructions.PROPOSAL],
        "cautions": [*_cautions(made), instructions.NO_DESIGN],
        "key": "key" in layout.parts,
        "versions": [{"name": each.name, "marks": each.marks, "key": key_data(each)} for each in made],
        "guide": guide_data(made, drawn) if guide else [],
    }


def _cautions(made: Iterable[PaperVersion]) -> list[str]:
    """The cautions of all problems, each once."""
    found = (question.item.metadata.caution for version in made for question in version.questions)
    return [words(caution) for caution in dict.fromkeys(found) if caution]
