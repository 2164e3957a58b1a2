"""Slips of an author that still make equations: no pull inward, components turned round, a force of no body.

Each was made on purpose and passed all other checks; what they lead to is a proved pack with a wrong key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, isclose, sin
from typing import Final

import sympy

from ...documents.document import Path_
from ...model.bounds import sides
from ...model.evaluation import evaluate
from ...model.expression import names_in, parse
from ...model.problem import Diagram, Force, ForceKind, Problem

_SAMPLE: Final = 0.31  # radians; far from 45 degrees, where sine and cosine are alike
# kinds whose line of action makes the tilt with the vertical; friction lies across it
_ALONG: Final[frozenset[ForceKind]] = frozenset({"normal", "tension", "contact", "lift"})
_BOUNDED: Final[frozenset[ForceKind]] = frozenset({"normal", "tension", "contact"})
# what can't exert a force, because it is no body, and names of what is no further force (from memory of textbooks)
_NO_BODY: Final = re.compile(
    r"\b(circle|centre|motion|rotation|turning|speed|velocity|acceleration|inertia|momentum)\b", re.IGNORECASE
)
_NO_FORCE: Final = re.compile(r"\b(centripetal|centrifugal|resultant|net|inertial?)\b", re.IGNORECASE)


def check_dynamics(problem: Problem) -> None:
    """Note what would make a wrong key without a word."""
    for diagram in problem.diagrams:
        _something_pulls_inward(problem, diagram)
        _weight_is_not_forgotten(problem, diagram)
        for force in diagram.forces:
            _components_suit_the_tilt(problem, diagram, force)
    if problem.document.is_sound("holds"):
        _what_acts_one_way_is_held(problem)
        _limits_are_on_their_side(problem)
    _forces_have_a_body(problem)


def _something_pulls_inward(problem: Problem, diagram: Diagram) -> None:
    path = ("diagrams", diagram.name)
    if diagram.spot == "rest" or not problem.document.is_sound(*path) or not problem.document.is_sound("motion"):
        return
    if not any(_has_inward_part(problem, diagram, force) for force in diagram.forces):
        wrong = "this body moves in a circle, but no force on it has a part towards the centre"
        right = "write 'at: rest' for a body that hangs or stands still, or give a force its part 'inward'"
        problem.document.fault(path, wrong, right, key=True)


def _weight_is_not_forgotten(problem: Problem, diagram: Diagram) -> None:
    """In a vertical circle every body has a weight, and in a horizontal one what pulls up has something to carry."""
    path: Path_ = ("diagrams", diagram.name, "forces")
    if not problem.document.is_sound(*path[:-1]) or any(force.law == "weight" for force in diagram.forces):
        return
    ways = {float(evaluate(part, dict.fromkeys(names_in(part), _SAMPLE))) for part in _upward(diagram)} - {0.0}
    if problem.motion.plane == "vertical" or (ways and (min(ways) > 0 or max(ways) < 0)):
        wrong = "no weight acts on this body" + (", and nothing balances what points up or down" if ways else "")
        right = "add 'weight: {}'; where gravity plays no part, state 'plane: space' in 'motion'"
        problem.document.fault(path, wrong, right, key=True)


def _upward(diagram: Diagram) -> Iterator[sympy.Expr]:
    return (parse(part) for force in diagram.forces for axis, part in force.components if axis == "up")


def _has_inward_part(problem: Problem, diagram: Diagram, force: Force) -> bool:
    if force.law == "weight" and not force.components:
        return problem.motion.plane == "vertical" and diagram.spot != "side"
    sound = problem.document.is_sound("diagrams", diagram.name, "forces", force.role)
    return not sound or any(axis == "inward" and parse(part) != 0 for axis, part in force.components)


def _components_suit_the_tilt(problem: Problem, diagram: Diagram, force: Force) -> None:
    """The tilt is measured from the vertical: a force along the cord or normal has cos(tilt) upward."""
    path = ("diagrams", diagram.name, "forces", force.role, "components")
    parts = dict(force.components)
    if not diagram.tilt or not {"inward", "up"} <= parts.keys() or not problem.document.is_sound(*path[:-1]):
        return
    across = force.kind == "friction"
    if not (across or force.kind in _ALONG) or any(names_in(parse(each)) != {diagram.tilt} for each in parts.values()):
        return
    inward, up = (abs(float(evaluate(parse(parts[axis]), {diagram.tilt: _SAMPLE}))) for axis in ("inward", "up"))
    wanted = (cos(_SAMPLE), sin(_SAMPLE)) if across else (sin(_SAMPLE), cos(_SAMPLE))
    if not (isclose(inward, wanted[0]) and isclose(up, wanted[1])):
        wrong = f"the components do not agree with 'tilt: {diagram.tilt}', which is measured from the vertical"
        first, second = ("cos", "sin") if across else ("sin", "cos")
        right = f"here 'inward' has {first}({diagram.tilt}) and 'up' has {second}({diagram.tilt})"
        problem.document.fault(path, wrong, right, key=True)


def _what_acts_one_way_is_held(problem: Problem) -> None:
    held = {name for each in problem.holds for name in each.relation.symbols}
    told: set[str] = set()
    for diagram, force in _forces(problem):
        path: Path_ = ("diagrams", diagram.name, "forces", force.role)
        loose = force.kind in _BOUNDED and force.symbol and force.symbol not in held | told
        if loose and _may_be_needed_outward(problem, diagram, force) and problem.document.is_sound(*path):
            told.add(force.symbol or "")
            wrong = "nothing says that this force acts one way only"
            problem.document.fault(path, wrong, f"add 'that: {force.symbol} >= 0' under 'holds'", key=True)


def _may_be_needed_outward(problem: Problem, diagram: Diagram, force: Force) -> bool:
    """Whether other forces pull inward too, so that the equations could make this one a pull from a surface.

    Alone against all others it has to be positive: at the bottom of a circle N = m g + m v²/r.
    """
    if dict(force.components).get("inward", "0") == "0":
        return False
    return any(_pulls_inward(problem, diagram, each) for each in diagram.forces if each is not force)


def _pulls_inward(problem: Problem, diagram: Diagram, force: Force) -> bool:
    if force.law == "weight" and not force.components:
        return problem.motion.plane == "vertical" and diagram.spot in ("top", "angle")
    part = parse(dict(force.components).get("inward", "0"))
    return bool(evaluate(part, dict.fromkeys(names_in(part), _SAMPLE)) > 0)


def _limits_are_on_their_side(problem: Problem) -> None:
    """A push or pull is never below zero, so ``N <= 0`` is turned round."""
    for at, hold in enumerate(problem.holds):
        path: Path_ = ("holds", at, "that")
        lower, upper = sides(hold.relation)
        kinds = {force.kind for _, force in _forces(problem) if lower.is_Symbol and force.symbol == lower.name}
        if kinds & _BOUNDED and upper == 0 and problem.document.is_sound(*path):
            wrong = f"'{hold.relation.left} {hold.relation.sign} {hold.relation.right}' is turned round"
            problem.document.fault(path, wrong, f"write '{lower} >= 0'")


def _forces_have_a_body(problem: Problem) -> None:
    for scene in problem.scenes:
        for role, words in scene.forces.items():
            path: Path_ = ("scenes", scene.name, "forces", role)
            if not problem.document.is_sound(*path):
                continue
            no_force = _NO_FORCE.search(words.name)
            if no_force:
                wrong = f"'{words.name}' is no further force that a body exerts"
                right = "name the push, pull or friction that is meant, or remove it from the diagram"
                problem.document.fault((*path, "name"), wrong, right)
            elif _NO_BODY.search(words.by):
                wrong = f"'{words.by}' is no body, and each force is exerted by one"
                problem.document.fault((*path, "by"), wrong, "name the body that pushes or pulls")


def _forces(problem: Problem) -> Iterator[tuple[Diagram, Force]]:
    return ((diagram, force) for diagram in problem.diagrams for force in diagram.forces)
