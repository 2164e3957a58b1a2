"""The units of a problem fit: each role, each relation, each energy balance, each scene and each answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import sympy

from ...documents.document import Path_
from ...model.expression import names_in
from ...model.problem import Problem
from ...quantities.units import UnequalDimensionsError, Unit, examples_of, same_dimension, unit
from .symbols import components, levels, relations, role_symbols, units_of

_LEVEL_UNITS = {"height": "m", "speed": "m/s"}
_LIKE = "like:"  # stands for a quantity of the dimension that a formula should have; no symbol of a file has a colon


def check_dimensions(problem: Problem) -> None:
    """Note units that do not fit, and formulas whose terms have different dimensions."""
    _roles_have_their_dimension(problem)
    _changed_units_fit(problem)
    units = units_of(problem)
    for path, left, right in relations(problem):
        _check(problem, path, (left, right), units)
    for path, part in components(problem):
        _check(problem, path, (part, sympy.Symbol(_LIKE)), {**units, _LIKE: unit("1")})
    for path, key, formula in levels(problem):
        _check(problem, path, (formula, sympy.Symbol(_LIKE)), {**units, _LIKE: unit(_LEVEL_UNITS[key])})


def _roles_have_their_dimension(problem: Problem) -> None:
    units = units_of(problem)
    roles = [(name, unit_symbol) for _, name, unit_symbol in role_symbols(problem)]
    if any(force.law == "gravitation" for diagram in problem.diagrams for force in diagram.forces):
        roles.append(("G", "N*m^2/kg^2"))
    for name, unit_symbol in roles:
        if name in units and name in problem.quantities and not units[name].fits(unit(unit_symbol)):
            _refuse_unit(problem, ("quantities", name, "unit"), units[name], unit(unit_symbol))


def _changed_units_fit(problem: Problem) -> None:
    for path, changed, name in _changed_units(problem):
        base = problem.quantities[name].unit if name in problem.quantities else None
        if base and base.dimension and changed.dimension and not changed.fits(base):
            _refuse_unit(problem, path, changed, base)


def _changed_units(problem: Problem) -> Iterator[tuple[Path_, Unit, str]]:
    for scene in problem.scenes:
        for name, spec in scene.quantities.items():
            yield ("scenes", scene.name, "quantities", name, "unit"), spec.unit, name
    for question in problem.questions:
        if question.unit:
            yield ("questions", question.name, "unit"), question.unit, question.ask


def _refuse_unit(problem: Problem, path: Path_, found: Unit, expected: Unit) -> None:
    problem.document.fault(path, f"found '{found.symbol}'", f"expected a unit such as {examples_of(expected)}")


def _check(problem: Problem, path: Path_, sides: tuple[sympy.Expr, sympy.Expr], units: Mapping[str, Unit]) -> None:
    if not names_in(sides[0]) | names_in(sides[1]) <= set(units):
        return
    try:
        same_dimension(sides, units)
    except UnequalDimensionsError as error:
        problem.document.fault(path, *_told(error, sides, units))


def _told(error: UnequalDimensionsError, sides: tuple[sympy.Expr, ...], units: Mapping[str, Unit]) -> tuple[str, str]:
    """What is wrong and what would be right; a second part of ``1`` may stand for the argument of a function."""
    if error.second == _LIKE:
        like = units[_LIKE]
        what = "expected a pure number" if like.symbol == "1" else f"expected a formula for a quantity in {like.symbol}"
        return f"'{error.first}' has another dimension", what
    arguments = {str(each.args[0]) for side in sides for each in side.atoms(sympy.Function)}
    if error.second == "1" and error.first in arguments:
        return f"'{error.first}' is no angle and no pure number", "a function takes an angle or a pure number"
    return str(error), "both sides of a relation, and all terms of a sum, share one dimension"
