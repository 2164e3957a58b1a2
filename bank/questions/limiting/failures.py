"""What fails at the limit that a question asks for: it follows from what the bound is, never from a force alone."""

from __future__ import annotations

from dataclasses import dataclass

import sympy

from ...mechanics.equations import components
from ...model.bounds import ONE_WAY, ceiling_of, comes_by_itself, kinds_of, sides
from ...model.problem import Diagram, Force, Problem, Question, Reason, Scene
from ...writing.limit_words import Failure, Rate


@dataclass(frozen=True)
class Limit:
    """The limiting case of a question: what holds up to it, and the force at its edge in its diagram."""

    reason: Reason
    diagram: Diagram
    force: Force


def limit_of(problem: Problem, question: Question) -> Limit | None:
    """The limit of a question that asks for a speed, a rate or a period, where something is seen to fail; else None."""
    found = _at_its_edge(problem, question)
    if found is None or rate_of(problem, question) is None or comes_by_itself(question, found.diagram):
        return None
    return found if any(failure_of(problem, found, scene) for scene in problem.scenes_of(question)) else None


def _at_its_edge(problem: Problem, question: Question) -> Limit | None:
    limiting = question.limiting
    for reason in problem.holds if limiting else ():
        relation = reason.relation
        if limiting is None or {relation.left, relation.right} != {limiting.left, limiting.right}:
            continue
        for diagram in problem.diagrams:
            for force in diagram.forces:
                if force.symbol and sympy.Symbol(force.symbol) in (relation.left, relation.right):
                    return Limit(reason, diagram, force)
    return None


def rate_of(problem: Problem, question: Question) -> Rate | None:
    """What sort of rate a question asks for, if any."""
    motion, ask = problem.motion, question.ask
    if ask in {motion.speed, *(each.speed for each in problem.diagrams)}:
        return "speed"
    return "angular speed" if ask == motion.angular_speed else "period" if ask == motion.period else None


# --- what fails -------------------------------------------------------------------------------------


def failure_of(problem: Problem, found: Limit, scene: Scene) -> Failure | None:
    """What is seen past the limit in a scene, from what the bound is; None where nothing is seen to fail.

    Nothing fails at a comfort value that somebody chose, nor where the motion has no such state at all.
    """
    relation, kind = found.reason.relation, scene.kind_of(found.force)
    lower, upper = sides(relation)
    own = sympy.Symbol(found.force.symbol or "")
    if kind == "friction":
        return _slide(found) if lower == own and ceiling_of(problem, relation) else None
    if (lower, upper) == (sympy.Integer(0), own) and kind in ONE_WAY:
        return _let_go(problem, found, kind == "tension")
    if kind == "tension" and lower == own and upper.is_Symbol and not kinds_of(problem, upper.name):
        others = [each for each in found.diagram.forces if each is not found.force and each.law != "weight"]
        if any(_inward(found.diagram, each) for each in others):
            return "breaks among others"
        return "breaks on a table" if found.diagram.surface == "level" else "breaks"
    return None


def _slide(found: Limit) -> Failure | None:
    """A body at limiting friction slides against the way that the friction points."""
    inward, up = (_part(found.diagram, found.force, axis) for axis in ("inward", "up"))
    if found.diagram.surface == "wall":
        return "slides down the wall" if up > 0 else None
    if found.diagram.surface == "bank":
        return "slides up the slope" if inward > 0 else "slides down the slope"
    return None if up else "slides outwards" if inward > 0 else "slides inwards"


def _let_go(problem: Problem, found: Limit, is_cord: bool) -> Failure | None:
    """What acts one way only, and no longer; on a vertical circle the body then moves as a projectile."""
    inward = _part(found.diagram, found.force, "inward")
    if problem.motion.plane != "vertical" or not inward or found.diagram.spot not in ("top", "angle"):
        return None
    if inward < 0:
        return None if is_cord else "takes off"
    return "goes slack" if is_cord else "falls"


def _inward(diagram: Diagram, force: Force) -> bool:
    return any(axis == "inward" for axis, _ in components(diagram, force))


def _part(diagram: Diagram, force: Force, axis: str) -> float:
    """The sign of a force along an axis: its component at a slope of half a radian."""
    parts = dict(components(diagram, force))
    found = parts.get(axis, sympy.Integer(0))
    return float(found.subs(dict.fromkeys(found.free_symbols, 0.5)))
