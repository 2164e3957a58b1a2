"""No equation and no message holds a name that is not there, whatever a problem leaves unnamed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, replace
from functools import cache
from itertools import combinations

import pytest
from turnwright.bank.errors import MissingNameError, SolveError
from turnwright.bank.mechanics.equations import System, system_of
from turnwright.bank.model.problem import Diagram, Force, Motion, Problem
from turnwright.bank.questions.own_numbers import solve_for
from turnwright.bank.reading.files import read_bank
from turnwright.bank.solving.solution import solve

from tests.bank import models
from tests.bank.models import GRAVITY

MOTIONS = tuple(each.name for each in fields(Motion) if each.default is None)
OF_DIAGRAM = ("speed", "radius", "angle", "tilt")
OF_FORCE = ("symbol", "centre_mass", "charge", "field")


@cache
def bank() -> tuple[Problem, ...]:
    return read_bank()


def every_ask(problem: Problem, step: int = 1) -> Iterator[System]:
    """The system of each quantity of the problem, from nothing, from all else, and from all but the acceleration."""
    names = tuple(problem.quantities)
    for ask in names[::step]:
        others = tuple(name for name in names if name != ask)
        for given in ((), others, tuple(name for name in others if name != problem.motion.acceleration)):
            question = replace(problem.questions[0], ask=ask, given=given, extra=(), limiting=None)
            yield system_of(problem, question)


def lacks_no_name(problem: Problem, step: int = 1) -> bool:
    """Whether all equations hold names; a refusal that tells what lacks is as good, and False."""
    try:
        for system in every_ask(problem, step):
            assert "None" not in system.symbols, [str(each) for each in system.equations if "None" in each.symbols]
    except MissingNameError as error:
        assert "None" not in str(error)
        assert error.where.startswith(("diagrams.", "motion"))
        return False
    return True


def thinned(problem: Problem) -> Iterator[Problem]:
    """The problem with one or two names of its motion gone, and with each name of a diagram or a force gone."""
    named = [name for name in MOTIONS if getattr(problem.motion, name)]
    for number in (1, 2):
        for gone in combinations(named, number):
            yield replace(problem, motion=replace(problem.motion, **dict.fromkeys(gone)))
    for at, diagram in enumerate(problem.diagrams):
        for changed in thinner(diagram):
            yield replace(problem, diagrams=(*problem.diagrams[:at], changed, *problem.diagrams[at + 1 :]))


def thinner(diagram: Diagram) -> Iterator[Diagram]:
    for name in OF_DIAGRAM:
        yield replace(diagram, **{name: None})
    for at, force in enumerate(diagram.forces):
        for name in OF_FORCE:
            changed: Force = replace(force, **{name: None})
            yield replace(diagram, forces=(*diagram.forces[:at], changed, *diagram.forces[at + 1 :]))


@pytest.mark.parametrize("name", [problem.id for problem in bank()])
def test_all_equations_of_a_shipped_problem_hold_names(name: str) -> None:
    assert lacks_no_name(next(each for each in bank() if each.id == name))


@pytest.mark.parametrize("name", [problem.id for problem in bank() if problem.diagrams])
def test_what_is_not_named_is_left_out_or_told(name: str) -> None:
    problem = next(each for each in bank() if each.id == name)
    told = [lacks_no_name(each, step=4) for each in thinned(problem)]
    assert not all(told)  # a force without its size at least


BARE = "motion: {plane: vertical, acceleration: a}\ndiagrams: {top: {at: top, N: inward}}"
NO_RATE = (
    "motion: {plane: vertical, radius: r, acceleration: a}\ndiagrams: {top: {at: top, N: inward}}\nrelations: [r = k*L]"
)


@pytest.mark.parametrize(("text", "given"), [(BARE, "m a"), (NO_RATE, "m a k L")], ids=["no radius", "no rate"])
def test_the_acceleration_stays_where_nothing_says_how_it_comes_about(text: str, given: str) -> None:
    problem = models.problem(text, one={"ask": "N", "given": given.split()})
    assert solve_for(
        problem, problem.questions[0], ["m=0.5", "a=12", "k=2", "L=1"][: len(given.split())], None, GRAVITY
    )
    with pytest.raises(SolveError) as caught:
        solve_for(problem, problem.questions[0], ["m=0.5"], None, GRAVITY)
    assert "a" in re.findall(r"\w+", caught.value.right)
    assert "None" not in str(caught.value)


def test_what_to_give_as_well_is_always_named() -> None:
    for problem in bank()[::5]:
        for question in problem.questions[:1]:
            system = system_of(problem, replace(question, given=(), extra=()))
            try:
                solve(system, {})
            except (SolveError, KeyError) as error:
                assert "None" not in str(error)
