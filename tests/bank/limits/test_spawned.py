"""Where processes can't fork, a stranger's algebra is done by a spawned worker, with the same limits; forced here."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from turnwright.bank.errors import OverBudgetError
from turnwright.bank.limits import budget, worker
from turnwright.bank.limits.spawned import SpawnedWorker
from turnwright.bank.solving import cache
from turnwright.bank.solving.cache import solved_here, solved_question

from tests.bank.limits import test_worker
from tests.bank.limits.test_worker import plain, runaway


@pytest.fixture(autouse=True)
def _spawned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Each test has its own worker and cache, and no forks."""
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(tmp_path))
    monkeypatch.setattr(worker, "FORKS", False)
    worker.end()
    yield
    worker.end()


def test_a_spawned_worker_finds_what_would_be_found_here_and_is_kept() -> None:
    for _ in range(2):
        problem = plain()
        assert solved_question(problem, problem.questions[0]) == solved_here(problem, problem.questions[0])
        assert isinstance(budget.current().worker, SpawnedWorker)
    first = budget.current().worker
    assert first
    assert first.end() is not None
    assert first.end() is None


@pytest.mark.parametrize("first", ["", "import signal; del signal.setitimer; "], ids=["a timer", "a thread"])
def test_a_question_that_runs_away_is_ended_and_the_next_is_not(first: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(SpawnedWorker, "first", first)
    problem = plain()
    assert solved_question(problem, problem.questions[0])
    monkeypatch.setenv(budget.SECONDS_VARIABLE, "0.3")
    problem = runaway()
    with pytest.raises(OverBudgetError, match=r"working it out took more than 0\.3 s of processor"):
        solved_question(problem, problem.questions[0])
    monkeypatch.delenv(budget.SECONDS_VARIABLE)
    other = test_worker.read(test_worker.hostile_files.problem(["x0 = a*c/b"], values=9))
    assert str(solved_question(other, other.questions[0]).solution.closed_form) == "a*c/b"


def test_one_that_wants_too_much_memory_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(budget, "MEGABYTES", 64)
    monkeypatch.setattr(cache, "solve_task", test_worker._fill)
    with pytest.raises(OverBudgetError, match="took more than 64 MB"):
        solved_question(plain(), plain().questions[0])


def test_one_that_hears_nothing_is_ended_by_the_patience_of_who_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(SpawnedWorker, "first", "import signal; del signal.setitimer; ")
    problem = plain()
    assert solved_question(problem, problem.questions[0])
    monkeypatch.setenv(budget.SECONDS_VARIABLE, "0.1")
    monkeypatch.setattr(budget, "PATIENCE", 10)
    monkeypatch.setattr(cache, "solve_task", test_worker._hear_nothing)
    other = test_worker.read(test_worker.hostile_files.problem(["x0 = a*c/b"], values=9))
    with pytest.raises(OverBudgetError, match=r"more than 0\.1 s"):
        solved_question(other, other.questions[0])
