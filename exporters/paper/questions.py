"""The questions of a paper as plain data for the typesetter: what a candidate sees, and no key."""

from __future__ import annotations

from ...bank.item.drawing import Drawing
from ...bank.item.item import (
    ChoiceEntry,
    Entry,
    Given,
    Item,
    MatchEntry,
    Math,
    NumberEntry,
    OrderEntry,
    Paragraph,
    Words,
)
from ...bank.writing import instructions
from ...bank.writing.stem import answer_instruction
from ..qti.options import letter
from .content import Data, paragraph_data, words
from .figures import PaperFigures
from .marks import entry_marks
from .versions import PaperQuestion

LEAST_LINES, MOST_LINES = 4, 10  # of ruled space for working


def question_data(question: PaperQuestion, figures: PaperFigures, lines: int | None = None) -> Data:
    """One question with its parts; a single part has no label. ``lines`` is how many a number has, None by its marks.

    What g is stands once, on top of the paper.
    """
    item = question.item
    labels = [None] if len(item.entries) == 1 else [part_label(place) for place in range(len(item.entries))]
    return {
        "number": question.number,
        "stem": [paragraph_data(each) for each in item.stem if not _tells_g_alone(each)],
        "figure": figures.place(item.figure, item.question_id) if item.figure else None,
        "parts": [
            {"label": label, **entry_data(item, entry, figures, lines)}
            for label, entry in zip(labels, item.entries, strict=True)
        ],
    }


def part_label(place: int) -> str:
    """The name of a part: a, b, c."""
    return letter(place).lower()


def _tells_g_alone(paragraph: Paragraph) -> bool:
    """Whether a paragraph is there to say what g is."""
    return [part.symbol for part in paragraph if isinstance(part, Given)] == ["g"]


def entry_data(item: Item, entry: Entry, figures: PaperFigures, lines: int | None = None) -> Data:
    """What the candidate reads and where the answer goes."""
    marks = entry_marks(item, entry)
    shared: Data = {"marks": marks, "prompt": paragraph_data(_prompt(entry))}
    match entry:
        case NumberEntry():
            return shared | _number(entry, marks, lines)
        case ChoiceEntry():
            options = [_option(place, each.content, figures, item) for place, each in enumerate(entry.options)]
            told = instructions.CHOOSE_SEVERAL if entry.several else instructions.CHOOSE_ONE
            return shared | {"kind": "choice", "told": told, "options": options}
        case OrderEntry():
            return shared | {"kind": "order", "told": instructions.IN_ORDER, "options": _lettered(entry.options)}
        case MatchEntry():
            rows = [paragraph_data(row) for row in entry.rows]
            return shared | {
                "kind": "match",
                "told": instructions.PARTNERS,
                "rows": rows,
                "columns": _lettered(entry.columns),
            }


def _prompt(entry: Entry) -> Paragraph:
    """What to do; where a number is asked for, the stem may have said it."""
    if isinstance(entry, NumberEntry):
        return (Words(instructions.CALCULATE.format(name=entry.name)),) if entry.is_asked_here else ()
    return entry.prompt


def _number(entry: NumberEntry, marks: int, lines: int | None) -> Data:
    return {
        "kind": "number",
        "told": answer_instruction(entry.unit, entry.figures),
        "symbol": paragraph_data((Math(entry.symbol),)),
        "unit": words(entry.unit),
        "lines": min(max(marks + 1, LEAST_LINES), MOST_LINES) if lines is None else lines,
    }


def _option(place: int, content: Paragraph | Drawing, figures: PaperFigures, item: Item) -> Data:
    if isinstance(content, Drawing):
        return {"letter": letter(place), "figure": figures.place(content, item.question_id)}
    return {"letter": letter(place), "content": paragraph_data(content)}


def _lettered(contents: tuple[Paragraph, ...]) -> list[Data]:
    return [{"letter": letter(place), "content": paragraph_data(each)} for place, each in enumerate(contents)]
