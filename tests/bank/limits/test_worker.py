"""A stranger's algebra is done elsewhere: with the same result, and for no longer than it may take."""

from __future__ import annotations

import json
import os
import random
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.checking.questions import check_question
from turnwright.bank.documents.document import parse_document
from turnwright.bank.errors import OverBudgetError, SolveError
from turnwright.bank.limits import budget, worker
from turnwright.bank.model.problem import Problem
from turnwright.bank.questions.own_numbers import solve_for
from turnwright.bank.reading.files import problem_of
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving import cache
from turnwright.bank.solving.cache import solved_here, solved_question
from turnwright.bank.thinking.mistaken_forms import forms_here, mistaken_forms

from tests import hostile_files
from tests.bank import models

BANKED = """
motion: {plane: horizontal, radius: r, speed: v}
diagrams: {bend: {N: {inward: sin(theta), up: cos(theta)}, F: {inward: -cos(theta), up: sin(theta)}}}
holds: [N >= 0, F <= mu*N]
quantities: {theta: deg 5 8 11, r: m 60 80, v: m/s 4 6, mu: 1 0.02 0.04}
"""


@pytest.fixture(autouse=True)
def _own_worker(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Each test has its own worker and cache, so that none sees what another has patched."""
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(tmp_path))
    worker.end()
    yield
    worker.end()


def read(data: dict[str, Any]) -> Problem:
    document = parse_document(json.dumps(data).encode(), "stranger.yaml")
    found = problem_of(document)
    assert found, "\n".join(map(str, document.faults))
    return found


def runaway() -> Problem:
    """Relations of which elimination makes ever longer ones."""
    terms = [f"{'abc'[at % 3]}**{at % 5 + 1}*x{at % 8}" for at in range(64)]
    return read(
        hostile_files.problem([f"{' + '.join(terms[at::2][:8])} = {'abc'[at % 3]} + x{at}*x0" for at in range(8)])
    )


def plain() -> Problem:
    return read(hostile_files.problem(["x0 = a*b/c"], values=9))


def test_the_worker_finds_what_would_be_found_here() -> None:
    problem = models.problem(BANKED, one={"ask": "v", "given": ["r", "theta", "mu"], "limiting": "F = mu*N"})
    question = problem.questions[0]
    found = solved_question(problem, question)
    assert found == solved_here(problem, question)
    assert mistaken_forms(found, shipped_mistakes()) == forms_here(found, shipped_mistakes())


def test_a_question_that_runs_away_is_ended_and_told_at_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(budget.SECONDS_VARIABLE, "0.3")
    problem = runaway()
    with pytest.raises(OverBudgetError) as caught:
        solved_question(problem, problem.questions[0])
    place = problem.place_of(problem.questions[0])
    assert str(caught.value).startswith(
        f"{place}: a-stranger.question-0: working it out took more than 0.3 s of processor"
    )
    assert [fault.place for fault in check_question(problem, problem.questions[0]).faults] == [place]
    assert str(solved_question(plain(), plain().questions[0]).solution.closed_form) == "a*b/c"  # by a new worker
    with pytest.raises(OverBudgetError, match="processor time"):
        solve_for(problem, problem.questions[0], ("a=1", "b=2", "c=3"), None, Decimal("9.8"))


# A worker finds a task by its name, so that those of the tests are functions of this module.


def _fill(*_: Any) -> bytearray:
    return bytearray(4_000_000_000)  # which no heap of a long run has lying free


def _die(*_: Any) -> None:
    os._exit(3)


def _fail(*_: Any) -> float:
    return 1 / 0


def _never_end(*_: Any) -> list[str]:
    return ["x"] * 100_000


def _hear_nothing(*_: Any) -> int:
    return sum(range(10**12))


def test_a_question_that_wants_too_much_memory_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(budget, "MEGABYTES", 64)
    monkeypatch.setattr(cache, "solve_task", _fill)
    with pytest.raises(OverBudgetError, match="took more than 64 MB"):
        solved_question(plain(), plain().questions[0])


def test_a_worker_that_dies_is_told_and_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(cache, "solve_task", _die)
        with pytest.raises(OverBudgetError, match="came to an end"):
            solved_question(plain(), plain().questions[0])
    assert solved_question(plain(), plain().questions[0])


@pytest.mark.parametrize("answer", [_fail, _never_end], ids=["an error of algebra", "too long"])
def test_whatever_the_algebra_ends_with_is_told_as_a_fault(answer: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "solve_task", answer)
    with pytest.raises(SolveError, match=r"ZeroDivisionError|beyond all measure"):
        solved_question(plain(), plain().questions[0])


def test_the_questions_of_a_file_share_a_budget_and_those_of_a_run_another() -> None:
    first, second = plain(), plain()
    budget.current().add(first.document, budget.OF_A_FILE * budget.seconds())
    with pytest.raises(OverBudgetError, match="questions of this file have taken 120 s of processor time"):
        solved_question(first, first.questions[0])
    assert solved_question(second, second.questions[0])
    with budget.one_run():
        assert solved_question(first, first.questions[0]), "a run begins with nothing spent"
        budget.current().add(first.document, budget.OF_A_BANK * budget.seconds())
        with pytest.raises(OverBudgetError, match="questions of this bank have taken 3600 s"):
            solved_question(second, second.questions[0])
    assert solved_question(second, second.questions[0])


def test_a_shipped_problem_is_solved_here(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = plain()
    problem.document.is_ours = True
    monkeypatch.setattr(cache, "in_worker", None)
    assert solved_question(problem, problem.questions[0])
    renamed = replace(problem, id="b")
    assert not budget.goes_to_worker(renamed)


def test_systems_of_every_kind_end_within_the_budget(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(budget.SECONDS_VARIABLE, "0.1")
    chance = random.Random(3)
    for _ in range(3):
        problem = read(hostile_files.systems(chance))
        assert len(check_question(problem, problem.questions[0]).faults) >= 1
        assert 0 < budget.current().taken_by(problem.document) < 0.5


def test_a_worker_that_ends_in_the_moment_in_which_it_is_ended_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    assert solved_question(plain(), plain().questions[0])
    started = budget.current().worker
    assert started is not None
    waited = os.waitpid
    monkeypatch.setattr(os, "waitpid", lambda process, options: (0, 0) if options else waited(process, options))
    monkeypatch.setattr(os, "kill", lambda *_: (_ for _ in ()).throw(ProcessLookupError()))
    assert started.end() is not None
