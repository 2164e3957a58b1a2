"""Choice questions: expressions of which one is right, draws that repeat, mistakes that a problem leaves out."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.item import ChoiceEntry, Math, Option, Words
from turnwright.bank.model.edit import edit_of
from turnwright.bank.model.evaluation import evaluate
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.problem import Scene
from turnwright.bank.questions.choice import ChoicePool, ExpressionChoice
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import samples_of
from turnwright.bank.thinking.advice import cause, feedback
from turnwright.bank.thinking.distractors import Diagnosis, apart, diagnosis
from turnwright.bank.thinking.expression_sets import ExpressionSets
from turnwright.bank.thinking.mistaken_forms import forms_here
from turnwright.bank.variants.variant import VariantPool
from turnwright.bank.writing.notation import Notation
from turnwright.bank.writing.view import notation_of

from tests.bank import models
from tests.bank.models import GRAVITY

PROMPT = (Words("Choose."),)


# --- expressions ----------------------------------------------------------------------------------


def scene(name: str) -> Scene:
    """The question's first scene."""
    known = models.shipped(name)
    return known.problem.scenes_of(known.question)[0]


def notation(name: str) -> Notation:
    """The symbols of the question's first scene."""
    return notation_of(models.shipped(name).problem, scene(name))


def expression(name: str) -> ChoiceEntry | None:
    """The letters-only choice of a question in its first scene."""
    return ExpressionChoice(models.shipped(name), shipped_mistakes(), notation(name), scene(name)).entry(PROMPT)


@cache
def expressions() -> list[tuple[str, ChoiceEntry]]:
    """The letters-only choice of every question that has one."""
    found = ((name, expression(name)) for name in models.shipped_ids())
    return [(name, entry) for name, entry in found if entry]


def value(option: Option, symbols: dict[formula.Symbol, float], asked: formula.Symbol) -> float:
    """What the option makes of the numbers; nan where it is not real."""
    assert isinstance(option.content, tuple)
    (math_,) = option.content
    assert isinstance(math_, Math)
    assert isinstance(math_.node, formula.Row)
    left, _, right = math_.node.parts
    assert left == asked
    try:
        return models.shown_value(right, symbols)
    except (ValueError, ZeroDivisionError):
        return math.nan


def blamed_on_two(names: tuple[str, ...]) -> list[str]:
    """The questions in which what one mistake alone leads to is told of two at once."""
    found = []
    for name in names:
        solved, catalogue = models.shipped(name), shipped_mistakes()
        samples = samples_of(solved.problem, solved.question)
        alone = [evaluate(each.closed_form, samples) for each in forms_here(solved, catalogue)[0]]
        for wrong in ExpressionChoice(solved, catalogue, notation(name), scene(name)).wrong:
            values = evaluate(wrong.form, samples)
            same = (np.allclose(each, values, rtol=1e-9, atol=0, equal_nan=True) for each in alone)
            if len(wrong.mistakes) > 1 and any(same):
                found.append(name)
    return found


