"""The cache spares work and changes no result, whatever has become of its folder: deleted, damaged, aged or off."""

from __future__ import annotations

import ast
import inspect
import json
import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import sympy
from turnwright.bank.errors import SolveError
from turnwright.bank.model.problem import Draw, Problem, Question
from turnwright.bank.solving import cache, serial
from turnwright.bank.solving.cache import solved_here as solved_question
from turnwright.bank.solving.solution import SolvedQuestion, solve_question
from turnwright.bank.storage import entries
from turnwright.bank.storage.entries import Tree

from tests.bank import models

ROUND = """
motion: {plane: vertical, radius: r}
diagrams: {top: {at: top, speed: v_top, F_top: inward}, low: {at: bottom, speed: v_low, F_low: inward}}
energy: [{from: low, to: top}]
holds: [F_top >= 0]
quantities: {F_top: N 1 3 5, F_low: N 5 20 40, v_top: m/s 3 5, v_low: m/s 3 7 9}
"""


class Calls:
    """The solver, counting how often it is called."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, problem: Problem, question: Question) -> SolvedQuestion:
        self.count += 1
        return solve_question(problem, question)


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Calls:
    made = Calls()
    monkeypatch.setattr(cache, "solve_question", made)
    return made


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    place = tmp_path / "solutions"
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(place))
    return place


@pytest.fixture(scope="module")
def problem() -> Problem:
    return models.problem(ROUND, tension={"ask": "F_top", "given": ["m", "r", "v_low"]})


def only_entry(folder: Path) -> Path:
    (path,) = folder.glob("solved-*.json")
    return path


# --- sparing work -----------------------------------------------------------------------------


def test_an_unchanged_question_is_solved_once(problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    second = solved_question(problem, problem.questions[0])
    assert calls.count == 1
    assert second == first
    assert str(first.solution.closed_form) == "-5*g*m + m*v_low**2/r"


@pytest.mark.parametrize("name", models.shipped_ids()[::7])
def test_a_shipped_question_comes_back_from_the_cache_as_it_was_solved(name: str, folder: Path, calls: Calls) -> None:
    found = models.shipped(name)
    fresh = solved_question(found.problem, found.question)
    kept = solved_question(found.problem, found.question)
    assert calls.count == 1
    assert (kept.solution, kept.kept) == (fresh.solution, fresh.kept)


def test_words_that_change_no_number_do_not_make_it_solve_again(problem: Problem, folder: Path, calls: Calls) -> None:
    solved_question(problem, problem.questions[0])
    reworded = replace(problem, title="Told otherwise", questions=(replace(problem.questions[0], title="Another"),))
    solved_question(reworded, reworded.questions[0])
    assert calls.count == 1


def other_draw(problem: Problem) -> Problem:
    spec = problem.quantities["r"]
    assert spec.draw
    return replace(problem, quantities={**problem.quantities, "r": replace(spec, draw=Draw(spec.draw.values[:2]))})


def other_force(problem: Problem) -> Problem:
    top, low = problem.diagrams
    weight, pull = top.forces
    return replace(
        problem, diagrams=(replace(top, forces=(weight, replace(pull, components=(("inward", "-1"),)))), low)
    )


def other_unit(problem: Problem) -> Problem:
    spec = problem.quantities["r"]
    unit = replace(spec.unit, symbol="cm", factor=0.01)
    return replace(problem, quantities={**problem.quantities, "r": replace(spec, unit=unit)})


def signed_answer(problem: Problem) -> Problem:
    spec = problem.quantities["F_top"]
    return replace(problem, quantities={**problem.quantities, "F_top": replace(spec, positive=False)})


def without_hold(problem: Problem) -> Problem:
    return replace(problem, holds=())


@pytest.mark.parametrize("change", [other_draw, other_force, other_unit, signed_answer, without_hold])
def test_a_changed_model_or_draw_is_solved_again(
    change: Callable[[Problem], Problem], problem: Problem, folder: Path, calls: Calls
) -> None:
    solved_question(problem, problem.questions[0])
    changed = change(problem)
    found = solved_question(changed, changed.questions[0])
    assert calls.count == 2
    assert found.problem is changed


def test_another_question_about_the_same_diagrams_is_solved_on_its_own(folder: Path, calls: Calls) -> None:
    both = models.problem(
        ROUND,
        top={"ask": "F_top", "given": ["m", "r", "v_low"]},
        low={"ask": "F_low", "given": ["m", "r", "v_low"]},
    )
    first, second = (solved_question(both, each) for each in both.questions)
    assert calls.count == 2
    assert first.solution != second.solution


def test_the_folder_may_be_deleted_at_any_time(problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    only_entry(folder).unlink()
    folder.rmdir()
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2


def test_without_a_cache_each_question_is_solved_each_time_and_nothing_is_left(
    problem: Problem, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, calls: Calls
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TURNWRIGHT_CACHE", "off")
    assert solved_question(problem, problem.questions[0]) == solved_question(problem, problem.questions[0])
    assert calls.count == 2
    assert not list(tmp_path.iterdir())


def test_an_entry_of_another_format_or_sympy_is_not_read(
    problem: Problem, folder: Path, calls: Calls, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = solved_question(problem, problem.questions[0])
    for change in ((cache, "FORMAT", cache.FORMAT + 1), (sympy, "__version__", "0.0")):
        monkeypatch.setattr(*change)
        assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 3
    assert len(list(folder.glob("solved-*.json"))) == 3


# --- a folder that can't be used --------------------------------------------------------------


def under_a_file(tmp_path: Path) -> Path:
    (tmp_path / "file").write_text("no folder")
    return tmp_path / "file" / "solutions"


def a_file(tmp_path: Path) -> Path:
    (tmp_path / "file").write_text("no folder")
    return tmp_path / "file"


def a_link_to_nothing_that_can_be_made(tmp_path: Path) -> Path:
    link = tmp_path / "link"
    link.symlink_to(under_a_file(tmp_path))
    return link


def a_link_in_a_ring(tmp_path: Path) -> Path:
    (tmp_path / "one").symlink_to(tmp_path / "two")
    (tmp_path / "two").symlink_to(tmp_path / "one")
    return tmp_path / "one"


@pytest.mark.parametrize("place", [under_a_file, a_file, a_link_to_nothing_that_can_be_made, a_link_in_a_ring])
def test_a_folder_that_cannot_be_written_costs_time_and_nothing_else(
    place: Callable[[Path], Path], problem: Problem, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, calls: Calls
) -> None:
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(place(tmp_path)))
    first = solved_question(problem, problem.questions[0])
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2


def test_a_disk_that_refuses_to_write_leaves_no_entry(
    problem: Problem, folder: Path, monkeypatch: pytest.MonkeyPatch, calls: Calls
) -> None:
    def full(*_: Any, **__: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    first = solved_question(problem, problem.questions[0])
    assert not list(folder.iterdir())
    assert solved_question(problem, problem.questions[0]) == first


def test_an_entry_that_is_a_folder_is_passed_over(problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    path.unlink()
    path.mkdir()
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2


def test_a_pipe_in_the_place_of_an_entry_is_not_waited_for(problem: Problem, folder: Path, calls: Calls) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    first = solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    path.unlink()
    os.mkfifo(path)
    assert solved_question(problem, problem.questions[0]) == first
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2, "the pipe was not replaced"


def test_a_link_in_the_place_of_an_entry_is_replaced_and_what_it_shows_stays(
    problem: Problem, folder: Path, tmp_path: Path
) -> None:
    solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    path.unlink()
    (tmp_path / "thesis").write_text("not ours")
    path.symlink_to(tmp_path / "thesis")
    solved_question(problem, problem.questions[0])
    assert (tmp_path / "thesis").read_text() == "not ours"
    assert path.is_file()
    assert not path.is_symlink()


def test_the_oldest_entries_go_when_the_folder_grows_beyond_its_bound(folder: Path) -> None:
    folder.mkdir()
    for age, name in enumerate("dacb"):
        (folder / f"{name}.json").write_bytes(bytes(100))
        os.utime(folder / f"{name}.json", (1000 - age, 1000 - age))
    entries.trim(folder, 250)
    assert sorted(each.name for each in folder.iterdir()) == ["a.json", "d.json"]


# --- damaged entries --------------------------------------------------------------------------


def test_an_entry_with_one_bit_flipped_is_refused(problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    whole = only_entry(folder).read_bytes()
    for place in range(0, len(whole), 41):
        flipped = bytearray(whole)
        flipped[place] ^= 1 << (place % 8)
        only_entry(folder).write_bytes(flipped)
        before = calls.count
        assert solved_question(problem, problem.questions[0]) == first
        assert calls.count == before + 1, f"byte {place}"


OTHER_LAYOUTS: dict[str, Tree] = {
    "no field": {}, "nothing": None, "a list": [], "text": "none", "no formula": {"closed_form": None},
    "an unknown head": {"closed_form": ["Function", "r"], "path": [], "signs": []},
    "a field that is missing": {"closed_form": "r", "path": [{}], "signs": [None]},
    "a hold that is missing": {"closed_form": "r", "path": [], "signs": []},
    "a huge power": {"closed_form": ["Pow", ["Pow", ["9"], ["99999999"]], ["9"]], "path": [], "signs": [None]},
}  # fmt: skip


@pytest.mark.parametrize("layout", OTHER_LAYOUTS)
def test_an_entry_that_can_not_be_read_is_made_anew(layout: str, problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    whole = path.read_bytes()
    path.write_bytes(entries.sealed(path.stem, OTHER_LAYOUTS[layout]))
    assert solved_question(problem, problem.questions[0]) == first
    assert path.read_bytes() == whole
    assert calls.count == 2


def test_a_formula_that_can_not_come_back_is_told_with_the_cache_and_without(
    problem: Problem, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def beyond(problem: Problem, question: Question) -> SolvedQuestion:
        found = solve_question(problem, question)
        return replace(found, solution=replace(found.solution, closed_form=sympy.Symbol("r") ** 999))

    monkeypatch.setattr(cache, "solve_question", beyond)
    for _ in range(2):
        with pytest.raises(SolveError, match="beyond all measure"):
            solved_question(problem, problem.questions[0])
    assert not folder.exists()
    monkeypatch.setenv("TURNWRIGHT_CACHE", "off")
    with pytest.raises(SolveError, match="beyond all measure"):
        solved_question(problem, problem.questions[0])


JUNK = {
    "empty": b"", "cut": b"{", "null": b"null", "list": b"[]", "number": b"7", "text": b'"text"',
    "no text": b"\xff\xfe", "twice": b"{}" * 9, "deep": b"[" * 100_000, "huge": b'{"closed_form": ' + b" " * 300_000,
}  # fmt: skip


@pytest.mark.parametrize("junk", JUNK)
def test_junk_is_refused_and_the_question_solved_anew(junk: str, problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    only_entry(folder).write_bytes(JUNK[junk])
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_truncated_entry_is_refused(share: float, problem: Problem, folder: Path, calls: Calls) -> None:
    first = solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(share * len(whole))])
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2


def test_an_entry_of_another_question_under_this_name_is_refused(folder: Path, calls: Calls) -> None:
    both = models.problem(
        ROUND,
        top={"ask": "F_top", "given": ["m", "r", "v_low"]},
        low={"ask": "F_low", "given": ["m", "r", "v_low"]},
    )
    first = solved_question(both, both.questions[0])
    own = only_entry(folder)
    second = solved_question(both, both.questions[1])
    (other,) = set(folder.glob("solved-*.json")) - {own}
    own.write_bytes(other.read_bytes())
    assert solved_question(both, both.questions[0]) == first != second
    assert calls.count == 3


# --- no code ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    ["open('ran', 'w')", "__import__('os').mkdir('ran')", "lambda: 1", "r; import os", "exec('1')"],
)
def test_text_in_an_entry_is_never_run(
    text: str, problem: Problem, folder: Path, calls: Calls, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    first = solved_question(problem, problem.questions[0])
    path = only_entry(folder)
    told = json.dumps(entries.opened(path.stem, path.read_bytes())).replace('"v_low"', json.dumps(text))
    path.write_bytes(entries.sealed(path.stem, json.loads(told)))
    assert solved_question(problem, problem.questions[0]) == first
    assert calls.count == 2
    assert not (tmp_path / "ran").exists()


def names_called(module: Any) -> Iterator[str]:
    for node in ast.walk(ast.parse(inspect.getsource(module))):
        if isinstance(node, ast.Call):
            yield node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield from (each.name for each in node.names)


@pytest.mark.parametrize("module", [cache, entries, serial])
def test_nothing_on_the_way_from_disk_parses_or_runs_formulas(module: Any) -> None:
    running = {
        "eval",
        "exec",
        "compile",
        "sympify",
        "parse_expr",
        "lambdify",
        "pickle",
        "shelve",
        "marshal",
        "dill",
        "S",
    }
    assert not running & set(names_called(module))


@pytest.mark.parametrize("name", models.shipped_ids()[::5])
def test_a_closed_form_survives_the_way_to_disk_and_back(name: str) -> None:
    closed = models.shipped(name).solution.closed_form
    again = serial.load(json.loads(json.dumps(serial.dump(closed))))
    assert sympy.srepr(again) == sympy.srepr(closed)
