"""From rest, and to rest: a start or end at zero can be said, and nothing is said that the file does not state."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.checking.stem_quality import stem_notes
from turnwright.bank.command.printing import paragraph_text
from turnwright.bank.errors import UsageError
from turnwright.bank.item.item import Item
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.questions.items import items
from turnwright.bank.questions.own_numbers import solve_for
from turnwright.bank.reading.files import read_problem
from turnwright.bank.solving.solution import solve_question

from tests.bank.problems import WHEEL, read, varied, written


def made(folder: Path, name: str, *changes: tuple[str, str]) -> Item:
    problem = read_problem(written(folder, varied(*changes, text=WHEEL), "wheel.yaml"))
    return next(items(solve_question(problem, problem.question(name)), GRAVITY, 1, 1))


def said(item: Item) -> str:
    return " ".join(paragraph_text(each) for step in item.solution for each in step.paragraphs)


def test_a_wheel_starts_from_rest(tmp_path: Path) -> None:
    """Planted: 0 was refused as a direction, and a given that is always zero had to be printed."""
    item = made(tmp_path, "turning")
    assert "= 0 rad/s + " in said(item).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ([("draw: [0]", "draw: [0, 0.50]")], "the given 'omega_0' is not printed"),
        ([("draw: [0]", "draw: [-1.00, 0]")], "found -1.00; expected 0 or values above it"),
        ([("from: 0.20, to: 0.60", "from: 0, to: 0.60")], "quantities.r.draw: found 0.00; expected values above 0"),
    ],
)
def test_zero_is_no_negative_value_and_no_radius(changes: Sequence[tuple[str, str]], says: str) -> None:
    assert says in "\n".join(map(str, read(varied(*changes, text=WHEEL)).faults))


def test_own_numbers_may_start_and_end_at_rest(tmp_path: Path) -> None:
    """With ``sign: any`` there were two admissible values."""
    slows = varied(("unit: rad/s^2, draw", "unit: rad/s^2, sign: any, draw"), text=WHEEL)
    problem = read_problem(written(tmp_path, slows))
    question = problem.question("turning")
    solved = solve_for(problem, question, ("omega_0=3", "omega=0", "t=2"), "alpha", Decimal("9.81"))
    assert solved.value_si == pytest.approx(-1.5)
    with pytest.raises(UsageError, match="omega is never negative"):
        solve_for(problem, question, ("omega_0=3", "omega=-1", "t=2"), "alpha", Decimal("9.81"))
    with pytest.raises(UsageError, match="r is positive"):
        solve_for(problem, question, ("omega=3", "r=0"), "a", Decimal("9.81"))


def test_only_a_motion_that_repeats_is_called_uniform(tmp_path: Path) -> None:
    """Planted: a wheel that speeds up was said to be in uniform circular motion."""
    assert "uniform" not in said(made(tmp_path, "inward"))
    period = ("acceleration: a}", "acceleration: a, period: T}"), ("  t: {", "  T: {means: period, unit: s}\n  t: {")
    assert "In uniform circular motion" in said(made(tmp_path, "inward", *period))


def test_a_note_quotes_the_stem_as_it_is_typed(tmp_path: Path) -> None:
    """Planted: the placeholder for a given, '0 unit', reached the author."""
    problem = read_problem(written(tmp_path, varied(("speed after {t}.", "speed (after {t})"), text=WHEEL)))
    (note,) = stem_notes(solve_question(problem, problem.question("turning")))
    assert note.found.endswith("speed (after {t})'")
