"""Edits of the forces: a force left out, turned round or put in another direction; the equations are written anew."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import sympy
from sympy import Expr

from ..mechanics.equations import Equation, System, components, system_of
from ..model.edit import DrawnEdit, DropEdit, ExchangeEdit, FlattenEdit, FrictionEdit, ReverseEdit, WeightPartEdit
from ..model.problem import Axis, Diagram, Force, Problem
from ..solving.solution import SolvedQuestion
from .closed_form_edits import used_equations


def _with_forces(solved: SolvedQuestion, change: Callable[[Diagram, Force], Force | None]) -> System | None:
    diagrams = []
    for diagram in solved.problem.diagrams:
        kept = (force if diagram.spot == "rest" else change(diagram, force) for force in diagram.forces)
        diagrams.append(replace(diagram, forces=tuple(force for force in kept if force)))
    if tuple(diagrams) == solved.problem.diagrams:
        return None
    return system_of(replace(solved.problem, diagrams=tuple(diagrams)), solved.question)


def is_friction(force: Force) -> bool:
    """Whether a force is friction."""
    return force.kind == "friction"


def is_contact(force: Force) -> bool:
    """Whether a force is one of what touches the body, other than friction."""
    return force.law is None and not is_friction(force)


def drop(edit: DropEdit, solved: SolvedQuestion) -> System | None:
    """The system without a force."""
    return _with_forces(solved, lambda _, force: None if _is(force, edit.force) else force)


def _is(force: Force, dropped: str) -> bool:
    if dropped == "outward-tension":
        return force.kind == "tension" and force.components == (("inward", "-1"),)
    return force.kind == dropped


def reverse(edit: ReverseEdit, solved: SolvedQuestion) -> System | None:
    """The system with a force turned round; None for the weight where it would be turned at two places."""
    places = {each.diagram for each in used_equations(solved) if each.kind == "inward"}
    if edit.force == "weight" and len(places) > 1:
        return None

    def change(diagram: Diagram, force: Force) -> Force:
        return _mapped(diagram, force, lambda part: -part) if force.kind == edit.force else force

    return _with_forces(solved, change)


def _mapped(diagram: Diagram, force: Force, change: Callable[[Expr], Expr]) -> Force:
    parts = tuple((axis, str(change(part))) for axis, part in components(diagram, force))
    return replace(force, components=tuple((axis, part) for axis, part in parts if part != "0"))  # type: ignore[misc]


def exchange(edit: ExchangeEdit, solved: SolvedQuestion) -> System | None:
    """The system with sine and cosine, or two directions, exchanged; None where there are no two."""
    if edit.what == "sine-cosine":
        return _with_forces(solved, lambda diagram, force: _mapped(diagram, force, exchanged))
    problem = solved.problem
    if len(problem.diagrams) != 1:
        return None
    contact = [each for each in problem.diagrams[0].forces if is_contact(each)]
    friction = [each for each in problem.diagrams[0].forces if is_friction(each)]
    if len(contact) != 1 or len(friction) != 1:
        return None
    turned = {contact[0].role: friction[0].components, friction[0].role: contact[0].components}
    return _with_forces(solved, lambda _, force: replace(force, components=turned.get(force.role, force.components)))


def exchanged(part: Expr) -> Expr:
    """An expression with sine and cosine exchanged."""
    swapped = {each: sympy.cos(each.args[0]) for each in part.atoms(sympy.sin)}
    swapped |= {each: sympy.sin(each.args[0]) for each in part.atoms(sympy.cos)}
    swapped |= {each: 1 / each for each in part.atoms(sympy.tan)}
    return part.xreplace(swapped)


def put_weight_inward(_: WeightPartEdit, solved: SolvedQuestion) -> System | None:
    """The system with the whole weight along the inward axis."""

    def change(diagram: Diagram, force: Force) -> Force:
        if force.law != "weight" or diagram.spot not in ("side", "angle"):
            return force
        sign = "1" if diagram.angle_from == "top" else "-1"
        return replace(force, components=(("inward", sign),))

    return _with_forces(solved, change)


def flatten(_: FlattenEdit, solved: SolvedQuestion) -> System | None:
    """The system with friction that has no upward part."""

    def change(diagram: Diagram, force: Force) -> Force:
        if not is_friction(force):
            return force
        return replace(force, components=tuple(each for each in force.components if each[0] == "inward"))

    return _with_forces(solved, change)


def at_its_limit(edit: FrictionEdit, solved: SolvedQuestion) -> System | Expr | None:
    """The system in which the asked friction is the greatest possible, though the motion itself says how large it is.

    Its limit takes the place of the equation of forces that gives it: the one without the normal force, or that along
    the inward axis.
    """
    friction = sympy.Symbol(solved.question.ask)
    ceilings = (each.relation for each in solved.problem.holds if each.relation.sign == "<=")
    edge = next((each.right for each in ceilings if each.left == friction), None)
    if solved.question.limiting or edge is None or not _is_friction_asked(solved):
        return None
    if edit.what == "of-the-weight":
        normal = {each for each in edge.free_symbols if str(each) in solved.system.forces}
        weight = sympy.Symbol(solved.problem.diagrams[0].mass) * sympy.Symbol("g")
        return edge.xreplace(dict.fromkeys(normal, weight))
    others = frozenset(map(str, edge.free_symbols))
    with_friction = [each for each in solved.system.equations if each.diagram and solved.question.ask in each.symbols]
    alone = [each for each in with_friction if not each.symbols & others]
    dropped = (alone or [each for each in with_friction if each.kind == "inward"])[:1]
    kept = tuple(each for each in solved.system.equations if each not in dropped)
    return replace(solved.system, equations=(Equation("limiting", (friction,), edge), *kept))


def _is_friction_asked(solved: SolvedQuestion) -> bool:
    forces = (force for diagram in solved.problem.diagrams for force in diagram.forces)
    return any(is_friction(force) and force.symbol == solved.question.ask for force in forces)


# --- forces as they are drawn: what questions about one diagram offer -------------------------------

_PUT: Mapping[str, tuple[tuple[Axis, str], ...]] = {
    "upright": (("up", "1"),),
    "level": (("inward", "1"),),
    "inward": (("inward", "1"),),
    "outward": (("inward", "-1"),),
    "forward": (("forward", "1"),),
    "backward": (("forward", "-1"),),
}
_ONLY_FACE_ON = ("forward", "backward")  # a level circle is seen edge on, so that the path runs out of the page
_ONLY_SLANTED = ("upright", "level")  # a change to a force that leans


def drawn(edit: DrawnEdit, problem: Problem, diagram: Diagram) -> Diagram | None:
    """The diagram as the mistake draws it; None where it has no such force or the change makes no difference."""
    force = next((each for each in diagram.forces if part_of(diagram, each) == edit.force), None)
    if force is None:
        return None
    changed = None if edit.way == "missing" else _put(edit.way, problem, diagram, force)
    if changed == force or (changed and _same_way(diagram, changed, force)):
        return None
    forces = ((changed if each == force else each) for each in diagram.forces)
    return replace(diagram, forces=tuple(each for each in forces if each))


def part_of(diagram: Diagram, force: Force) -> str:
    """The part that a force plays: weight, friction, hold (it has a component inward) or floor (it has none)."""
    if force.law == "weight":
        return "weight"
    if is_friction(force):
        return "friction"
    return "hold" if "inward" in dict(components(diagram, force)) else "floor"


def _put(way: str, problem: Problem, diagram: Diagram, force: Force) -> Force:
    """A force turned round or put along an axis; as it is where the figure could not show that."""
    if way == "turned":
        return _mapped(diagram, force, lambda part: -part)
    face_on = problem.motion.plane != "horizontal"
    slanted = len(force.components) == 2
    if (way in _ONLY_FACE_ON and not face_on) or (way in _ONLY_SLANTED and not slanted):
        return force
    return replace(force, components=_PUT[way])


def _same_way(diagram: Diagram, one: Force, other: Force) -> bool:
    return components(diagram, one) == components(diagram, other)


def changed_roles(before: Diagram, after: Diagram) -> list[str]:
    """The roles of the forces of one diagram that are missing or different in another."""
    return [each.role for each in before.forces if each not in after.forces]
