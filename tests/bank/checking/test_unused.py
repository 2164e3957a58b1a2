"""An equation of motion that no question needs: a plant in a copy of a shipped problem, and the bank without one."""

from __future__ import annotations

import re
from itertools import groupby
from pathlib import Path

from turnwright.bank.checking.choices import check_choices
from turnwright.bank.checking.unused import unused_equations
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.reading.files import collect, shipped_files
from turnwright.bank.solving.cache import solved_question

from tests.bank import models


def test_check_notes_a_diagram_that_is_left_without_a_question(tmp_path: Path) -> None:
    """Planted: only the first question of a loop is kept, which needs nothing of the diagram at the bottom."""
    text = next(each for each in shipped_files() if each.stem == "loop-from-a-ramp").read_text("utf-8")
    changed, number = re.subn(r"(?s)(\nquestions:\n  least-height:\n.*?)\n  [a-z-]+:\n    title:.*\Z", r"\1\n", text)
    assert number == 1
    (tmp_path / "loop-from-a-ramp.yaml").write_text(changed, "utf-8")
    problems, faults = collect([tmp_path / "loop-from-a-ramp.yaml"])
    assert not faults
    solved = [solved_question(problems[0], each) for each in problems[0].questions]
    told = [each.found for each in check_choices(solved, GRAVITY).notes if each.name == "unused-equation"]
    assert told == ["no question needs the 'inward' equation of the diagram bottom"]


def test_every_equation_of_the_shipped_bank_is_needed() -> None:
    solved = map(models.shipped, models.shipped_ids())
    for _, questions in groupby(solved, key=lambda each: each.problem.id):
        assert not list(unused_equations(list(questions)))