def test_what_one_mistake_leads_to_is_not_told_of_two(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Planted besides: the set is told as it was made, of two mistakes."""
    assert blamed_on_two(models.shipped_ids()) == []
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(tmp_path_factory.mktemp("cache")))
    monkeypatch.setattr(ExpressionSets, "simplest", lambda self, three: three)
    solved = replace(models.shipped("conical-pendulum.period"))  # what was found of the other stays with it
    monkeypatch.setattr(models, "shipped", lambda name: solved)
    assert blamed_on_two(("conical-pendulum.period",)) == ["conical-pendulum.period"]


def test_exactly_one_expression_agrees_with_the_key() -> None:
    for name, entry in expressions():
        samples = samples_of(models.shipped(name).problem, models.shipped(name).question)
        asked = notation(name).symbol(models.shipped(name).question.ask)
        table = []
        for row in range(0, len(samples["g"]), 9):
            numbers = {letter: float(column[row]) for letter, column in samples.items()}
            symbols = {notation(name).symbol(letter): number for letter, number in numbers.items()}
            try:
                key = models.formula_of(name)(numbers)
            except ValueError:
                continue  # draws that are no variant
            if key == 0:
                continue  # just at the edge, which is no variant either
            table.append([value(option, symbols, asked) / key for option in entry.options])
        ratios = np.array(table)
        assert len(ratios) >= 2, name
        agrees = [bool(np.allclose(ratios[:, place], 1, rtol=1e-9)) for place in range(len(entry.options))]
        assert agrees == [option.right for option in entry.options], name
        assert sum(agrees) == 1, name


def test_no_two_expressions_look_alike() -> None:
    for name, entry in expressions():
        assert len({option.content for option in entry.options}) == len(entry.options), name


def test_every_wrong_expression_names_its_mistakes_and_brings_feedback() -> None:
    """Two mistakes, each alone and both at once; one alone in place of both where it leads to the same."""
    assert len(expressions()) > 0.98 * len(models.shipped_ids())
    for name, entry in expressions():
        named = sorted((option.mistakes for option in entry.options), key=len)
        assert [len(each) for each in named] in ([0, 1, 1, 2], [0, 1, 1, 1]), name
        assert len(named[3]) == 1 or {*named[1], *named[2]} == set(named[3]), name
        for option in entry.options:
            both = len(option.mistakes) == 2
            said = (
                "This option contains more than one mistake. "
                if both
                else "Your answer corresponds to this statement: "
            )
            assert option.right or option.feedback.startswith(said), name


# --- feedback -------------------------------------------------------------------------------------


def test_two_mistakes_with_one_number_share_their_feedback() -> None:
    live = models.diagnosed("wall-ride.coefficient-from-speed").live
    both = [each for each in live if each.mistake.id in ("fraction-upside-down", "friction-carries-inward")]
    first, second = (each.mistake for each in both)
    assert feedback(cause([first, second])) == (
        "Several different mistakes can lead to this answer. Check your working line by line, starting with the forces "
        "in your diagram."
    )


# --- drawing --------------------------------------------------------------------------------------


def test_the_same_seed_draws_the_same_options_and_a_longer_draw_begins_alike() -> None:
    for name in models.shipped_ids()[::20]:
        few, many = models.choices(name, 4), models.choices(name, 12)
        assert few == models.choices(name, 4) == many[: len(few)]
        assert few != models.choices(name, 4, seed=2) or len(few) < 2


def test_a_question_with_too_few_honest_wrong_answers_is_no_choice() -> None:
    """b = h/s: no mistake with numbers finds anything to change but a unit. θ = cos⁻¹(1/k): cos⁻¹ k is no angle."""
    assert models.choices("rotating-habitat.radius-for-the-head", 5) == []
    assert expression("banking-aircraft.angle-from-lift") is None


def test_a_variant_with_too_few_wrong_answers_is_passed_over_for_another() -> None:
    found = models.diagnosed("on-the-equator.normal-force")
    pool = ChoicePool(found, VariantPool(found.solved, GRAVITY))
    first = pool.variants.draw_up_to(60, 1)
    honest = [len(apart(first[place], values, found.live)) for place, values in enumerate(found.columns(first))]
    assert any(each < 2 for each in honest)
    drawn = [variant for variant, _ in pool.draw(60, 1)]
    assert len(drawn) == 60
    assert [each for each in first if each in drawn] == [
        each for each, number in zip(first, honest, strict=True) if number >= 2
    ]


# --- what a problem leaves out or adds ------------------------------------------------------------

OWN = Mistake(
    "one-third-more",
    "I added a third.",
    edit_of("answer", "4*x/3"),
    "Look at the last line again.",
    "common practice, no source",
)


def told(found: Diagnosis) -> set[str]:
    """The mistakes that some option names."""
    pool = ChoicePool(found, VariantPool(found.solved, GRAVITY))
    return {form.mistake.id for _, wrong in pool.draw(30, 1) for each in wrong for form in each.forms}


@pytest.mark.parametrize("name", ["flat-bend.friction-below-the-limit", "conical-pendulum.speed"])
def test_a_problem_may_leave_a_mistake_out_or_add_its_own(name: str) -> None:
    known = models.shipped(name)
    plain = diagnosis(known, shipped_mistakes())
    without = replace(known, problem=replace(known.problem, without={"half-of-m-v-squared": "told in class"}))
    more = replace(known, problem=replace(known.problem, mistakes=(OWN,)))
    assert "half-of-m-v-squared" in told(plain)
    assert "half-of-m-v-squared" not in told(diagnosis(without, shipped_mistakes()))
    assert OWN.id in told(diagnosis(more, shipped_mistakes()))
    assert diagnosis(more, shipped_mistakes()).live[0].mistake == OWN  # its own comes first
