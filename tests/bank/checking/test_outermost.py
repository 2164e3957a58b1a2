"""``check`` makes items at the edges of the draws, and what the program itself fails with hides nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnwright.bank.checking.outermost import make_outermost
from turnwright.bank.checking.questions import check_question
from turnwright.bank.command.main import run
from turnwright.bank.questions.items import Generator
from turnwright.bank.reading import files
from turnwright.bank.reading.files import read_problem
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question
from turnwright.bank.thinking.distractors import diagnosis, telling_pool
from turnwright.bank.variants import key_computation

from tests.bank.models import GRAVITY
from tests.bank.problems import place, varied, written

OF_STARS = varied(
    ("draw: [120, 160, 240, 360], plausible: {from: 50, to: 900}", "draw: [1.2e31, 1.6e31, 2.4e31, 3.6e31]"),
    ("N: {unit: N, plausible: {from: 0.1, to: 40}}", "N: {unit: N, plausible: {from: 1, to: 1e32}}"),
)


def test_a_key_is_worked_out_of_masses_of_stars(tmp_path: Path) -> None:
    """Planted: 10^28 kg and more ended the program, since a decimal of so many digits can't be quantized."""
    problem = read_problem(written(tmp_path, OF_STARS))
    assert check_question(problem, problem.question("pull")).faults == ()
    assert str(key_computation.decimal_of(1.2e31)) == "12" + 30 * "0"


def test_items_are_made_at_the_edges_of_the_draws(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    problem = read_problem(written(tmp_path))
    solved = solved_question(problem, problem.question("pull"))
    known, made, seen = diagnosis(solved, shipped_mistakes()), Generator.item, []

    def noted(*told: object) -> object:
        seen.append(told[1])
        return made(*told)  # type: ignore[arg-type]

    monkeypatch.setattr(Generator, "item", noted)
    make_outermost(known, telling_pool(known, GRAVITY))
    numbers = [(each.scene.name, each.given["m"].number, each.given["r"].number) for each in seen]
    drawn = list(telling_pool(known, GRAVITY).draw_up_to(10_000, 1))
    assert ("stage", "120", "0.600") in numbers and ("fair", "360", "80.0") in numbers
    assert max(each.exact_si for each in seen) == max(each.exact_si for each in drawn)


def test_what_the_program_fails_with_is_told_beside_all_other_faults(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Planted: reading one file fails, and so does making the items of a question in another."""
    good = varied(("id: lantern", "id: good"))
    wrong = varied(("id: lantern", "id: wrong"), ("ask: v_low", "ask: v_below"))
    paths = [written(tmp_path, each, f"{at}.yaml") for at, each in enumerate((varied(), good, wrong))]
    made, read = Generator.item, files.problem_of

    def item(self: Generator, *told: object) -> object:
        if self.solved.question.name == "pull":
            raise ArithmeticError
        return made(self, *told)  # type: ignore[arg-type]

    def problem_of(document: files.Document) -> object:
        if document.data["id"] == "lantern":
            raise ArithmeticError
        return read(document)

    monkeypatch.setattr(Generator, "item", item)
    monkeypatch.setattr(files, "problem_of", problem_of)
    assert run(["check", *map(str, paths)]) == 1
    told = capsys.readouterr().out
    failed = "the program breaks off here with ArithmeticError; the fault is the program's: report it with this file"
    line, column = place(good, "pull:\n    title")
    assert f"0.yaml:1:1: {failed}" in told
    assert f"1.yaml:{line}:{column}: questions.pull: {failed}" in told
    assert "the symbol 'v_below' is not defined" in told
