"""The mistakes of a question are solved once for its model and their edits, whoever solves them."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import sympy
from turnwright.bank.limits import budget, worker
from turnwright.bank.model.edit import AnswerEdit, DropEdit, ReverseEdit, UnitEdit
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.problem import Draw, Problem
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_here
from turnwright.bank.solving.serial import plain
from turnwright.bank.thinking import mistaken_forms as trying
from turnwright.bank.thinking.mistaken_forms import Forms, forms_here, mistaken_forms

from tests.bank import models

ROUND = """
motion: {plane: vertical, radius: r}
diagrams: {top: {at: top, speed: v_top, F_top: inward}, low: {at: bottom, speed: v_low, F_low: inward}}
energy: [{from: low, to: top}]
quantities: {F_top: N 1 3 5, F_low: N 5 20 40, v_top: m/s 3 5, v_low: m/s 3 7 9}
"""
EDITS = (DropEdit, ReverseEdit, AnswerEdit, UnitEdit)
CATALOGUE = tuple(replace(each, families=()) for each in shipped_mistakes() if isinstance(each.edit, EDITS))


@pytest.fixture
def problem() -> Problem:
    return models.problem(ROUND, tension={"ask": "F_top", "given": ["m", "r", "v_low"]})


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache"


@pytest.fixture
def tried(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The mistakes that were looked at, in turn."""
    found: list[str] = []
    real = trying.why_not

    def counted(mistake: Mistake, solved: Any) -> str:
        found.append(mistake.id)
        return real(mistake, solved)

    monkeypatch.setattr(trying, "why_not", counted)
    return found


def forms(problem: Problem, catalogue: tuple[Mistake, ...] = CATALOGUE) -> Forms:
    return forms_here(solved_here(problem, problem.questions[0]), catalogue)


def test_the_mistakes_of_an_unchanged_question_are_solved_once(
    problem: Problem, folder: Path, tried: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    first = forms(problem)
    assert first[0] and first[1] and len(tried) == len(first[0]) + len(first[1])
    number = len(tried)
    second = forms(problem)
    assert len(tried) == number
    assert second == first
    assert [sympy.srepr(each.closed_form) for each in second[0]] == [sympy.srepr(each.closed_form) for each in first[0]]
    monkeypatch.setenv("TURNWRIGHT_CACHE", "off")
    assert forms(problem) == first
    assert len(tried) == 2 * number


def test_words_are_those_of_now(problem: Problem, folder: Path, tried: list[str]) -> None:
    forms(problem)
    number = len(tried)
    retold = tuple(replace(each, thinking="Otherwise.", feedback="Again.") for each in CATALOGUE)
    live, idle = forms(replace(problem, title="Told otherwise"), retold)
    assert len(tried) == number
    assert {each.mistake.thinking for each in (*live, *idle)} == {"Otherwise."}


def other_draw(problem: Problem) -> Problem:
    spec = replace(problem.quantities["r"], draw=Draw((Decimal("0.5"), Decimal("0.7"))))
    return replace(problem, quantities={**problem.quantities, "r": spec})


def other_unit(problem: Problem) -> Problem:
    spec = problem.quantities["r"]
    changed = replace(spec, unit=replace(spec.unit, symbol="cm", factor=0.01))
    return replace(problem, quantities={**problem.quantities, "r": changed})


def other_force(problem: Problem) -> Problem:
    top, low = problem.diagrams
    weight, pull = top.forces
    return replace(problem, diagrams=(replace(top, forces=(weight, replace(pull, role="push"))), low))


def own_mistake(problem: Problem) -> Problem:
    return replace(problem, mistakes=(replace(CATALOGUE[0], id="another"),))


def one_without(problem: Problem) -> Problem:
    return replace(problem, without={forms(problem)[0][0].mistake.id: "it is taught elsewhere"})


@pytest.mark.parametrize("change", [other_draw, other_unit, other_force, own_mistake, one_without])
def test_a_changed_model_or_choice_of_mistakes_is_solved_again(
    change: Callable[[Problem], Problem], problem: Problem, folder: Path, tried: list[str]
) -> None:
    forms(problem)
    changed = change(problem)
    tried.clear()
    assert forms(changed) is not None
    assert tried


def test_a_changed_edit_is_solved_again(problem: Problem, folder: Path, tried: list[str]) -> None:
    first = forms(problem)[0][0].mistake
    tried.clear()
    edit = next(each.edit for each in CATALOGUE if each.edit != first.edit)
    forms(problem, tuple(replace(each, edit=edit) if each == first else each for each in CATALOGUE))
    assert tried


@pytest.mark.parametrize("damage", [Path.unlink, lambda path: path.write_bytes(path.read_bytes()[:-1])])
def test_entries_that_are_gone_or_damaged_change_nothing(
    damage: Callable[[Path], Any], problem: Problem, folder: Path, tried: list[str]
) -> None:
    first = forms(problem)
    assert len(list(folder.glob("solved-*.json"))) == 2
    for path in folder.glob("solved-*.json"):
        damage(path)
    tried.clear()
    assert forms(problem) == first
    assert tried
    tried.clear()
    assert forms(problem) == first
    assert not tried


def test_a_stranger_has_the_same_from_the_worker(
    problem: Problem, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    solved = solved_here(problem, problem.questions[0])
    assert budget.goes_to_worker(problem)
    worker.end()
    try:
        first = mistaken_forms(solved, CATALOGUE)
        assert first[0] and first[1]
        worker.end()
        monkeypatch.setattr(trying, "_tried", None)  # as the next worker has it
        assert mistaken_forms(solved, CATALOGUE) == first
        assert forms_here(solved, CATALOGUE) == first
    finally:
        worker.end()


def test_every_process_finds_the_same_entries(tmp_path: Path) -> None:
    code = (
        "from turnwright.bank.reading.files import read_bank; from turnwright.bank.reading.mistakes import "
        "shipped_mistakes; from turnwright.bank.solving.cache import solved_question; from "
        "turnwright.bank.thinking.mistaken_forms import forms_here; (problem,) = [each for each in read_bank() if "
        "each.id == 'flat-bend']; "
        "[forms_here(solved_question(problem, each), shipped_mistakes()) for each in problem.questions]"
    )
    found = []
    for seed in "12":
        more = {"PYTHONHASHSEED": seed, "TURNWRIGHT_CACHE": str(tmp_path / "cache")}
        subprocess.run([sys.executable, "-c", code], env={**os.environ, **more}, check=True)
        found.append({each.name: each.stat().st_mtime_ns for each in (tmp_path / "cache").glob("solved-*.json")})
    assert found[0] == found[1]
    assert len(found[0]) > 2


def test_what_an_entry_depends_on_is_told_apart() -> None:
    parts = [1, 1.0, "1", Decimal(1), Decimal("1.0"), sympy.Integer(1), sympy.Symbol("x"), "x", None, True]
    parts += [("x",), ("x", ()), {"x": 1}, frozenset({"x"}), Draw((Decimal(1),)), Draw((Decimal(1), Decimal(2)))]
    seen = [repr(plain(each)) for each in parts]
    assert len(set(seen)) == len(parts)
    with pytest.raises(TypeError, match="object has no plain data"):
        plain(object())
