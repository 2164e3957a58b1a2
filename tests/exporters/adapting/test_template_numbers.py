"""What a platform prints of a template item: texts alone, each of them easy to read, and never a number of its own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from turnwright.bank.item.item import Given, Item, Paragraph
from turnwright.bank.model.problem import Problem, Question
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.quantities.quantity import needs_power
from turnwright.bank.questions.items import items
from turnwright.bank.questions.selection import all_questions, question_id
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.adapting.template import DrawnNumber, TemplateItem
from turnwright.exporters.adapting.templating import file_of
from turnwright.exporters.qti import template_processing
from turnwright.exporters.qti.template_processing import Column, columns_of

from tests.bank import models
from tests.bank.writing.test_printed_numbers import hard_to_read


def has_power(problem: Problem, question: Question) -> bool:
    """Whether a question has a quantity that is printed with a power of ten in some scene."""
    for scene in problem.scenes_of(question):
        specs = [problem.spec(each, scene) for each in (*question.given, *question.extra)]
        values = [value for each in specs if each.draw for value in each.draw.values]
        values += problem.answer_spec(question, scene).plausible or ()
        if any(map(needs_power, values)) or any(each.constant for each in specs):
            return True
    return False


POWERS = tuple(question_id(*each) for each in all_questions(read_bank()) if has_power(*each))
NAMES = tuple(dict.fromkeys((*POWERS, *models.shipped_ids()[::8])))


def templates(name: str) -> Iterator[TemplateItem]:
    """The template items of two variants in each scene of a question."""
    solved = models.shipped(name)
    scenes: dict[str, list[Item]] = {}
    for item in items(solved, GRAVITY, 2 * len(solved.problem.scenes_of(solved.question)), seed=3):
        scenes.setdefault(item.metadata.scene, []).append(item)
    made = (file_of(rows, platform=True) for rows in scenes.values())
    yield from (each for each in made if isinstance(each, TemplateItem))


def paragraphs(item: TemplateItem) -> Iterator[Paragraph]:
    yield from (*item.stem, *item.hints, *(each for step in item.solution for each in step.paragraphs))


def told(item: TemplateItem) -> Iterator[str]:
    """What is wrong with the numbers that a platform prints of an item."""
    columns: dict[str, Column] = {each.variable: each for each in columns_of(item, practice=True)}
    shown = {part.variable for one in paragraphs(item) for part in one if isinstance(part, DrawnNumber)}
    shown |= {template_processing.KEY_SHOWN, template_processing.WIDTH_SHOWN}
    for variable in sorted(shown):
        column = columns[variable]
        if column.base != "string":
            yield f"{variable} is a number that the platform prints in its own way"
        yield from (each for value in column.values for each in hard_to_read(value))
    fixed = [part.text for one in paragraphs(item) for part in one if isinstance(part, Given)]
    yield from (each for text in fixed for each in hard_to_read(text))


def test_no_platform_prints_a_number_that_is_hard_to_read() -> None:
    """Every question of the bank with a power of ten, and an eighth of the others."""
    made = [each for name in NAMES for each in templates(name)]
    assert len(POWERS) >= 15 and len(made) >= 60
    assert any("×" in value for item in made for each in columns_of(item, practice=True) for value in each.values)
    assert not [f"{item.question_id}: {each}" for item in made for each in told(item)]


def test_a_key_without_its_power_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the key is handed to the platform in plain digits."""
    (item, *_) = templates(POWERS[0])
    monkeypatch.setattr(template_processing, "print_exact", lambda value, figures=1: f"{value.normalize():f}")
    small = [each for name in POWERS for each in templates(name) if needs_power(each.entry.key)]
    assert item and small and all(list(told(each)) for each in small)
