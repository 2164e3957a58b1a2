"""Demonstrations: each situation has one or says why not, and what is seen is set with its formulas."""

from __future__ import annotations

import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.item import Math, Words
from turnwright.bank.model.problem import Problem
from turnwright.bank.reading.files import problem_of, read_bank
from turnwright.bank.writing.demonstration import card

from tests.bank.problems import read, varied

SHOWN = "demonstration:\n  do: Swing it.\n  predict: Does it stay?\n  caution: Mind your head.\n"
ANSWERED = SHOWN + "  seen: Yes.\n"


def made(lines: str) -> Problem:
    """The good problem with lines at its end; AssertionError with their faults."""
    document = read(planted(lines))
    assert not document.faults, document.faults
    problem = problem_of(document)
    assert problem
    return problem


def planted(lines: str) -> str:
    """The good problem with lines at its end."""
    return varied() + lines


@pytest.mark.parametrize("problem", read_bank(), ids=lambda each: each.id)
def test_every_situation_of_the_bank_is_shown_or_says_why_not(problem: Problem) -> None:
    assert card(problem) or problem.demonstration["none"]


def test_what_is_seen_is_words_and_formulas() -> None:
    shown = card(made(SHOWN + "  seen: It stays while {formula v**2/r >= g} holds.\n"))
    assert shown
    (before, law, after) = shown.seen
    assert (before, after) == (Words("It stays while "), Words(" holds."))
    assert isinstance(law, Math)
    assert formula.text(law.node) == "v²/r ≥ g"


def test_a_story_with_its_own_caution_is_told_with_it_alone() -> None:
    slow = ("words: {load: a toy cart}", "words: {load: a toy cart}\n    caution: Mind the loop.")
    text = varied(("level: algebra", "level: algebra\ncaution: Mind the cord."), slow)
    problem = problem_of(read(text))
    assert problem
    assert [problem.caution_in(each) for each in problem.scenes] == ["Mind the cord.", "Mind the loop."]


def test_a_reason_stands_in_place_of_a_card() -> None:
    assert card(made("demonstration: {none: Nobody can turn the Earth.}\n")) is None


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (SHOWN + "  seen: It is {v**2/r}.\n", "means nothing in a demonstration"),
        (SHOWN + "  seen: It is {formula v**}.\n", "no formula"),
        (SHOWN + "  seen: It is {formula v**2/x}.\n", "'x' in 'v**2/x' is no quantity of the problem"),
        (SHOWN + "  seen: It is {formula v.\n", "without its partner"),
        (ANSWERED + "  none: It can't be shown.\n", "and yet there is one"),
        (SHOWN, "the demonstration lacks 'seen'"),
        ("demonstration: {do: Swing it.}\n", "the demonstration lacks 'predict'"),
    ],
)
def test_a_spoilt_card_is_refused(lines: str, told: str) -> None:
    found = read(planted(lines)).faults
    assert found
    assert told in str(found[0])
