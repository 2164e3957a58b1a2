"""Every symbol of a problem is defined, and none means something else."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator

import sympy

from ...documents.document import Path_
from ...model.expression import is_name, names_in, parse
from ...model.problem import Problem
from ...quantities.units import Unit, unit

ROLE_UNITS = {
    "radius": "m",
    "speed": "m/s",
    "angular_speed": "rad/s",
    "period": "s",
    "frequency": "Hz",
    "acceleration": "m/s^2",
    "tangential_acceleration": "m/s^2",
    "mass": "kg",
    "angle": "deg",
    "tilt": "deg",
}
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
    for diagram in problem.diagrams:
        path = ("diagrams", diagram.name)
        for role in _OF_DIAGRAM:
            name = getattr(diagram, role)
            if name:
                yield (*path, *(("at", "angle") if role == "angle" else (role,))), name, ROLE_UNITS[role]
        for force in diagram.forces:
            here = (*path, "forces", force.role)
            if force.symbol:
                yield (*here, "symbol"), force.symbol, "N"
            for field, unit_symbol in (("centre-mass", "kg"), ("charge", "C"), ("field", "T")):
                name = getattr(force, field.replace("-", "_"))
                if name:
                    yield (*here, field), name, unit_symbol


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
