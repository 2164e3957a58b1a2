"""Every symbol of a problem is defined, none means something else, and the units of all formulas fit."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping

import sympy

from ...documents.document import Path_
from ...model.expression import is_name, names_in, parse
from ...model.problem import Problem, Scene
from ...quantities.dimensions import UnequalDimensionsError, same_dimension
from ...quantities.units import Unit, examples_of, unit

ROLE_UNITS = {
    "radius": "m",
    "speed": "m/s",
    "angular_speed": "rad/s",
    "period": "s",
    "frequency": "Hz",
    "acceleration": "m/s^2",
    "tangential_acceleration": "m/s^2",
    "diameter": "m",
    "circumference": "m",
    "turns": "1",
    "duration": "s",
    "initial_angular_speed": "rad/s",
    "initial_speed": "m/s",
    "angular_acceleration": "rad/s^2",
    "angular_deceleration": "rad/s^2",
    "angle_turned": "rad",
    "arc": "m",
    "displacement": "m",
    "mass": "kg",
    "angle": "deg",
    "tilt": "deg",
}
_OF_FORCE = (("centre-mass", "kg"), ("charge", "C"), ("field", "T"), ("centre-charge", "C"), ("distance", "m"))
_OF_DIAGRAM = ("mass", "speed", "radius", "angle", "tilt")


def units_of(problem: Problem) -> dict[str, Unit]:
    """The unit of every symbol that has a sound one, g included."""
    known = {name: spec.unit for name, spec in problem.quantities.items() if spec.unit.dimension}
    return {**known, "g": unit("N/kg")}


def role_symbols(problem: Problem) -> Iterator[tuple[Path_, str, str]]:
    """Each symbol with a role of known dimension: where it stands, its name, a unit of the role."""
    for role, unit_symbol in ROLE_UNITS.items():
        name = getattr(problem.motion, role, None)
        if name:
            yield ("motion", role.replace("_", "-")), name, unit_symbol
    for at, energy in enumerate(problem.energies):
        if energy.loss:
            yield ("energy", at, "loss"), energy.loss, "J"
    for diagram in problem.diagrams:
        path = ("diagrams", diagram.name)
        for role in _OF_DIAGRAM:
            name = getattr(diagram, role)
            if name:
                yield (*path, *(("at", "angle") if role == "angle" else (role,))), name, ROLE_UNITS[role]
        for force in diagram.forces:
            here = (*path, "forces", force.role)
            for name in filter(None, (force.symbol, force.size)):
                yield (*here, "symbol"), name, "N"
            for field, unit_symbol in _OF_FORCE:
                name = getattr(force, field.replace("-", "_"))
                if name:
                    yield (*here, field), name, unit_symbol
    for scene in problem.scenes:
        yield from _marked(scene)


def _marked(scene: Scene) -> Iterator[tuple[Path_, str, str]]:
    """The symbols at lengths and angles of a sketch."""
    for role, name in scene.sketch.marks.items() if scene.sketch else ():
        is_angle = "angle" in role or role == "latitude"
        yield ("scenes", scene.name, "sketch", "marks", role), name, "deg" if is_angle else "m"


def relations(problem: Problem) -> Iterator[tuple[Path_, sympy.Expr, sympy.Expr]]:
    """Both sides of each relation, hold and limiting case, with its place."""
    for kind, key, reasons in (("relations", "equation", problem.relations), ("holds", "that", problem.holds)):
        for at, reason in enumerate(reasons):
            yield (kind, at, key), reason.relation.left, reason.relation.right
    for question in problem.questions:
        if question.limiting:
            yield ("questions", question.name, "limiting"), question.limiting.left, question.limiting.right


def components(problem: Problem) -> Iterator[tuple[Path_, sympy.Expr]]:
    """The parts of each force's direction, with their places."""
    for diagram in problem.diagrams:
        for force in diagram.forces:
            for axis, part in force.components:
                yield ("diagrams", diagram.name, "forces", force.role, "components", axis), parse(part)


