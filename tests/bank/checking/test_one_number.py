"""An answer that is one number, whatever is drawn, has no more variants than scenes, and that is no fault."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnwright.bank.checking.questions import check_question
from turnwright.bank.errors import TooFewVariantsError
from turnwright.bank.questions.items import items
from turnwright.bank.reading.files import read_problem
from turnwright.bank.solving.cache import solved_question

from tests.bank.models import GRAVITY
from tests.bank.problems import varied, written

RATIO = """  ratio:
    title: Ratio of the speeds
    ask: q
    given: []
    limiting: N = 0
    stem: "Calculate the ratio of the speed at the bottom to that at the top, where {the pull} is just zero."
"""
WITH_RATIO = (
    ("relations:\n", 'relations:\n  - {equation: v_low = q*v, because: "the ratio of the speeds is q"}\n'),
    ("  theta: {", '  q: {means: ratio of the speeds, unit: "1", plausible: {from: 1, to: 9}}\n  theta: {'),
    ("  low:\n    title", RATIO + "  low:\n    title"),
)


def test_one_number_is_no_fault_and_fills_a_pack_as_far_as_it_goes(tmp_path: Path) -> None:
    """Planted: two variants of √5, one a scene, were a fault, and stopped every pack of five."""
    problem = read_problem(written(tmp_path, varied(*WITH_RATIO)))
    question = problem.question("ratio")
    assert check_question(problem, question).faults == ()
    made = list(items(solved_question(problem, question), GRAVITY, 5, 1))
    assert [str(each.entries[0].key) for each in made] == ["2.24", "2.24"]  # v_low² = v² + 4 g r and v² = g r


def test_too_few_draws_stay_a_fault(tmp_path: Path) -> None:
    few = varied(("draw: {from: 0.60, to: 1.20, step: 0.05}", "draw: [0.60]"), ("from: 40, to: 80", "from: 40, to: 42"))
    problem = read_problem(written(tmp_path, few))
    question = problem.question("least-speed")
    assert "only 3 variants exist" in "".join(map(str, check_question(problem, question).faults))
    with pytest.raises(TooFewVariantsError):
        list(items(solved_question(problem, question), GRAVITY, 5, 1))
