"""The force of a law as a quantity: asked for, it is what the law or the motion gives; given, it stands for the law."""

from __future__ import annotations

from pathlib import Path

import pytest
import sympy
from turnwright.bank.checking.questions import check_question
from turnwright.bank.reading.files import read_problem
from turnwright.bank.solving.solution import solve_question

from tests.bank.problems import varied, written

QUESTION = """  {name}:
    title: Another question
    ask: {ask}
    given: [{given}]
    stem: "{stem}"
"""
WEIGHT = "{unit: N, draw: {from: 1.0, to: 4.0, step: 0.1}, plausible: {from: 0.5, to: 10}}"
CASES = {
    # from the law itself, and into Newton's second law in place of m g
    "weight": ("W", "m", "The mass is {m}. Calculate the magnitude of {the weight}.", "m*g"),
    "mass": ("m", "W", "The magnitude of {the weight} is {W}. Calculate the mass of {the load}.", "W/g"),
    "with-weight": (
        "N", "W, r, v", "Known are {W}, {r} and {v}. Calculate the magnitude of {the pull}.", "W*(v**2/(g*r) - 1)",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_force_of_a_law_is_asked_and_given(name: str, tmp_path: Path) -> None:
    """Planted: a force with a law had 'a known size', and no question could ask for it."""
    ask, given, stem, expected = CASES[name]
    text = varied(
        ("      weight: {}\n      pull: {", "      weight: {law: weight, symbol: W}\n      pull: {"),
        ("  theta: {", f"  W: {WEIGHT}\n  theta: {{"),
        ("  low:\n    title", QUESTION.format(name=name, ask=ask, given=given, stem=stem) + "  low:\n    title"),
    )  # fmt: skip
    problem = read_problem(written(tmp_path, text))
    solved = solve_question(problem, problem.question(name))
    assert sympy.simplify(solved.solution.closed_form - sympy.sympify(expected, locals={"N": sympy.Symbol("N")})) == 0
    said = [fault.wrong for fault in check_question(problem, problem.question(name)).faults]
    assert not [each for each in said if "breaks off" in each]
