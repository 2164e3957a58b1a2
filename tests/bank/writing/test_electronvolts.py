"""Whoever prints a number in electronvolts says what one is in joules, in the stem and in the solution."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache

from turnwright.bank.command.printing import paragraph_text
from turnwright.bank.item import formula
from turnwright.bank.item.item import Item, Math, NumberEntry, Paragraph
from turnwright.bank.model.problem import Problem, QuantitySpec
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.selection import item_models, question_id
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank import models

# 1 eV = 1.602 176 634e-19 J exactly: the SI Brochure, 9th edition (2019), from memory
JOULES = {"eV": "1.6022 × 10⁻¹⁹ J", "keV": "1.6022 × 10⁻¹⁶ J", "MeV": "1.6022 × 10⁻¹³ J"}
KINDS: tuple[Kind, ...] = ("number", "choice", "stepwise", "data")
ELECTRONVOLTS = re.compile("[kMG]?eV")


@cache
def made() -> tuple[tuple[str, Item], ...]:
    """Items of the drafts with such a unit, one a scene, in the kinds that are worked out, and the unit of each."""
    of_drafts = [each for each in models.drafts() if any(is_such(spec) for spec in specs(each))]
    solved = [models.shipped(question_id(each, question)) for each in of_drafts for question in each.questions]
    items = {
        (model.id, item.metadata.scene): item
        for model in item_models(solved, shipped_mistakes(), KINDS)
        for item in model.draw(9, models.GRAVITY, 1)
    }
    return tuple((printed(item), item) for item in items.values())


def specs(problem: Problem) -> Iterator[QuantitySpec]:
    return (problem.spec(name, scene) for scene in problem.scenes for name in problem.quantities)


def is_such(spec: QuantitySpec) -> bool:
    return ELECTRONVOLTS.fullmatch(spec.unit.symbol) is not None


def printed(item: Item) -> str:
    """The unit made of electronvolts that an item prints in its stem, its table or its answer line; "" for none."""
    stem = [
        paragraph_text(each) for each in item.stem if not any(line.startswith("1\u00a0") for line in formulas([each]))
    ]
    answers = [entry.unit for entry in item.entries if isinstance(entry, NumberEntry)]
    return "".join({*ELECTRONVOLTS.findall(" ".join((*stem, *answers)))})


def formulas(paragraphs: Iterable[Paragraph]) -> list[str]:
    return [formula.text(part.node) for each in paragraphs for part in each if isinstance(part, Math)]


def untold(items: Iterable[tuple[str, Item]]) -> Iterator[str]:
    """Each stem or solution with electronvolts and without joules, or the other way round."""
    for unit, item in items:
        due = [f"1 {unit} = {JOULES[unit]}"] if unit else []
        parts = (item.stem, [each for step in item.solution for each in step.paragraphs])
        for part in parts:
            if [each.replace("\u00a0", " ") for each in formulas(part) if each.startswith("1") and "eV" in each] != due:
                yield item.question_id


def test_electronvolts_are_told_in_joules() -> None:
    items = made()
    assert {unit for unit, _ in items} == {"", "eV", "keV", "MeV"}
    assert {item.metadata.kind for unit, item in items if unit} == {*KINDS}
    assert list(untold(items)) == []


def test_a_stem_without_the_joules_is_told() -> None:
    """Planted: what a second reader found."""
    unit, item = next(each for each in made() if each[0])
    assert list(untold([(unit, replace(item, stem=item.stem[:1]))])) == [item.question_id]
