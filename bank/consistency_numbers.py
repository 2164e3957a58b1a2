"""The values of a problem can be drawn and printed: figures hold draws, ranges are not empty, constants are known."""

from __future__ import annotations

from math import prod

from turnwright.bank import constants
from turnwright.bank.document import Path_
from turnwright.bank.problem import Problem, QuantitySpec, Question, Scene
from turnwright.bank.prose import count
from turnwright.bank.quantity import round_figures

MOST_FIGURES = 6
MOST_COMBINATIONS = 10**12


def check_numbers(problem: Problem) -> None:
    """Note draws, ranges and constants that can't be used."""
    for name, spec in problem.quantities.items():
        path: Path_ = ("quantities", name)
        if spec.constant is not None:
            _check_constant(problem, path, spec)
        _check_draw(problem, path, spec)
        _check_range(problem, path, spec)
    for scene in problem.scenes:
        for name, spec in scene.quantities.items():
            path = ("scenes", scene.name, "quantities", name)
            _check_own_unit(problem, path, spec)
            if {"draw", "figures"} & problem.document.names(*path):
                _check_draw(problem, path, spec)
            _check_range(problem, path, spec)
    for question in problem.questions:
        path = ("questions", question.name)
        if question.plausible and question.plausible[0] >= question.plausible[1]:
            _refuse_range(problem, path)
        for scene in problem.scenes_of(question):
            _check_size(problem, question, scene)


def _check_constant(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    known = constants.known(spec.constant or "")
    if known is None:
        right = f"use a CODATA name such as '{constants.EXAMPLE}'"
        problem.document.fault((*path, "constant"), f"no CODATA constant is called '{spec.constant}'", right)
    elif spec.unit.dimension and known.dimension != spec.unit.dimension:
        right = "expected the SI unit of the constant"
        problem.document.fault((*path, "unit"), f"found '{spec.unit.symbol}' for the {spec.constant}", right)
    if spec.draw:
        problem.document.fault((*path, "draw"), "a constant has its own value", "leave the draw out", key=True)


def _check_draw(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    for value in spec.draw.values if spec.draw else ():
        where = (*path, "draw" if "draw" in problem.document.names(*path) else "figures")
        if value <= 0 and spec.positive:
            problem.document.fault(where, f"found {value:f}", "expected values above 0, or 'sign: any'")
            return
        if round_figures(value, spec.figures) != value:
            needed = len(value.normalize().as_tuple().digits)
            wrong = f"{value:f} can't be printed with {count(spec.figures, 'significant figure')}"
            right = f"raise 'figures' to {needed}" if needed <= MOST_FIGURES else "use rounder values"
            problem.document.fault(where, wrong, right)
            return


def _check_own_unit(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    """A scene with a unit of its own has to draw in it: the values of the problem are in another one."""
    base = problem.quantities[spec.symbol]
    if base.draw and spec.draw is None and problem.document.is_sound(*path):
        wrong = f"values in {base.unit.symbol} are no values in {spec.unit.symbol}"
        problem.document.fault(path, wrong, "add a 'draw' in the unit of this scene", key=True)


def _check_range(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    if "plausible" in problem.document.names(*path) and spec.plausible and spec.plausible[0] >= spec.plausible[1]:
        _refuse_range(problem, path)


def _refuse_range(problem: Problem, path: Path_) -> None:
    problem.document.fault((*path, "plausible"), "the range is empty", "'from' is less than 'to'")


def _check_size(problem: Problem, question: Question, scene: Scene) -> None:
    """A grid of combinations is numbered, so it has to end somewhere."""
    names = [name for name in (*question.given, *question.extra) if name in problem.quantities]
    specs = [problem.spec(name, scene) for name in names]
    size = prod(len(spec.draw.values) for spec in specs if spec.draw)
    if size > MOST_COMBINATIONS:
        wrong = f"the draws make more than {MOST_COMBINATIONS:,} combinations in the scene '{scene.name}'"
        problem.document.fault(("questions", question.name, "given"), wrong, "draw from fewer values")
