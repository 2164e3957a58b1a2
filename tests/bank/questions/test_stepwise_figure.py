"""No picture of a stepwise question shows what its first part asks for: the way of the acceleration."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from turnwright.bank.item.drawing import Drawing, Stroke
from turnwright.bank.item.item import ChoiceEntry, Item
from turnwright.bank.questions import of_question
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.thinking.distractors import diagnosis

from tests.bank import models


def stepwise(names: Iterator[str]) -> list[Item]:
    """A stepwise item of each question that has one. Which wrong numbers are known plays no part, so none are made."""
    found = []
    for name in names:
        solved = models.shipped(name)
        asked = QuestionModels(solved, shipped_mistakes())
        vars(asked).update(diagnosis=diagnosis(solved, ()), steps=models.steps(name))
        for model in asked.asked(("stepwise",)):
            found += list(model.draw(1, models.GRAVITY, 1))
    return found


def pictures(item: Item) -> Iterator[Drawing]:
    """All that is seen before the first answer: the figure, and the options of every part."""
    if item.figure:
        yield item.figure
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            yield from (option.content for option in entry.options if isinstance(option.content, Drawing))


def shows_acceleration(drawing: Drawing) -> bool:
    """Whether an open arrow is drawn, or told of."""
    drawn = drawing.subject != "situation" and any(
        isinstance(mark, Stroke) and mark.tone == "accent" for mark in drawing.marks
    )
    return drawn or "cceleration" in drawing.description


def giving_away(items: list[Item]) -> list[str]:
    return [each.question_id for each in items if any(map(shows_acceleration, pictures(each)))]


def one_of_each_diagram() -> Iterator[str]:
    """The first question about each diagram of the bank: figure and first parts are those of the diagram."""
    seen = set()
    for name in models.shipped_ids():
        solved = models.shipped(name)
        about = solved.problem.id, getattr(solved.problem.diagram(solved.question.diagram), "name", None)
        if about not in seen:
            seen.add(about)
            yield name


def test_no_picture_answers_the_first_part() -> None:
    items = stepwise(one_of_each_diagram())
    assert giving_away(items) == []
    first = [entry for each in items if isinstance(entry := each.entries[0], ChoiceEntry)]
    asked = [entry for entry in first if "acceleration" in str(entry.prompt)]
    assert len(asked) >= 30  # else there would be nothing to give away
    assert all(each.figure is None or each.figure.subject == "situation" for each in items)


def test_a_force_diagram_in_the_stem_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    def planted(item: Item, **changes: object) -> Item:
        if isinstance(item, Item):
            changes["figure"] = item.forces
        return replace(item, **changes)  # type: ignore[arg-type]

    monkeypatch.setattr(of_question, "replace", planted)
    name = "over-the-top.least-speed"
    assert giving_away(stepwise(iter([name])))
