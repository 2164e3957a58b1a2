"""The marking guide as plain data: for each question the steps with their part marks, what versions share told once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...bank.item.item import Item, Paragraph, Step, Words
from .content import Data, paragraph_data, words
from .figures import PaperFigures
from .keys import accepted, right_answer, wrong_answers
from .marks import entry_marks, item_marks, step_marks
from .questions import part_label
from .versions import PaperVersion


@dataclass(frozen=True)
class GuideItem:
    """An item with the version it stands in and its number there."""

    version: str
    number: int
    item: Item


def key_data(version: PaperVersion) -> list[Data]:
    """A row for each answer of a version."""
    return [
        {
            "question": label,
            "answer": paragraph_data(right_answer(entry)),
            "within": accepted(entry),
            "marks": str(entry_marks(question.item, entry)),
        }
        for question in version.questions
        for label, entry in zip(_labels(question.number, question.item), question.item.entries, strict=True)
    ]


def _labels(number: int, item: Item) -> list[str]:
    if len(item.entries) == 1:
        return [str(number)]
    return [f"{number} ({part_label(place)})" for place in range(len(item.entries))]


def guide_data(versions: Sequence[PaperVersion], figures: PaperFigures) -> list[Data]:
    """Each question of the paper, in the order of the first version, its drawings among the ``figures``."""
    order = [question.section for question in versions[0].questions]
    return [_question(_placed(versions, section), figures) for section in order]


def _placed(versions: Sequence[PaperVersion], section: int) -> list[GuideItem]:
    return [
        GuideItem(version.name, question.number, question.item)
        for version in versions
        for question in version.questions
        if question.section == section
    ]


def _question(placed: Sequence[GuideItem], figures: PaperFigures) -> Data:
    item = placed[0].item
    numbers = {each.number for each in placed}
    shuffled = ", ".join(f"{each.version} {each.number}" for each in placed)
    return {
        "places": f"Question {placed[0].number}" if len(numbers) == 1 else f"Question {shuffled}",
        "title": words(item.metadata.title),
        "marks": item_marks(item),
        "steps": _steps(placed, figures),
        "wrong": _wrong(placed),
    }


def _steps(placed: Sequence[GuideItem], figures: PaperFigures) -> list[Data]:
    """Each step of the solution: told once where all versions share it, else for those that do."""
    numbers = sorted({step.number for each in placed for step in each.item.solution})
    return [_step(placed, number, figures) for number in numbers]


def _step(placed: Sequence[GuideItem], number: int, figures: PaperFigures) -> Data:
    told: dict[Step, list[str]] = {}
    for each in placed:
        for step in each.item.solution:
            if step.number == number:
                told.setdefault(step, []).append(each.version)
    marks = {step_marks(each.item).get(number, 0) for each in placed}
    first, owner = next(iter(told)), placed[0].item.question_id
    return {
        "number": number,
        "heading": words(first.heading),
        "marks": max(marks),
        "told": [
            {
                "versions": "" if len(told) == 1 else ", ".join(names),
                "paragraphs": _paragraphs(step, figures, owner),
            }
            for step, names in told.items()
        ],
    }


def _paragraphs(step: Step, figures: PaperFigures, owner: str) -> list[list[Data]]:
    return [paragraph_data(each, lambda drawing: figures.place(drawing, owner)) for each in step.paragraphs]


def _wrong(placed: Sequence[GuideItem]) -> list[Data]:
    """The thinking behind wrong answers, each told once with the answers of all versions that it leads to."""
    found: dict[str, dict[Paragraph, list[str]]] = {}
    for each in placed:
        for entry, label in zip(each.item.entries, _part_labels(each.item), strict=True):
            for told in wrong_answers(entry):
                answers = found.setdefault(told.thinking, {})
                names = answers.setdefault((*label, *told.answer), [])
                if each.version not in names:
                    names.append(each.version)
    return [
        {"told": words(thinking), "answers": [_answer(*each, of=len(placed)) for each in answers.items()]}
        for thinking, answers in found.items()
    ]


def _part_labels(item: Item) -> list[Paragraph]:
    if len(item.entries) == 1:
        return [()]
    return [(Words(f"({part_label(place)}) "),) for place in range(len(item.entries))]


def _answer(answer: Paragraph, names: Sequence[str], *, of: int) -> Data:
    """An answer with the versions where it comes up; none are named where it comes up in all."""
    return {"versions": ", ".join(names) if len(names) < of else "", "answer": paragraph_data(answer)}
