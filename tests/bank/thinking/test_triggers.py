"""No question recognises a thought that it gives no cause for: a diameter where none is given, ½ m v² without v²."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest
from turnwright import schemas
from turnwright.bank.errors import BankFaultsError
from turnwright.bank.model.mistake import TRIGGERS, Mistake
from turnwright.bank.questions.about import About
from turnwright.bank.questions.direction_keys import acceleration
from turnwright.bank.reading.mistakes import read_mistakes, shipped_mistakes
from turnwright.bank.reading.needs import SPOKEN
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.thinking.mistaken_forms import mistaken_forms
from turnwright.bank.thinking.triggers import IN_NUMBERS, IN_THOUGHT, is_steady

from tests.bank import models

# what a stem or a question has to say before a thought is had of it, read from its words, not from the model
TOLD = {
    "diameter-as-radius": "diameter",
    "circumference-as-radius": "circumference",
    "circumference-over-pi-as-radius": "circumference",
    "revolutions-in-a-second-as-omega": "revolutions in",
    "whole-time-as-period": "revolutions in",
    "radius-for-diameter": "diameter",
}
BY_ID = {each.id: each for each in shipped_mistakes()}


def without_cause(solved: SolvedQuestion, live: Sequence[Mistake]) -> Iterator[str]:
    """The live mistakes of which the words of the question, or the squares in its equations, give no cause."""
    question, motion = solved.question, solved.problem.motion
    speeds = {motion.speed, *(each.speed for each in solved.problem.diagrams)} - {None}
    used = [solved.system.equations[each.origin] for each in solved.solution.path if each.origin >= 0]
    squared = any(f"{name}**2" in str(each.right) for each in used for name in speeds if each.kind != "energy")
    for each in live:
        if TOLD.get(each.id, "") not in question.stem or (each.id == "half-of-m-v-squared" and not squared):
            yield f"{solved.id}: {each.id}"


def test_no_shipped_question_recognises_a_thought_that_it_gives_no_cause_for() -> None:
    found = [models.diagnosed(name) for name in models.shipped_ids()]
    live = [[form.mistake for form in each.live] for each in found]
    told = [line for each, mine in zip(found, live, strict=True) for line in without_cause(each.solved, mine)]
    assert told == []
    seen = {mistake.id for mine in live for mistake in mine}
    assert seen >= {*TOLD, "half-of-m-v-squared"}


@pytest.mark.parametrize(
    ("planted", "question"),
    [
        (replace(BY_ID["half-of-m-v-squared"], needs=None), "going-round.acceleration"),
        (replace(BY_ID["radius-for-diameter"], needs=None), "satellite.speed"),
        (
            replace(BY_ID["diameter-as-radius"], needs=None, edit=BY_ID["radius-for-diameter"].edit),
            "wall-ride.friction",
        ),
    ],
    ids=lambda each: each if isinstance(each, str) else each.id,
)
def test_a_mistake_that_lost_what_it_needs_is_caught(planted: Mistake, question: str) -> None:
    solved = models.shipped(question)
    live, _ = mistaken_forms(solved, [planted])
    assert list(without_cause(solved, [form.mistake for form in live])) == [f"{question}: {planted.id}"]
    assert mistaken_forms(solved, [BY_ID[planted.id]])[0] == ()


def test_diameter_and_circumference_are_given_in_many_families() -> None:
    given = {
        name: {role for role in ("diameter", "circumference", "turns") if getattr(motion, role) in asked}
        for name in models.shipped_ids()
        for motion in [models.shipped(name).problem.motion]
        for asked in [(models.shipped(name).question.ask, *models.shipped(name).question.given)]
    }
    families = {models.shipped(name).problem.family for name, roles in given.items() if roles}
    assert len(families) >= 9
    assert set().union(*given.values()) == {"diameter", "circumference", "turns"}


# --- constant speed -------------------------------------------------------------------------------


def test_constant_speed_is_thought_of_only_where_the_story_tells_of_it() -> None:
    problems = {models.shipped(name).problem.id: models.shipped(name).problem for name in models.shipped_ids()}
    vertical = [each for each in problems.values() if each.motion.plane == "vertical"]
    for problem in vertical:
        # that the Earth turns steadily need not be told
        told = problem.family == "orbit" or all(
            re.search("at constant (angular )?speed", scene.story) for scene in problem.scenes
        )
        assert is_steady(problem) == told, problem.id
    assert {is_steady(each) for each in vertical} == {True, False}


@pytest.mark.parametrize(
    ("question", "thought"), [("over-the-top.least-speed", False), ("flat-bend.greatest-speed", True)]
)
def test_no_acceleration_is_offered_where_the_speed_is_constant_only(question: str, thought: bool) -> None:
    problem = models.shipped(question).problem
    for scene in problem.scenes:
        about = About(problem, problem.diagrams[0], scene, shipped_mistakes())
        planted = replace(about, catalogue=tuple(replace(each, needs=None) for each in shipped_mistakes()))
        assert ("steady-so-no-acceleration" in {each.id for each, _ in about.of(type(BY_ID[STEADY].edit))}) is thought
        assert STEADY in {each.id for each, _ in planted.of(type(BY_ID[STEADY].edit))}
        assert acceleration(about)


STEADY = "steady-so-no-acceleration"


# --- the catalogue --------------------------------------------------------------------------------


def test_each_trigger_is_looked_for_stands_in_the_schema_and_is_needed_by_a_mistake() -> None:
    assert {*IN_NUMBERS, *IN_THOUGHT} == set(TRIGGERS)
    assert schemas.load("mistakes")["$defs"]["mistake"]["properties"]["needs"]["enum"] == list(TRIGGERS)
    assert {each.needs for each in shipped_mistakes()} - {None} == set(TRIGGERS)
    assert {trigger for triggers in SPOKEN.values() for trigger in triggers} <= set(TRIGGERS)


@pytest.mark.parametrize("name", [each.id for each in shipped_mistakes() if any(w in each.thinking for w in SPOKEN)])
def test_the_catalogue_is_not_read_when_a_needs_is_taken_out(name: str, tmp_path: Path) -> None:
    root = Path(str(resources.files("turnwright.bank") / "mistakes"))
    (source,) = (each for each in root.glob("*.yaml") if f"\n  {name}:\n" in each.read_text("utf-8"))
    head, found, rest = source.read_text("utf-8").partition(f"\n  {name}:\n")
    spoilt = tmp_path / "spoilt.yaml"
    spoilt.write_text(head + found + rest.replace(f"    needs: {BY_ID[name].needs}\n", "", 1), "utf-8")
    with pytest.raises(BankFaultsError, match="which not every question has"):
        read_mistakes([spoilt])
