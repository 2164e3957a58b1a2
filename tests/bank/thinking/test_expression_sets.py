"""Sets of wrong expressions: two mistakes, each alone and both; dimensions that clash are found by other units."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from sympy import atan, cos, sqrt, symbols
from turnwright.bank.checking.option_quality import shown
from turnwright.bank.item.item import ChoiceEntry
from turnwright.bank.model.evaluation import agree
from turnwright.bank.questions.item_model import ItemModel
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import samples_of
from turnwright.bank.thinking import wrong_expressions
from turnwright.bank.thinking.distractors import diagnosis
from turnwright.bank.thinking.expression_sets import ExpressionSets

from tests.bank import models

m, v, r, g, theta, mu = symbols("m v r g theta mu")


@cache
def sets_of(name: str) -> ExpressionSets:
    known = models.shipped(name)
    tried = known.problem.mistakes_from(shipped_mistakes())
    return ExpressionSets(known, diagnosis(known, shipped_mistakes()).live, tried)


@pytest.mark.parametrize("name", models.shipped_ids()[::12])
def test_the_four_expressions_of_a_set_differ_and_the_last_takes_both_mistakes(name: str) -> None:
    found = list(sets_of(name).sets("draw"))
    assert found
    samples = samples_of(models.shipped(name).problem, models.shipped(name).question)
    for one in found[::8]:
        forms = [models.shipped(name).solution.closed_form, *(each.form for each in one)]
        assert not any(agree(first, second, samples) for first, second in combinations(forms, 2))
        assert one[0].mistakes + one[1].mistakes == one[2].mistakes
        assert one[0].mistakes != one[1].mistakes


def test_the_same_draw_gives_the_same_sets_and_another_gives_others() -> None:
    sets = sets_of("smooth-bank.speed")
    assert list(sets.sets("one")) == list(sets.sets("one")) != list(sets.sets("other"))


@pytest.mark.parametrize(
    ("form", "fits"),
    [
        (sqrt(g * r / cos(theta)), True),
        (v, True),
        (2 * v, True),
        (g * r, False),
        (v / 2, True),
        (v * (2 + v), None),  # the clash that is never offered
        (v**2 / r + g, False),
        (v**2 / r + g / m, None),
        (sqrt(v**2 + g * r), True),
    ],
)
def test_an_expression_has_the_dimension_of_the_key_or_another_or_none(form: object, fits: bool | None) -> None:
    assert sets_of("smooth-bank.speed").fits(form) is fits  # type: ignore[arg-type]


def test_an_angle_has_the_dimension_of_what_its_tangent_is_of() -> None:
    sets = sets_of("smooth-bank.bank-angle")
    assert sets.fits(atan(v**2 / (g * r))) is True
    assert sets.fits(atan(v / (g * r))) is False
    assert sets.fits(atan(v**2 / r - r)) is None


def test_no_set_of_the_bank_adds_what_can_not_be_added() -> None:
    for name in models.shipped_ids()[::12]:
        sets = sets_of(name)
        assert all(sets.fits(each.form) is not None for one in sets.sets("draw") for each in one), name


LETTER = re.compile(r"[A-Za-zθωμφα]+(?:_[A-Za-z0-9]+)?")
FUNCTIONS = {"sin", "cos", "tan", "arcsin", "arccos", "arctan", "π"}


def told_by_letters(kind_of_models: Iterable[ItemModel]) -> list[str]:
    """Questions in which the key alone has all letters that stand in its options."""
    told = []
    for model in kind_of_models:
        (entry,) = model.draw(1, models.GRAVITY, 1)[0].entries
        assert isinstance(entry, ChoiceEntry)
        letters = {option: frozenset(LETTER.findall(shown(option))) - FUNCTIONS for option in entry.options}
        (key,) = (each for each in entry.options if each.right)
        if all(letters[key] - found for option, found in letters.items() if option is not key):
            told.append(model.id)
    return told


def test_no_key_of_the_bank_alone_has_all_letters() -> None:
    assert told_by_letters(models.asked("expression")) == []


def test_a_key_that_alone_has_all_letters_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: nothing counts against such a set, and nothing is kept of those that were chosen before."""
    monkeypatch.setattr(wrong_expressions, "cached", lambda key, make, read: read(make()))
    monkeypatch.setattr(wrong_expressions, "ALONE", 0.0)
    names = ("over-the-top.pull-at-the-top", "through-the-bottom.pull-at-the-bottom")
    asked = [QuestionModels(replace(models.shipped(name)), shipped_mistakes()).asked(("expression",)) for name in names]
    assert told_by_letters(each for found in asked for each in found)
