"""The marking guide as plain data: for each question the steps with their part marks, what versions share told once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from turnwright.bank.item import Item, Paragraph, Step, Words
from turnwright.bank.prose import listed
from turnwright.exporters.paper.content import Data, paragraph_data, words
from turnwright.exporters.paper.keys import right_answer, wrong_answers
from turnwright.exporters.paper.marks import entry_marks, item_marks, step_marks
from turnwright.exporters.paper.questions import part_label
from turnwright.exporters.paper.versions import Version


@dataclass(frozen=True)
class Placed:
    """An item with the version it stands in and its number there."""

    version: str
    number: int
    item: Item


def key_data(version: Version) -> list[Data]:
    """A row for each answer of a version."""
    from turnwright.exporters.paper.keys import accepted

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


def guide_data(versions: Sequence[Version]) -> list[Data]:
    """Each question of the paper, in the order of the first version."""
    order = [question.section for question in versions[0].questions]
    return [_question(_placed(versions, section)) for section in order]


def _placed(versions: Sequence[Version], section: int) -> list[Placed]:
    return [
        Placed(version.name, question.number, question.item)
        for version in versions
        for question in version.questions
        if question.section == section
    ]


def _question(placed: Sequence[Placed]) -> Data:
    item = placed[0].item
    numbers = {each.number for each in placed}
    shuffled = ", ".join(f"{each.version} {each.number}" for each in placed)
    groups = _alike(placed)
    return {
        "places": f"Question {placed[0].number}" if len(numbers) == 1 else f"Question {shuffled}",
        "title": words(item.metadata.title),
        "marks": item_marks(item),
        "groups": [_group(each, alone=len(groups) == 1) for each in groups],
        "wrong": _wrong(placed),
    }


# --- steps ----------------------------------------------------------------------------------------------


def _alike(placed: Sequence[Placed]) -> list[list[Placed]]:
    """Versions that tell one story: their solutions differ in numbers at most in one step."""
    groups: list[list[Placed]] = []
    for each in placed:
        near = (group for group in groups if len(_different(group[0].item, each.item)) <= 1)
        group = next(near, None)
        if group is None:
            groups.append([each])
        else:
            group.append(each)
    return groups


def _different(one: Item, other: Item) -> set[int]:
    """The places of the steps that differ."""
    if len(one.solution) != len(other.solution):
        return set(range(len(one.solution) + len(other.solution)))
    return {place for place, step in enumerate(one.solution) if step != other.solution[place]}


def _group(group: Sequence[Placed], *, alone: bool) -> Data:
    names = [each.version for each in group]
    said = f"Version{'s' if len(names) > 1 else ''} {listed(names)}"
    marks = step_marks(group[0].item)
    steps = zip(*(each.item.solution for each in group), strict=True)
    return {
        "versions": "" if alone else said,
        "steps": [_step(each, names, marks.get(each[0].number, 0)) for each in steps],
    }


def _step(steps: tuple[Step, ...], names: Sequence[str], marks: int) -> Data:
    """One step of a group of versions: told once, or for each version where they differ."""
    told: Data = {"number": steps[0].number, "heading": words(steps[0].heading), "marks": marks}
    if len(set(steps)) == 1:
        return told | {"paragraphs": _paragraphs(steps[0])}
    apart = [{"name": name, "paragraphs": _paragraphs(step)} for name, step in zip(names, steps, strict=True)]
    return told | {"versions": apart}


def _paragraphs(step: Step) -> list[list[Data]]:
    return [paragraph_data(each) for each in step.paragraphs]


# --- wrong answers --------------------------------------------------------------------------------------


def _wrong(placed: Sequence[Placed]) -> list[Data]:
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
        {"told": words(thinking), "answers": paragraph_data(_answers(answers, len(placed)))}
        for thinking, answers in found.items()
    ]


def _part_labels(item: Item) -> list[Paragraph]:
    if len(item.entries) == 1:
        return [()]
    return [(Words(f"({part_label(place)}) "),) for place in range(len(item.entries))]


def _answers(answers: dict[Paragraph, list[str]], versions: int) -> Paragraph:
    """Each answer behind the versions where it comes up; none are named where it comes up in all."""
    line: list[Paragraph] = []
    for answer, names in answers.items():
        named = f"{', '.join(names)}: " if len(names) < versions or len(answers) > 1 else ""
        line += [(Words(("; " if line else "") + named),), answer]
    return tuple(part for each in line for part in each)
