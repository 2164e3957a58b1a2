"""Energies and voltages of particles are put into formulas in SI, as lengths and masses are."""

from __future__ import annotations

from pathlib import Path

from turnwright.bank.command.printing import paragraph_text
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.quantities.unit_kinds import kind_of, working_unit
from turnwright.bank.quantities.units import unit
from turnwright.bank.questions.items import items
from turnwright.bank.reading.files import read_problem
from turnwright.bank.solving.solution import solve_question

from tests.bank.problems import varied, written

PARTICLE = varied(
    ("  - equation: N = k*m*g\n", '  - {equation: E = m*v**2/2, because: "by definition"}\n  - equation: N = k*m*g\n'),
    ("  theta: {", "  E: {unit: keV, means: kinetic energy, plausible: {from: 1, to: 1e40}}\n  theta: {"),
    ("  low:\n    title: Speed at the bottom\n    ask: v_low\n    given: [r, v]\n    extra: [m]",
     "  low:\n    title: Energy\n    ask: E\n    given: [m, v]\n    extra: [r]"),
    ("Calculate the speed of {the load} at the bottom.", "Calculate its kinetic energy."),
)  # fmt: skip


def test_an_energy_in_kiloelectronvolts_is_worked_out_in_joules(tmp_path: Path) -> None:
    """Planted: a unit of energy was put in as it was, so that the line before the answer was no equation."""
    problem = read_problem(written(tmp_path, PARTICLE))
    item = next(items(solve_question(problem, problem.question("low")), GRAVITY, 1, 1))
    said = [paragraph_text(each) for step in item.solution for each in step.paragraphs]
    assert any(" J = " in each and "keV" in each for each in said)
    assert "The unit of the right-hand side is J, the unit of energy." in said


def test_a_torque_is_no_energy() -> None:
    assert [working_unit(unit(each)).symbol for each in ("MeV", "kV", "N*m")] == ["J", "V", "N*m"]
    assert kind_of(unit("N*m")) is None
