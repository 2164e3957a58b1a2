"""The steps before a number tell nothing of each other: the equations rule out no wrong diagram of the step before."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from typing import Any

import pytest
from turnwright.bank.command.printing import paragraph_text
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import ChoiceEntry, Item, Math, NumberEntry, Paragraph
from turnwright.bank.questions.diagrams import keys as diagram_keys
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.exporters.packages.instructions import how_exact

from tests.bank import models

LABEL = re.compile(r"\((F \w+|[a-zN])\)")


def drawn_and_written(parts: tuple[ChoiceEntry, ...]) -> tuple[list[set[str]], list[set[str]]]:
    """The symbols of forces in each diagram that is offered, and in each equation."""
    diagrams: list[set[str]] = []
    equations: list[set[str]] = []
    for part in parts:
        for option in part.options:
            if isinstance(option.content, Drawing):
                diagrams.append({each.replace(" ", "_") for each in LABEL.findall(option.content.alternative)})
            elif paragraph_text(part.prompt).startswith("Which equation"):
                left = paragraph_text(option.content).split(" = ")[0]
                equations.append(set(re.findall(r"F_\w+|\b[a-zN]\b", left)))
    return diagrams, equations


def honest(name: str) -> Mapping[str, tuple[ChoiceEntry, ...]]:
    """The steps of a question in each scene."""
    return models.steps(name).of_scene


def made(name: str) -> Mapping[str, tuple[ChoiceEntry, ...]]:
    """The same made anew, with what is planted."""
    return QuestionModels(models.shipped(name), shipped_mistakes()).steps.of_scene


def ruled_out(names: Iterable[str], steps: Callable[[str], Mapping[str, tuple[ChoiceEntry, ...]]]) -> Iterator[str]:
    """Diagrams without a force that every equation has, and with one that no equation and no other diagram has."""
    for name in names:
        for scene, parts in steps(name).items():
            diagrams, equations = drawn_and_written(parts)
            if not diagrams or not equations:
                continue
            forces = set.union(*diagrams)
            for each in diagrams:
                lacking = set.intersection(*equations) & forces - each
                made_up = {"F_c", "F_out"} & each
                if lacking or made_up:
                    yield f"{name} {scene}: {sorted(lacking)} {sorted(made_up)}"


def one_of_each_problem() -> Iterator[str]:
    """The first question of each problem."""
    seen = set()
    for name in models.shipped_ids():
        problem = name.partition(".")[0]
        if problem not in seen and models.shipped(name).problem.diagrams:
            seen.add(problem)
            yield name


def test_no_wrong_diagram_is_ruled_out_by_the_equations() -> None:
    assert list(ruled_out(one_of_each_problem(), honest)) == []


def test_a_diagram_that_is_ruled_out_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(diagram_keys.DiagramStep, "entry", lambda step, _: diagram_keys.diagram(step.about))
    assert len(set(islice(ruled_out(one_of_each_problem(), made), 10))) == 10


def test_most_stepwise_questions_ask_for_the_diagram() -> None:
    having = []
    for name in one_of_each_problem():
        parts = next(iter(honest(name).values()))
        having.append(any(isinstance(each.options[0].content, Drawing) for each in parts))
    assert sum(having) > 2 / 3 * len(having)  # where the equations leave too few wrong diagrams, it is left out
    steps = [asked.steps.of_scene.values() for asked in models.questions() if asked.problem.diagrams]
    drawn = [
        any(isinstance(each.options[0].content, Drawing) for each in next(iter(parts))) for parts in steps if parts
    ]
    assert sum(drawn) > 0.72 * len(drawn)


# --- letters ------------------------------------------------------------------------------------

FORCE = re.compile(r"F_\w+|F|N|f")


def forces_named(paragraphs: Iterator[Paragraph]) -> set[str]:
    """The letters of forces in formulas that are one symbol."""
    told = {formula.text(part.node) for each in paragraphs for part in each if isinstance(part, Math)}
    return {each for each in told if FORCE.fullmatch(each)}


def named_too_early(item: Item) -> set[str]:
    """The forces whose letters stand above the part that asks for the diagram, but for the one that is asked for."""
    parts = [each for each in item.entries if isinstance(each, ChoiceEntry)]
    drawn = next((place for place, each in enumerate(parts) if isinstance(each.options[0].content, Drawing)), None)
    if drawn is None:
        return set()
    last = item.entries[-1]
    asked = formula.text(last.symbol) if isinstance(last, NumberEntry) else ""
    return forces_named(iter((*item.stem, *(each.prompt for each in parts[: drawn + 1])))) - {asked}


def test_no_letter_names_a_force_before_the_diagram_is_asked_for() -> None:
    items = [item for _, item in models.drawn("stepwise", 1, 5)]
    early = {item.question_id: found for item in items if (found := named_too_early(item))}
    assert len(items) >= 40
    assert early == {}


def test_a_letter_in_the_stem_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: what it was, all letters of the steps above the first of them."""

    def all_at_once(asked: Any, scene: Any, _: Any = ()) -> tuple[Paragraph, ...]:
        return tuple(asked.introductions(scene, asked.steps.of_scene[scene.name], ()))

    monkeypatch.setattr(QuestionModels, "_asked_letter", all_at_once)
    found = 0
    for name in list(one_of_each_problem())[::4]:
        asked = QuestionModels(models.shipped(name), shipped_mistakes())
        (model,) = asked.asked(("stepwise",))
        found += any(named_too_early(item) for item in model.draw(1, models.GRAVITY, 1))
    assert found >= 3


ASKS = re.compile(r"\b(?:Calculate|Determine|Find|Estimate|Work out|What is)\b")


def test_the_stem_asks_for_nothing_and_the_last_part_for_its_number() -> None:
    items = [item for _, item in models.drawn("stepwise")]
    assert len(items) >= 100
    for item in items:
        number = item.entries[-1]
        assert isinstance(number, NumberEntry) and number.is_asked_here
        assert how_exact(number).startswith(f"Calculate the {number.name}. Give the answer")
        asked = [paragraph_text(each) for each in item.stem if ASKS.search(paragraph_text(each))]
        assert not asked, (item.question_id, asked)