def levels(problem: Problem) -> Iterator[tuple[Path_, str, sympy.Expr]]:
    """Heights and speeds of the energy balances: place, ``height`` or ``speed``, formula."""
    for at, energy in enumerate(problem.energies):
        for end, level in (("from", energy.start), ("to", energy.end)):
            for key in ("height", "speed"):
                if level.diagram is None:
                    yield ("energy", at, end, key), key, parse(getattr(level, key))


def check_symbols(problem: Problem) -> None:
    """Note symbols that are not defined, or that can't name a quantity."""
    document = problem.document
    known = document.names("quantities")
    for name in sorted(known):
        if name == "g":
            document.fault(("quantities", name), "g is stated by the pack", "remove it", key=True)
        elif name in problem.quantities and not is_name(name):
            right = "choose another symbol, such as lambda_1" if name == "lambda" else "choose another symbol"
            document.fault(("quantities", name), f"'{name}' has another meaning in formulas", right, key=True)
    _refuse_given_gravity(problem)
    _sizes_are_no_other_force(problem)
    if not known:
        return  # its absence is a fault already
    for scene in problem.document.names("scenes"):
        for name in sorted(document.names("scenes", scene, "quantities") - known):
            where = ("scenes", scene, "quantities", name)
            document.fault(where, "no quantity has this symbol", _near(name, known), key=True)
    for path, name in _names(problem):
        if name not in known and name != "g":
            right = _near(name, known)
            document.fault(path, f"the symbol '{name}' is not defined", right, inside=_offset(problem, path, name))


def _sizes_are_no_other_force(problem: Problem) -> None:
    """Note the size of a law's force under the symbol of another force, of which it would be said as well."""
    symbols = {force.symbol for diagram in problem.diagrams for force in diagram.forces}
    for diagram in problem.diagrams:
        for force in diagram.forces:
            if force.size and force.size in symbols:
                path: Path_ = ("diagrams", diagram.name, "forces", force.role, "symbol")
                problem.document.fault(path, f"'{force.size}' is the size of another force", "use another symbol")


def _near(name: str, known: frozenset[str]) -> str:
    close = difflib.get_close_matches(name, sorted(known), n=1, cutoff=0.75)
    return f"did you mean '{close[0]}'?" if close else "add it to 'quantities' with its unit"


def _offset(problem: Problem, path: Path_, name: str) -> int:
    """How many letters into the text at ``path`` the symbol stands."""
    value = problem.document.data
    for part in path:
        value = value[part]
    found = re.search(rf"(?<![A-Za-z0-9_]){re.escape(name)}(?![A-Za-z0-9_])", str(value))
    return found.start() if found else 0


def _refuse_given_gravity(problem: Problem) -> None:
    for path, name, _ in role_symbols(problem):
        if name == "g":
            problem.document.fault(path, "g is the gravitational field strength", "use another symbol")
    for question in problem.questions:
        path = ("questions", question.name)
        if question.ask == "g":
            problem.document.fault((*path, "ask"), "g is stated by the pack", "ask for something else")
        for field in ("given", "extra"):
            if "g" in getattr(question, field):
                at = getattr(question, field).index("g")
                problem.document.fault((*path, field, at), "g is stated by the pack", "leave it out of the list")


def _names(problem: Problem) -> Iterator[tuple[Path_, str]]:
    for path, name, _ in role_symbols(problem):
        yield path, name
    for path, left, right in relations(problem):
        yield from ((path, name) for name in sorted(names_in(left) | names_in(right)))
    for path, part in components(problem):
        if problem.document.names(*path[:-1]):
            yield from ((path, name) for name in sorted(names_in(part)))
    for path, _, formula in levels(problem):
        yield from ((path, name) for name in sorted(names_in(formula)))
    for question in problem.questions:
        here = ("questions", question.name)
        if question.ask:
            yield (*here, "ask"), question.ask
        for field in ("given", "extra"):
            yield from (((*here, field, at), name) for at, name in enumerate(getattr(question, field)))


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
    if any(force.law == "electric" for diagram in problem.diagrams for force in diagram.forces):
        roles.append(("k", "N*m^2/C^2"))
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
