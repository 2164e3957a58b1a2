"""Enemies that a problem file declares, from the file to the forms: the same bank with them and without them."""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources
from pathlib import Path

import pytest
from turnwright.bank.command.main import run
from turnwright.bank.errors import BlueprintError
from turnwright.bank.forms import assessment
from turnwright.bank.forms.assessment import assess
from turnwright.bank.forms.blueprint_reader import read_blueprint
from turnwright.bank.forms.candidate import candidates
from turnwright.bank.model.problem import Problem
from turnwright.bank.questions.selection import all_questions
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question

BEND, MARS = "flat-bend.greatest-speed", "satellite.speed"
DECLARED = "enemies that problem files declare"
PROBLEMS = Path(str(resources.files("turnwright.bank") / "problems"))
BOTH = f"""\
id: two
title: Two questions
forms: 1
questions: 2
seed: 1
kinds: [number]
anchors: [{BEND}, {MARS}]
rows:
  - {{content: [orbit], count: {{from: 1, to: 1}}}}
  - {{content: [flat-curve], count: {{from: 1, to: 1}}}}
"""


@pytest.fixture
def bank(tmp_path: Path) -> Callable[..., Path]:
    def made(*enemies: str) -> Path:
        """A bank of two situations in which the first question has these enemies."""
        folder = tmp_path / "bank"
        folder.mkdir(exist_ok=True)
        bend = (PROBLEMS / "flat-curve" / "flat-bend.yaml").read_text("utf-8")
        name = BEND.partition(".")[2]
        assert bend.count(f"\n  {name}:\n") == 1
        more = f"    enemies: [{', '.join(enemies)}]\n" if enemies else ""
        (folder / "flat-bend.yaml").write_text(bend.replace(f"\n  {name}:\n", f"\n  {name}:\n{more}"), "utf-8")
        (folder / "satellite.yaml").write_bytes((PROBLEMS / "orbit" / "satellite.yaml").read_bytes())
        return folder

    return made


def ids(folder: Path, bank: Path, text: str = BOTH) -> list[str]:
    """The questions of the only form."""
    (folder / "two.yaml").write_text(text, "utf-8")
    problems: tuple[Problem, ...] = read_bank(sorted(bank.iterdir()))
    solved = [solved_question(*each) for each in all_questions(problems)]
    found = candidates(solved, shipped_mistakes(), problems, {})
    (form,) = assess(read_blueprint(folder / "two.yaml"), found, problems).forms
    return [each.candidate.id for each in form.questions]


def test_a_form_may_have_two_questions_until_one_is_declared_the_enemy_of_the_other(
    tmp_path: Path, bank: Callable[..., Path]
) -> None:
    assert sorted(ids(tmp_path, bank())) == [BEND, MARS]
    with pytest.raises(BlueprintError, match=DECLARED):
        ids(tmp_path, bank(MARS))


def test_a_form_with_one_of_two_enemies_takes_another_question_in_place_of_the_second(
    tmp_path: Path, bank: Callable[..., Path]
) -> None:
    free = BOTH.replace(f"anchors: [{BEND}, {MARS}]", f"anchors: [{BEND}]")
    orbits = [f"satellite.{each.name}" for each in read_bank(sorted(bank().iterdir()))[1].questions]
    (kept,) = [each for each in orbits if each == MARS]
    others = [each for each in orbits if each != kept]
    chosen = ids(tmp_path, bank(*others), free)
    assert sorted(chosen) == [BEND, kept]  # all others are enemies


def test_the_command_tells_that_enemies_of_a_file_can_not_stand_together(
    tmp_path: Path, bank: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "two.yaml").write_text(BOTH, "utf-8")
    assert run(["form", str(tmp_path / "two.yaml"), "--out", str(tmp_path), "--bank", str(bank(MARS))]) == 1
    assert DECLARED in " ".join(capsys.readouterr().err.split())


def test_enemies_of_a_file_that_are_passed_over_are_noticed(
    tmp_path: Path, bank: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(assessment, "declared_enemies", lambda problems: ())
    assert sorted(ids(tmp_path, bank(MARS))) == [BEND, MARS]
